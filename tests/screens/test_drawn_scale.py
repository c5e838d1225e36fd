"""Figures on their scales, in signs and in words."""

from __future__ import annotations

import pytest
from shipped_plans import NAMES, shipped_plan

from advisor.counsel.plan import Gauge, Goal, Line, Spread
from advisor.screens.drawing.scale import BEYOND, CLOSE, LIKELIEST, MAY_BE, OPEN, scale
from advisor.screens.wording import figures, short, verdict


def gauge(what: str, low: float, typical: float, high: float, window: tuple[float, float, float] | None) -> Gauge:
    goal = Goal(low=window[0], aim=window[1], high=window[2]) if window else None
    inside = window is None or window[0] <= typical <= window[2]
    spread = Spread(low=low, typical=typical, high=high)
    return Gauge(what=what, spread=spread, goal=goal, inside=inside, line=Line(id="v1", text=""))


def test_the_window_the_stretch_and_the_likeliest_stand_in_their_order() -> None:
    row = scale(gauge("carbon-nitrogen", 22, 29, 32, (25, 30, 35)), 40).text()
    first = row.index(MAY_BE)
    assert first < row.index(OPEN) < row.index(LIKELIEST) < row.rindex(MAY_BE) < row.index(CLOSE)


def test_a_figure_far_off_points_beyond_the_scale() -> None:
    row = scale(gauge("carbon-nitrogen", 300, 1e6, 1e6, (25, 30, 35)), 40).text()
    assert row.endswith((LIKELIEST, BEYOND))
    assert OPEN in row and CLOSE in row


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("width", [8, 38, 120])
def test_every_gauge_of_every_household_fits_its_row(name: str, width: int) -> None:
    for each in shipped_plan(name).recipe.gauges:
        row = scale(each, width).text()
        assert len(row) <= width
        assert LIKELIEST in row


@pytest.mark.parametrize(
    ("spread", "said"),
    [
        ((26, 30, 34), "good"),
        ((22, 30, 38), "good, likely"),
        ((20, 25.2, 32), "just inside"),
        ((10, 15, 20), "too green"),
        ((18, 23, 28), "too green, likely"),
        ((40, 60, 80), "too brown"),
    ],
)
def test_a_verdict_says_how_sure_it_is(spread: tuple[float, float, float], said: str) -> None:
    # "too green" for a low ratio and "too brown" for a high one: common practice among composters
    assert verdict(gauge("carbon-nitrogen", *spread, (25, 30, 35))) == said


def test_words_carry_the_whole_of_a_scale() -> None:
    assert figures(gauge("carbon-nitrogen", 25, 29, 34, (25, 30, 35)), "metric") == "29 (25 to 34), wanted 25 to 35"
    assert figures(gauge("moisture", 49, 57, 63, (45, 57, 65)), "metric") == "57 (49 to 63) %, wanted 45 to 65"
    assert figures(gauge("air-space", 76, 81, 84, (35, 60, 100)), "metric") == "81 (76 to 84) %, wanted 35 or more"
    size = gauge("volume", 500, 580, 700, (600, 1000, 3000))
    assert figures(size, "metric") == "580 L (500 L to 700 L), wanted 600 L or more"
    assert short(size, "metric") == "size 580 L, too little"


def test_without_nitrogen_there_is_no_ratio_to_print() -> None:
    assert figures(gauge("carbon-nitrogen", 500, 1e6, 1e6, (25, 30, 35)), "metric").startswith("no nitrogen (500 to")


def test_any_size_will_do_where_no_heat_is_looked_for() -> None:
    assert verdict(gauge("volume", 100, 170, 260, (0, 1000, 1700))) == ""
