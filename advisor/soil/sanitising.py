"""Readings of a heap's heat set beside the rules that say how hot and how long. What was recorded, never a certificate.

The rules were written for plants with licences, whose every part goes through the heat. A home heap has a cool shell,
and a thermometer reads one place.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from itertools import pairwise
from typing import Final

from advisor.heap.ranges import Figures, figure
from advisor.knowledge.soil_shapes import HeatRule
from advisor.records import dataclass

#: Readings further apart than this leave it open what was between them. Our estimate: two days.
GAP_DAYS: Final = 2.0


@dataclass(frozen=True, slots=True)
class Reading:
    """A reading of the core: days since building, and °C."""

    day: float
    celsius: float


@dataclass(frozen=True, slots=True)
class Recorded:
    """What the readings show of one rule: whether its numbers were reached, and what is missing of them."""

    rule: HeatRule
    reached: bool
    days: int
    hours: float
    turnings: int
    lacks: tuple[str, ...]


def recorded(
    readings: Sequence[Reading],
    turnings: Iterable[float] = (),
    *,
    rules: Sequence[HeatRule],
    turned: bool = True,
) -> tuple[Recorded, ...]:
    """The readings beside each rule that is meant for such a heap.

    Args:
        readings: of the core, in any order; several a day are welcome, and the lowest of a day counts.
        turnings: days on which it was turned.
        rules: the rules looked at, of rules/heat-rules.toml.
        turned: a turned heap; if not, a closed vessel or one under blown air.

    Raises:
        ValueError: no reading, or a day before the first.
    """
    if not readings:
        raise ValueError("there is no reading of the heat")
    if any(reading.day < 0 for reading in readings):
        raise ValueError("days are counted from the day of building")
    ordered = sorted(readings, key=lambda reading: reading.day)
    meant = [rule for rule in rules if (rule.turned_heaps if turned else rule.closed_vessels)]
    return tuple(_beside(rule, ordered, sorted(turnings)) for rule in meant)


def _beside(rule: HeatRule, readings: Sequence[Reading], turnings: Sequence[float]) -> Recorded:
    hot = _hot_days(rule, readings)
    hours = _hours(rule, readings)
    span = readings[-1].day - readings[0].day
    if rule.times:
        return _repeated(rule, hot, hours, turnings)
    found = [
        _judged(rule, row, hours, span, _turned_in(rule, row, turnings))
        for row in (_rows(hot) if rule.running else [hot])
    ]
    # Among rows of hot days, one that satisfies the rule; failing that the one that comes nearest.
    return max(found, key=lambda one: (one.reached, one.days, one.turnings))


def _repeated(rule: HeatRule, hot: Sequence[int], hours: float, turnings: Sequence[float]) -> Recorded:
    """Rows of hot days counted between one turning and the next; the day of a turning belongs to what follows."""
    bounds = [-math.inf, *(math.floor(turning) for turning in turnings), math.inf]
    spells = [[day for day in hot if since <= day < until] for since, until in pairwise(bounds)]
    times = sum(max(len(row) for row in _rows(spell)) >= rule.days for spell in spells)
    lacks = () if times >= rule.times else (f"{_more(rule.times - times, 'time')} of {rule.days} days",)
    return Recorded(rule, not lacks, len(hot), hours, len(turnings), lacks)


def _judged(rule: HeatRule, row: Sequence[int], hours: float, span: float, turnings: int) -> Recorded:
    lacks = []
    if len(row) < rule.days:
        if rule.running:
            # A row that broke off is begun again: what it lacked is no matter.
            lacks.append(f"{len(row)} of {rule.days} days in a row at {rule.celsius:g} °C")
        else:
            lacks.append(f"{_more(rule.days - len(row), 'day')} at {rule.celsius:g} °C")
    if hours < rule.hours:
        lacks.append(f"{_more(max(1, round(rule.hours - hours)), 'hour')} at {_hours_at(rule):g} °C")
    if turnings < rule.turnings:
        lacks.append(f"{_more(rule.turnings - turnings, 'turning')} in that time")
    if span < rule.weeks_in_all * 7:
        lacks.append(f"{_more(round(rule.weeks_in_all * 7 - span), 'day')} of record")
    return Recorded(rule, not lacks, len(row), hours, turnings, tuple(lacks))


def _more(count: int, noun: str) -> str:
    return f"{count} more {noun if count == 1 else f'{noun}s'}"


def _turned_in(rule: HeatRule, row: Sequence[int], turnings: Sequence[float]) -> int:
    """Turnings in the days that count, or in all the time if the rule names no days."""
    within = [turning for turning in turnings if not rule.days or (row and row[0] <= turning < row[-1] + 1)]
    return _apart(within, rule.turnings_apart_days)


def _hot_days(rule: HeatRule, readings: Sequence[Reading]) -> list[int]:
    """Days whose every reading lies at the heat, and not above what the rule allows."""
    by_day: dict[int, list[float]] = {}
    for reading in readings:
        by_day.setdefault(math.floor(reading.day), []).append(reading.celsius)
    ceiling = rule.not_above_celsius if rule.not_above_celsius is not None else math.inf
    return [day for day, degrees in sorted(by_day.items()) if min(degrees) >= rule.celsius and max(degrees) <= ceiling]


def _rows(days: Sequence[int]) -> list[list[int]]:
    """Days in rows without a gap; one empty row if there is no day."""
    rows: list[list[int]] = [[]]
    for day in days:
        if rows[-1] and day > rows[-1][-1] + 1:
            rows.append([])
        rows[-1].append(day)
    return rows


def _hours(rule: HeatRule, readings: Sequence[Reading]) -> float:
    """Hours between readings that both lie at the heat and are near enough to answer for the time between."""
    return math.fsum(
        (later.day - sooner.day) * 24
        for sooner, later in pairwise(readings)
        if min(sooner.celsius, later.celsius) >= _hours_at(rule) and later.day - sooner.day <= GAP_DAYS
    )


def _hours_at(rule: HeatRule) -> float:
    return rule.celsius if rule.hours_celsius is None else rule.hours_celsius


def _apart(days: Sequence[float], apart: float) -> int:
    count = 0
    last = -math.inf
    for day in days:
        if day - last >= apart:
            count, last = count + 1, day
    return count


def share_through_heat(turnings: int, hot_share: float = 0.5) -> float:
    """The share of a heap that has been in the hot core at some time, if each turning mixes it perfectly.

    1 - (1 - hot share)^(turnings + 1): derived, an ideal that no fork reaches. With half of it hot: three quarters
    after one turning, 98 % after five.

    Raises:
        ValueError: fewer turnings than none, or a share outside 0 to 1.
    """
    if turnings < 0 or not 0 <= hot_share <= 1:
        raise ValueError("needs nought or more turnings and a share from 0 to 1")
    return 1 - (1 - hot_share) ** (turnings + 1)


def harvest_from(spread: date, *, touches_soil: bool, figures: Figures) -> date:
    """The first day on which a crop may be harvested after raw manure was worked in (7 CFR 205.203(c)(1)).

    Args:
        touches_soil: what is eaten touches the soil or is splashed by it.
    """
    name = "manure-wait-splash-days" if touches_soil else "manure-wait-clear-days"
    return spread + timedelta(days=round(figure(figures, name).typical))
