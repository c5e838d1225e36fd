"""Worm bins against published ones."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.blend.shapes import Range
from advisor.heap.ranges import exactly
from advisor.heap.worms import kg_a_week, kg_a_week_for, share_taken, worm_bin

POUND = 0.45359237  # kg, by definition
CUBIC_FOOT = 28.316846592  # L, by definition
SQUARE_FOOT = 0.09290304  # m2, by definition


def test_the_bin_of_organic_gardeners_composting(figures):
    # The book's example: 7 lb of scraps a week need 2 lb of worms and a bin of 6 to 7 ft3 (2 x 3 ft, a foot
    # deep), with 3 to 4 ft3 of bedding for each pound of worms.
    each = worm_bin(exactly(7 * POUND), figures)
    assert each.worms_kg.typical == pytest.approx(2 * POUND)
    assert each.litres.low == pytest.approx(6 * CUBIC_FOOT, rel=0.02)
    assert each.litres.typical == pytest.approx(7 * CUBIC_FOOT, rel=0.02)
    assert each.area_m2.low <= 6 * SQUARE_FOOT <= each.area_m2.typical
    assert each.depth_m.typical == pytest.approx(0.3048, rel=0.02)
    assert each.bedding_litres.low <= 6 * CUBIC_FOOT
    assert each.bedding_litres.high >= 8 * CUBIC_FOOT * 0.99


def test_the_bin_of_asotin_county(figures):
    # Asotin County, Washington: about 0.23 kg of kitchen waste a day, 0.45 kg of worms, 30 x 60 x 90 cm
    each = worm_bin(exactly(7 * 0.23), figures)
    assert each.worms_kg.typical == pytest.approx(0.45, rel=0.03)
    assert each.litres.high == pytest.approx(30 * 60 * 90 / 1000, rel=0.01)
    assert each.area_m2.high == pytest.approx(0.6 * 0.9, rel=0.02)
    assert each.depth_m.typical == 0.3


def test_worms_are_counted_as_the_book_counts_them(figures):
    # 600 to 1000 breeders to the pound, about 2000 of all sizes
    each = worm_bin(exactly(7 * POUND / 2), figures)  # a pound of worms
    assert each.worms.typical == pytest.approx(1000, rel=0.01)
    assert each.worms.high == pytest.approx(2000, rel=0.01)


def test_a_foot_cubed_takes_a_pound_a_week(figures):
    # Organic Gardener's Composting: one pound a week for each cubic foot
    assert kg_a_week(CUBIC_FOOT, figures).typical == pytest.approx(POUND, rel=0.01)


def test_a_kilo_of_worms_eats_half_a_kilo_a_day(figures):
    # two pounds of worms to one of daily scraps (Asotin and Grand Traverse Counties); a relay says one or two
    taken = kg_a_week_for(1.0, figures)
    assert taken.typical == pytest.approx(3.5)
    assert taken.high == pytest.approx(7)


def test_a_small_bin_takes_part_of_the_scraps(figures):
    share = share_taken(exactly(4.0), 124, figures)
    assert share.typical == pytest.approx(0.5)
    assert share_taken(exactly(1.0), 500, figures).low == 1.0


@given(st.floats(0.1, 30), st.floats(1.01, 3))
def test_more_scraps_need_more_of_everything(figures, kg, times):
    less, more = worm_bin(exactly(kg), figures), worm_bin(exactly(kg * times), figures)
    for name in ("worms_kg", "worms", "litres", "area_m2", "bedding_litres"):
        assert getattr(less, name).typical < getattr(more, name).typical
        assert getattr(more, name).low <= getattr(more, name).typical <= getattr(more, name).high


@given(st.floats(0.1, 30))
def test_a_bin_sized_for_the_scraps_takes_them(figures, kg):
    assert share_taken(exactly(kg), worm_bin(exactly(kg), figures).litres.typical, figures).typical == pytest.approx(1)


def test_no_scraps_no_bin(figures):
    with pytest.raises(ValueError, match="nothing to feed"):
        worm_bin(Range(0, 0, 0), figures)
