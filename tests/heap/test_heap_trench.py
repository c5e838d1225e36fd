"""The trench: lengths that follow from its section, and the bed it moves along."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.blend.shapes import Range
from advisor.heap.ranges import exactly
from advisor.heap.trench import rotation, trench, trench_metres

INCH = 2.54  # cm, by definition


def test_length_is_volume_over_section(figures):
    # a trench 25 cm wide with 12 cm of scraps holds 30 L to the metre
    assert trench_metres(exactly(60), figures).typical == pytest.approx(2.0)


def test_depth_and_cover_as_gardeners_dig(figures):
    # from memory of extension guides: 10 to 18 in deep, scraps 4 to 6 in thick, 8 in of soil or more on top
    each = trench(exactly(10), figures)
    assert each.depth_cm.low == pytest.approx(10 * INCH, rel=0.02)
    assert each.scraps_cm.high == pytest.approx(6 * INCH, rel=0.02)
    assert each.cover_cm.typical >= 20  # City of Moberly, and 8 in
    assert each.depth_cm.typical <= each.scraps_cm.typical + each.cover_cm.typical


def test_a_bed_takes_rows_with_soil_between(figures):
    each = trench(exactly(30), figures)  # a metre a week
    bed = rotation(3.0, 1.25, each)
    assert bed.rows == 3  # 25 cm of trench, 25 of soil, and so on: five strips of 25 cm
    assert bed.metres == pytest.approx(9.0)
    assert bed.weeks.typical == pytest.approx(9.0)
    assert bed.weeks.low == pytest.approx(9.0 / each.metres_a_week.high)
    assert bed.weeks.high == pytest.approx(9.0 / each.metres_a_week.low)
    assert bed.long_enough  # nine weeks of waiting, typically
    assert not rotation(2.5, 1.25, each).long_enough
    assert rotation(3.0, 0.6, each).rows == 1


@given(st.floats(0.5, 200), st.floats(0.3, 3))
def test_a_bed_as_long_as_the_wait_is_long_enough(figures, weekly, width):
    each = trench(exactly(weekly), figures)
    rows = rotation(1.0, width, each).rows
    assert rotation(each.metres_in_turn.typical / rows * 1.001, width, each).long_enough
    assert not rotation(each.metres_in_turn.typical / rows * 0.99, width, each).long_enough


@given(st.floats(0.5, 200), st.floats(1.01, 4))
def test_more_scraps_need_more_trench(figures, weekly, times):
    less, more = trench(exactly(weekly), figures), trench(exactly(weekly * times), figures)
    assert less.metres_a_week.typical < more.metres_a_week.typical
    assert rotation(4, 1.2, less).weeks.typical > rotation(4, 1.2, more).weeks.typical


def test_what_cannot_be_trenched_is_refused(figures):
    with pytest.raises(ValueError, match="nothing to bury"):
        trench(Range(0, 0, 0), figures)
    with pytest.raises(ValueError, match="no room for a trench"):
        rotation(3, 0.1, trench(exactly(5), figures))
