"""Checks of one bed over the years: better, worse or about the same."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from statistics import median
from typing import Final, Literal

from advisor.heap.ranges import Figures, figure
from advisor.records import dataclass

Direction = Literal["better", "worse", "steady", "too-few"]


@dataclass(frozen=True, slots=True)
class Tracked:
    """A check that is kept: its unit, whether more is better, and how much it wavers from one try to the next."""

    about: str
    unit: str
    more_is_better: bool
    wavers: float


def tracked(figures: Figures) -> Mapping[str, Tracked]:
    """Every check that is kept."""

    def wavers(name: str) -> float:
        return figure(figures, name).typical

    return {
        "spade": Tracked("structure by the spade, 1 to 5", "", False, wavers("waver-spade-score")),
        "ring": Tracked("water going in", "mm/h", True, wavers("waver-ring-mm-per-hour")),
        "worms": Tracked("earthworms", "per m2", True, wavers("waver-worms-per-m2")),
        "slake": Tracked("crumbs that hold in water, 0 to 6", "", True, wavers("waver-slake-score")),
        "organic-matter": Tracked("organic matter", "%", True, wavers("waver-organic-matter-pct")),
    }


#: A check taken in another month than the first by more than this is not quite comparable. Our estimate.
MONTHS_APART: Final = 2

#: So many marks are paired with one another. The pairs grow with the square of the marks: 200 marks make 19,900, and a
#: gardener who checks a bed twice a year needs a century for them. Our choice.
MOST_COMPARED: Final = 200

_DAYS_PER_YEAR = 365.25


@dataclass(frozen=True, slots=True)
class Mark:
    """One result of a check on one day."""

    on: date
    value: float


@dataclass(frozen=True, slots=True)
class Trend:
    """How a check goes: marks in order, median slope a year, the change along it from first to last, and the word.

    `other_months` are the marks taken in another season than the first.
    """

    marks: tuple[Mark, ...]
    per_year: float
    change: float
    direction: Direction
    other_months: tuple[Mark, ...]


def trend(marks: Sequence[Mark], tracked: Tracked) -> Trend:
    """The trend by the median of the slopes between all pairs (Theil and Sen), which one odd year does not upset.

    With one mark, or all on one day, there is none. It is `steady` while the change along the slope is within what the
    check wavers by. Of more than MOST_COMPARED marks so many, spread evenly over them, are paired.

    Raises:
        ValueError: no mark.
    """
    if not marks:
        raise ValueError("there is no result of this check")
    ordered = tuple(sorted(marks, key=lambda mark: mark.on))
    slopes = _slopes(evenly(ordered, MOST_COMPARED))
    other = tuple(mark for mark in ordered if _months_between(mark.on, ordered[0].on) > MONTHS_APART)
    if not slopes:
        return Trend(ordered, 0.0, 0.0, "too-few", other)
    slope = median(slopes)
    change = slope * (ordered[-1].on - ordered[0].on).days / _DAYS_PER_YEAR
    return Trend(ordered, slope, change, _direction(change, tracked), other)


def evenly(marks: Sequence[Mark], most: int) -> Sequence[Mark]:
    """So many of the marks at the most, spread evenly over them, the first and the last among them."""
    if len(marks) <= most:
        return marks
    return [marks[round(place * (len(marks) - 1) / (most - 1))] for place in range(most)]


def _slopes(ordered: Sequence[Mark]) -> list[float]:
    """The change a year between every two marks of different days."""
    return [
        (later.value - sooner.value) / ((later.on - sooner.on).days / _DAYS_PER_YEAR)
        for place, sooner in enumerate(ordered)
        for later in ordered[place + 1 :]
        if later.on > sooner.on
    ]


def _direction(change: float, tracked: Tracked) -> Direction:
    if abs(change) <= tracked.wavers:
        return "steady"
    return "better" if (change > 0) == tracked.more_is_better else "worse"


def _months_between(one: date, other: date) -> int:
    """Months apart in the year, whatever the years: January and December are one apart."""
    apart = abs(one.month - other.month)
    return min(apart, 12 - apart)
