"""Readings set beside the band that was foreseen: hotter, as foreseen, cold, or finished with its heat."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from advisor.heap.ranges import Figures, figure
from advisor.heat.foresee import Band
from advisor.records import dataclass

Standing = Literal["hotter", "as-foreseen", "colder", "cold", "spent"]


@dataclass(frozen=True, slots=True)
class Beside:
    """A reading beside the band of its day, in °C."""

    day: float
    celsius: float
    low: float
    high: float
    standing: Standing


def beside(bands: Sequence[Band], readings: Sequence[tuple[float, float]], figures: Figures) -> tuple[Beside, ...]:
    """Each reading (day, °C) beside the band.

    A reading within "near-air-k" of the air is `spent` where the heap had been warm before by a reading or by the
    forecast, and the forecast has little fast food left; it is `cold` where the forecast is still warm. Other readings
    are judged by the band alone. Days past the last band are set beside the last.
    """
    near_air_k, warm_k, spent_left = (
        figure(figures, name).typical for name in ("near-air-k", "warm-over-air-k", "spent-left-share")
    )
    found = []
    was_warm = False
    for day, celsius in sorted(readings):
        band = _on(bands, day)
        near = celsius <= band.air + near_air_k
        standing: Standing
        if near and band.left <= spent_left and (was_warm or not readings_before(readings, day)):
            standing = "spent"
        elif near and band.typical > band.air + warm_k:
            standing = "cold"
        elif celsius < band.low:
            standing = "colder"
        elif celsius > band.high:
            standing = "hotter"
        else:
            standing = "as-foreseen"
        was_warm = was_warm or celsius > band.air + warm_k
        found.append(Beside(day, celsius, band.low, band.high, standing))
    return tuple(found)


def readings_before(readings: Sequence[tuple[float, float]], day: float) -> bool:
    """Whether there are readings of days before this one."""
    return any(earlier < day for earlier, _ in readings)


def _on(bands: Sequence[Band], day: float) -> Band:
    """The band of a day, straight between whole days."""
    first = min(max(int(day), 0), len(bands) - 1)
    second = min(first + 1, len(bands) - 1)
    share = min(max(day - first, 0.0), 1.0)

    def between(one: float, other: float) -> float:
        return one + share * (other - one)

    here, there = bands[first], bands[second]
    return Band(
        day,
        between(here.low, there.low),
        between(here.typical, there.typical),
        between(here.high, there.high),
        between(here.air, there.air),
        between(here.left, there.left),
    )
