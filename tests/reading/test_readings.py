"""Which figures are readings of a heap, in which scale, and which of a series is the newest.

The lines are invented: ways in which people talk, common practice, no source. 140 °F is 60 °C, 150 °F is 66 °C, by the
definition of the scale.
"""

from __future__ import annotations

import pytest

from advisor.hearing.hear import hear
from advisor.knowledge.load import shipped


def _facts(line: str, name: str, stance: str) -> list[str]:
    return [fact.value for fact in hear(line, shipped()).facts if fact.name == name and fact.stance == stance]


@pytest.mark.parametrize(
    ("line", "degrees"),
    [
        ("the thermometer says 58", "58"),
        ("it reads 55 C in the core", "55"),
        ("core temp 55-59 C", "57"),
        ("140F in the middle", "60"),
        ("my probe reads 150", "66"),
        ("sixty-two on the dial", "62"),
        ("it's 130 degrees in the centre", "54"),
        ("thermometer says minus 4", "-4"),
        ("-8 C air, 11 C in the middle", "11"),
        ("the heap is not above 30", "30"),
        ("just 62 and steaming", "62"),
        ("core 61, ambient 7", "61"),
    ],
)
def test_a_reading_of_the_heap_is_told(line: str, degrees: str) -> None:
    assert _facts(line, "sign.degrees", "told") == [degrees]


@pytest.mark.parametrize(
    "line",
    [
        "it is 30 C outside",
        "we had 35 degrees today",
        "summers of 40 C here",
        "I baked it at 80 C in the oven",
        "wash the gloves at 60 degrees",
        "is 65 C too hot?",
        "should it reach 55 C?",
        "it never reached 55 C",
        "my heap is 120 cm wide",
        "I am over 60",
        "the heap is 6 weeks old",
        "C:N 35 in the core",
        "20 bags on Friday, 35 on Sunday",
        "my hens are 60 weeks old",
    ],
)
def test_what_is_no_reading_of_the_heap_is_not_told(line: str) -> None:
    assert _facts(line, "sign.degrees", "told") == []


@pytest.mark.parametrize(
    ("line", "past", "now"),
    [
        ("it went down from 60 to 40", ["60"], ["40"]),
        ("it dropped to 40 from 60", ["60"], ["40"]),
        ("the thermometer said 52 yesterday, 48 today", ["52"], ["48"]),
        ("was sixty-two Friday, fifty Sunday, forty today", ["62", "50"], ["40"]),
        ("D1 18, D2 44, D3 63", ["18", "44"], ["63"]),
        ("it was 150 last week, now it is 85", ["66"], ["29"]),
        ("first it was 65 C, now it is 30", ["65"], ["30"]),
    ],
)
def test_of_a_series_the_newest_is_told(line: str, past: list[str], now: list[str]) -> None:
    assert _facts(line, "sign.degrees", "past") == past
    assert _facts(line, "sign.degrees", "told") == now


def test_a_heap_that_fell_below_40_was_hot() -> None:
    assert _facts("it was 65 C on Monday and is 35 now", "sign.heat_before", "told") == ["was-hot"]


def test_a_heap_that_fell_and_is_still_hot_is_not_said_to_have_cooled() -> None:
    assert _facts("it was 65 C on Monday and is 55 now", "sign.heat_before", "told") == []


@pytest.mark.parametrize(
    ("line", "moisture"),
    # 40 to 65 % of the weight is the range for rapid composting: Rynk and others, On-Farm Composting Handbook,
    # NRAES-54, Northeast Regional Agricultural Engineering Service, 1992. A worm bin is wetter: Edwards and
    # Bohlen, Biology and Ecology of Earthworms, 1996 (from memory).
    [
        ("moisture 28%", ["dry"]),
        ("the moisture is about 55 %", ["right"]),
        ("MC 72%", ["wet"]),
        ("worm bin moisture 80%", ["right"]),
        ("worm bin moisture 45%", ["dry"]),
        ("18 kg grass (78% MC)", []),
        ("worm mortality 60%", []),
        ("is 60% moisture right?", []),
    ],
)
def test_moisture_in_per_cent(line: str, moisture: list[str]) -> None:
    assert _facts(line, "sign.moisture", "told") == moisture


@pytest.mark.parametrize(
    ("line", "warmth"),
    [
        ("Air is 18 C, the middle of the heap 20 C", ["cold"]),
        ("core 24 C, outside 22 C", ["cold"]),
        ("it is 70 F outdoors, 75 F in the core", ["cold"]),
        ("core 48 C, ambient 20 C", ["warm"]),
        ("core 24 C, ambient 5 C", []),
        ("the pile never went over 46 C", ["under-heated"]),
        ("it will not climb past 120 F", ["under-heated"]),
    ],
)
def test_warmth_is_told_against_the_air_and_by_what_is_not_reached(line: str, warmth: list[str]) -> None:
    """No more than 5 K above the air is cold: our own estimate, no source."""
    assert _facts(line, "sign.warmth", "told") == warmth


@pytest.mark.parametrize(
    ("line", "decides"),
    [
        ("62 in the middle and 40 at the edges", ["62"]),
        ("top 45, core 60", ["60"]),
        ("the heap is 61 C in the centre, 38 C at the rim", ["61"]),
        ("my heap is 140 at 12 inches, 110 at 4 inches", ["60"]),
        ("the thermometer says 30 at the edge", ["30"]),  # there is no other
    ],
)
def test_the_core_decides_and_an_edge_beside_it_does_not(line: str, decides: list[str]) -> None:
    assert _facts(line, "sign.degrees", "told") == decides
    assert not _facts(line, "sign.heat_before", "told")


def test_of_two_days_the_later_one_decides() -> None:
    for line in ("was 62 on Monday, 40 today", "the heap hit 144F last week, has dropped to 100 now"):
        assert _facts(line, "sign.degrees", "past") == ["62"]
        assert len(_facts(line, "sign.degrees", "told")) == 1
        assert _facts(line, "sign.heat_before", "told") == ["was-hot"]
