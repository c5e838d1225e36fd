"""How a heap goes on: how it sinks, when it is to be turned, when it may be ready."""

from __future__ import annotations

import math
from datetime import date, timedelta

from advisor.blend.shapes import Range
from advisor.heap.ranges import Figures, Spread, figure
from advisor.records import dataclass

DAYS_PER_WEEK = 7


@dataclass(frozen=True, slots=True)
class Turning:
    """One turning: which it is, how many days after building, and on what day if the start is known."""

    number: int
    day: int
    on: date | None


@dataclass(frozen=True, slots=True)
class ReadyBy:
    """When the compost may be usable: days after the last filling, and dates if the start is known."""

    days: Range
    earliest: date | None
    likely: date | None
    latest: date | None


def turnings(first_day: float, every_days: float, times: float, start: date | None = None) -> tuple[Turning, ...]:
    """The turnings, in order, each at least a day after the one before.

    Args:
        first_day: days from building to the first, 1 or more.
        every_days: days between turnings after that, 1 or more.
        times: how many in all; 0 for a heap left alone.
        start: the day of building.

    Raises:
        ValueError: a turning before the first day, or two on one day.
    """
    count = int(times)
    if (count > 0 and first_day < 1) or (count > 1 and every_days < 1):
        raise ValueError(f"turnings lie a day apart or more, got day {first_day:g}, then every {every_days:g}")
    days = (math.floor(first_day + turn * every_days + 0.5) for turn in range(count))
    return tuple(
        Turning(number, day, start + timedelta(days=day) if start else None) for number, day in enumerate(days, 1)
    )


def ready_by(weeks: Spread, start: date | None = None, stretch: float = 1.0) -> ReadyBy:
    """When it may be ready.

    Args:
        weeks: from the last filling, as methods.toml gives it.
        start: the day of the last filling.
        stretch: how many times as long it takes here, such as the inverse of `pace`; above 0.

    Raises:
        ValueError: a stretch of nought or less.
    """
    if not stretch > 0:
        raise ValueError(f"time cannot be stretched {stretch:g} times")
    ends = tuple(math.floor(each * DAYS_PER_WEEK * stretch + 0.5) for each in (weeks.low, weeks.typical, weeks.high))
    dates = [start + timedelta(days=day) if start else None for day in ends]
    return ReadyBy(Range(*ends), *dates)


def volume_left(start_litres: float, shrinks_to_pct: Spread, day: float, ready_day: float, figures: Figures) -> Range:
    """Litres left on a day, between the volume as built and what it shrinks to by the day it is ready.

    First-order decay: of the whole loss, the share (1 - exp(-k t)) / (1 - exp(-k)) has come by
    t = day / ready_day, with k the `shrink-curve-steepness`. Before the first day nothing is lost, after the
    last no more. Low goes with the greatest loss coming soonest.

    Args:
        start_litres: volume as built.
        shrinks_to_pct: % of it left at the end, as methods.toml gives it.
        day: days since building.
        ready_day: days from building until it is ready, above 0.

    Raises:
        ValueError: it is ready at once.
    """
    if not ready_day > 0:
        raise ValueError(f"a heap is not ready on day {ready_day:g}")
    elapsed = min(1.0, max(0.0, day / ready_day))
    steepness = figure(figures, "shrink-curve-steepness")

    def left(end_pct: float, k: float) -> float:
        lost = math.expm1(-k * elapsed) / math.expm1(-k) if k > 0 else elapsed
        return start_litres * (1 - (1 - end_pct / 100) * lost)

    return Range(
        left(shrinks_to_pct.low, steepness.high),
        left(shrinks_to_pct.typical, steepness.typical),
        left(shrinks_to_pct.high, steepness.low),
    )


def pace(celsius: float, figures: Figures) -> float | None:
    """How fast stuff decays at a temperature of its own, as a multiple of the speed at 10 C (50 F).

    It doubles with every 11.1 C (20 F); Organic Gardener's Composting gives 1, 2 and 4 at 50, 70 and 90 F.
    The rule is said to hold from 10 to about 43 C; beyond that the answer is None: not known, rather than
    nought.
    """
    first = figure(figures, "decay-doubling-from-celsius").typical
    last = figure(figures, "decay-doubling-to-celsius").typical
    if not first <= celsius <= last:
        return None
    return float(2 ** ((celsius - first) / figure(figures, "decay-doubling-celsius").typical))
