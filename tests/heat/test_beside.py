"""Readings beside the band: cold told from finished, and hours counted towards the published rules."""

from __future__ import annotations

import pytest

from advisor.counsel.heat import HeatAsked, heat_answer
from advisor.counsel.heat_shapes import HeatAnswer
from advisor.heat.beside import beside
from advisor.heat.foresee import Band
from advisor.household.files import household_from_options
from advisor.knowledge.load import shipped
from advisor.soil.sanitising import Reading

MIX = "12 sacks shredded leaves, 25 buckets grass clippings, 4 barrows horse manure"


def answered(readings: tuple[Reading, ...], **told: str) -> HeatAnswer:
    knowledge = shipped()
    household = household_from_options(MIX, knowledge, told=told)
    return heat_answer(household, knowledge, HeatAsked(readings=readings, month=6.5), draws=24)


def band(day: float, low: float, typical: float, high: float, left: float, air: float = 15.0) -> Band:
    return Band(day, low, typical, high, air, left)


#: A heap that is hot for ten days and then falls to near the air; made up.
BANDS = [
    *(band(float(day), 45, 58, 66, 1 - 0.09 * day) for day in range(10)),
    *(band(float(day), 15, 20, 30, 0.08) for day in range(10, 40)),
]


@pytest.mark.parametrize(
    ("readings", "last"),
    [
        ([(3, 56)], "as-foreseen"),
        ([(3, 70)], "hotter"),
        ([(3, 40)], "colder"),
        ([(3, 17)], "cold"),  # it should be hot: it never heated
        ([(3, 57), (20, 18)], "spent"),  # it was hot, and is done
        ([(3, 17), (20, 17)], "as-foreseen"),  # it was never hot: nothing says that it is done
        ([(20, 45)], "hotter"),
    ],
)
def test_cold_is_told_from_finished(readings: list[tuple[float, float]], last: str) -> None:
    assert beside(BANDS, readings, shipped().heat)[-1].standing == last


def test_readings_count_towards_the_published_rule() -> None:
    """40 CFR Part 503, Appendix B (1993, from memory): 55 °C, 15 days with five turnings, or 3 days in a vessel."""
    readings = tuple(Reading(float(day), 60.0) for day in range(2, 7))
    heap = answered(readings)
    assert heap.hours_hot == pytest.approx(96)
    assert "15 days in a row and 5 turnings" in heap.read[-1].text
    assert "no certificate" in heap.read[-1].text
    drum = answered(readings, container="tumbler")
    assert "3 days in a row" in drum.read[-1].text
    assert "That number is reached" in drum.read[-1].text


def test_a_cold_heap_is_not_called_finished() -> None:
    answer = answered((Reading(3.0, 18.0),))
    assert answer.readings[0].standing in ("cold", "colder")
    assert "let it mature" not in " ".join(line.text for line in answer.read)
