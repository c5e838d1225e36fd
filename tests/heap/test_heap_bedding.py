"""Deep bedding against the standard's figures, sums by hand, and the geometry of rows."""

from __future__ import annotations

import math

import pytest

from advisor.blend.shapes import Composition
from advisor.heap.bedding import ANIMALS, Bedding, Herd, bed, cross_section_m2, dung, floor_m2, forked_out_l, rows
from advisor.heap.ranges import Figures
from advisor.units import CUBIC_YARD_L, FOOT_M, POUND_KG

#: Straw: 0.63 % N, C:N 75, 12 % water are the shipped typical values; the sums below are by hand.
STRAW = Composition(0.63, 0.63 * 75, 12.0, 65.0)


@pytest.mark.parametrize(
    ("animal", "live_kg", "kg_a_day", "nitrogen_g"),
    [
        # ASAE D384.1 (2003), table 1, per 1000 kg of live animal and day (from memory), worked for its typical animals.
        ("horse", 450, 23.0, 135),
        ("cow", 640, 55.0, 288),
        ("pig", 61, 5.1, 32),
        ("sheep", 27, 1.08, 11.3),
        ("goat", 64, 2.6, 29),
        ("hen", 1.8, 0.115, 1.5),
        ("duck", 1.4, 0.154, 2.1),
    ],
)
def test_the_standards_animals(
    animal: str, live_kg: float, kg_a_day: float, nitrogen_g: float, figures: Figures
) -> None:
    found = dung([Herd(animal, 1, live_kg)], figures)
    assert found.fresh_kg.typical == pytest.approx(kg_a_day, rel=0.02)
    assert found.nitrogen_kg * 1000 == pytest.approx(nitrogen_g, rel=0.02)


def test_a_thousand_pound_horse_gives_fifty_pounds_a_day(figures: Figures) -> None:
    """Printed in every state's horse leaflet (general-extension-memory)."""
    found = dung([Herd("horse", 1, 1000 * POUND_KG)], figures)
    assert found.fresh_kg.typical / POUND_KG == pytest.approx(50, rel=0.05)


def test_a_laying_hen_gives_a_quarter_pound_a_day(figures: Figures) -> None:
    """0.25 lb a hen and day (general-extension-memory)."""
    assert dung([Herd("hen", 1, 1.8)], figures).fresh_kg.typical / POUND_KG == pytest.approx(0.25, rel=0.05)


def test_half_the_day_out_is_half_of_it_in(figures: Figures) -> None:
    whole, half = dung([Herd("goat", 2)], figures), dung([Herd("goat", 2)], figures, indoors=0.5)
    assert half.fresh_kg.typical == pytest.approx(whole.fresh_kg.typical / 2)
    assert half.nitrogen_kg == pytest.approx(whole.nitrogen_kg / 2)


def test_a_winters_straw_under_a_horse_by_hand(figures: Figures) -> None:
    # 100 days of a 450 kg horse: 2295 kg wet, 675 kg solids, 250 kg carbon (10 x 0.45 / 1.8 x 100), 13.5 kg nitrogen.
    # Dry to 62 %: (2295 - 675 - 0.62 x 2295) / (0.62 - 0.12) = 394 kg of straw. C:N 30: (30 x 13.5 - 250) /
    # (0.88 x (0.4725 - 30 x 0.0063)) = 621 kg. The larger of the two is wanted.
    daily = dung([Herd("horse", 1, 450)], figures)
    found = bed(daily, 100, [Bedding("straw", STRAW, math.inf)], figures, floor=13.4, goal_cn=30)
    assert dict(found.used)["straw"] == pytest.approx(621, rel=0.01)
    assert found.carbon_nitrogen == pytest.approx(30)
    assert found.dry_enough
    lazy = bed(daily, 100, [Bedding("straw", STRAW, math.inf)], figures, floor=13.4, goal_cn=19)
    assert dict(lazy.used)["straw"] == pytest.approx(394, rel=0.01)
    assert lazy.moisture_pct == pytest.approx(62)


