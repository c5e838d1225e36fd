"""Turnings, time and shrinkage, against published schedules and losses."""

import math
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from advisor.blend.shapes import Range
from advisor.heap.course import pace, ready_by, turnings, volume_left
from advisor.heap.ranges import exactly

BUILT = date(2026, 4, 1)


def test_the_university_of_california_rapid_method():
    # turned every one or two days for two to three weeks
    days = [each.day for each in turnings(2, 2, 9)]
    assert days == [2, 4, 6, 8, 10, 12, 14, 16, 18]


def test_fifteen_days_of_heat_hold_five_turnings():
    # 7 CFR 205.203(c)(2): 15 days at heat with at least five turnings; every third day does it
    assert len([each for each in turnings(3, 3, 5) if each.day <= 15]) == 5


def test_turnings_fall_on_dates():
    assert [each.on for each in turnings(14, 28, 3, BUILT)] == [
        date(2026, 4, 15),
        date(2026, 5, 13),
        date(2026, 6, 10),
    ]
    assert [each.number for each in turnings(14, 28, 3, BUILT)] == [1, 2, 3]
    assert turnings(14, 28, 1)[0].on is None


def test_a_heap_left_alone_is_never_turned():
    assert turnings(14, 28, 0) == ()


@given(st.floats(1, 400), st.floats(1, 400), st.integers(0, 60))
def test_turnings_strictly_increase(first, every, times):
    days = [each.day for each in turnings(first, every, times)]
    assert len(days) == times
    assert all(earlier < later for earlier, later in pairwise(days))
    assert all(day >= 1 for day in days)


def test_a_single_turning_needs_no_interval():
    assert [each.day for each in turnings(21, 0, 1)] == [21]


@pytest.mark.parametrize(("first", "every"), [(0, 7), (3, 0.5)])
def test_two_turnings_on_one_day_are_refused(first, every):
    with pytest.raises(ValueError, match="a day apart"):
        turnings(first, every, 3)


def test_the_passive_bins_of_2011_were_ready_in_eight_to_thirteen_weeks():
    # Resour. Conserv. Recycl. 55:548-553: stable at 56 to 91 days
    window = ready_by(Range(8, 10, 13), BUILT)
    assert (window.days.low, window.days.high) == (56, 91)
    assert window.earliest == BUILT + timedelta(days=56)
    assert window.earliest < window.likely < window.latest


def test_time_stretches(figures):
    half_speed = pace(10, figures) / pace(10 + 20 / 1.8, figures)
    assert half_speed == pytest.approx(0.5, rel=0.01)
    assert ready_by(exactly(10), stretch=1 / half_speed).days.typical == pytest.approx(140, abs=1)
    with pytest.raises(ValueError, match="stretched"):
        ready_by(exactly(10), stretch=0)


def test_decay_doubles_with_every_twenty_degrees_fahrenheit(figures):
    # Organic Gardener's Composting: 1, 2 and 4 at 50, 70 and 90 F; said to fail above about 110 F
    speeds = [pace((fahrenheit - 32) / 1.8, figures) for fahrenheit in (50, 70, 90)]
    assert speeds == pytest.approx([1, 2, 4], rel=0.01)
    assert pace((150 - 32) / 1.8, figures) is None
    assert pace(2, figures) is None


def test_charlotte_leaf_bin(figures):
    # Charlotte, North Carolina, 1998: 1 m3 of autumn leaves with nitrogen gave about 0.3 m3, a loss of 70 %
    assert volume_left(1000, exactly(30), 200, 200, figures).typical == pytest.approx(300)


def test_cornell_half(figures):
    # Cornell Waste Management Institute: composting cuts the volume by about half
    assert volume_left(800, exactly(50), 999, 180, figures).typical == pytest.approx(400)


def test_at_first_it_is_all_there(figures):
    left = volume_left(1000, Range(30, 45, 60), 0, 100, figures)
    assert (left.low, left.typical, left.high) == (1000, 1000, 1000)


def test_the_curve_is_first_order_decay(figures):
    # dV/dt = -k (V - a), solved numerically; a is such that the end is reached on the ready day
    k, end, start = figures["shrink-curve-steepness"].typical, 400.0, 1000.0
    asymptote = start - (start - end) / (1 - math.exp(-k))
    solved = solve_ivp(lambda _, v: -k * (v - asymptote), (0, 1), [start], t_eval=[0.25, 0.5, 1], rtol=1e-9)
    for share, volume in zip(solved.t, solved.y[0], strict=True):
        left = volume_left(start, exactly(40), 120 * share, 120, figures)
        assert left.typical == pytest.approx(volume, rel=1e-6)


def test_over_half_of_the_loss_comes_in_the_first_quarter(figures):
    # what the note on shrink-curve-steepness says
    lost = 1000 - volume_left(1000, exactly(0), 25, 100, figures).typical
    assert 500 < lost < 600


@given(st.floats(0, 400), st.floats(0, 400))
def test_a_heap_only_sinks(figures, one, two):
    earlier, later = (volume_left(900, Range(30, 50, 60), day, 200, figures) for day in sorted((one, two)))
    for end in ("low", "typical", "high"):
        assert getattr(later, end) <= getattr(earlier, end) + 1e-9
    assert later.low <= later.typical <= later.high


def test_nothing_is_ready_at_once(figures):
    with pytest.raises(ValueError, match="not ready"):
        volume_left(900, exactly(50), 1, 0, figures)