def test_what_is_there_is_used_first_and_no_more_than_there_is(figures: Figures) -> None:
    daily = dung([Herd("goat", 2)], figures)
    leaves = Composition(0.94, 47.0, 35.0, 90.0)
    offered = [Bedding("leaves", leaves, 50.0), Bedding("straw", STRAW, math.inf)]
    found = bed(daily, 180, offered, figures, floor=4, goal_cn=30)
    assert dict(found.used)["leaves"] == 50.0
    assert found.dry_enough
    assert found.rich_enough
    short = bed(daily, 180, offered[:1], figures, floor=4, goal_cn=30)
    assert not short.dry_enough or not short.rich_enough


def test_a_pack_grows_two_to_three_feet_in_a_winter(figures: Figures) -> None:
    """Common practice, for stock that is kept in all winter: goats at 1.9 m2 each, 26 weeks."""
    herd = [Herd("goat", 4)]
    found = bed(
        dung(herd, figures),
        182,
        [Bedding("straw", STRAW, math.inf)],
        figures,
        floor=floor_m2(herd, figures),
        goal_cn=25,
    )
    assert found.depth_m.low <= 0.91
    assert found.depth_m.high >= 0.61


def test_a_rows_cross_section_is_a_parabolas() -> None:
    """Two thirds of the box, between the triangle and the half ellipse; summed by slices."""
    width, height = 2.44, 1.68
    slices = 20_000
    summed = sum(height * (1 - (2 * (n + 0.5) / slices - 1) ** 2) * width / slices for n in range(slices))
    assert cross_section_m2(width, height) == pytest.approx(summed, rel=1e-6)
    assert width * height / 2 < cross_section_m2(width, height) < math.pi / 4 * width * height


@pytest.mark.parametrize(
    ("height_ft", "width_ft", "yards_a_foot"),
    [(5, 8, 0.99), (6, 8, 1.19), (5, 10, 1.23), (6, 12, 1.78)],  # capacity of high rows, extension tables, from memory
)
def test_the_published_capacity_of_rows(height_ft: float, width_ft: float, yards_a_foot: float) -> None:
    litres = cross_section_m2(width_ft * FOOT_M, height_ft * FOOT_M) * FOOT_M * 1000
    assert litres / CUBIC_YARD_L == pytest.approx(yards_a_foot, rel=0.01)


def test_rows_hold_what_they_are_made_of(figures: Figures) -> None:
    found = rows(40_000, figures, 8.0)
    each = cross_section_m2(found.width_m, found.height_m) * found.length_m * 1000
    assert found.number * each == pytest.approx(40_000)
    assert found.length_m <= 8.0
    assert found.ground_width_m > found.number * found.width_m
    assert rows(40_000, figures, 100.0).number == 1


def test_a_pack_is_larger_once_it_is_forked_out(figures: Figures) -> None:
    found = bed(dung([Herd("cow", 1)], figures), 150, [Bedding("straw", STRAW, math.inf)], figures, floor=9, goal_cn=25)
    assert forked_out_l(found, figures) > found.litres_in_spring.typical


def test_every_animal_has_its_figures(figures: Figures) -> None:
    for animal in ANIMALS:
        found = dung([Herd(animal, 3)], figures)
        assert 0 < found.fresh_kg.low <= found.fresh_kg.typical <= found.fresh_kg.high
        assert 5 < found.carbon_kg / found.nitrogen_kg < 25
        assert floor_m2([Herd(animal, 3)], figures) > 0


def test_what_cannot_be_reckoned_with(figures: Figures) -> None:
    for herds, indoors in (([], 1.0), ([Herd("hen", 0)], 1.0), ([Herd("hen", 1)], 0.0), ([Herd("hen", 1)], 1.5)):
        with pytest.raises(ValueError, match=r"animals|share"):
            dung(herds, figures, indoors)
    with pytest.raises(ValueError, match="rows"):
        rows(0, figures)
