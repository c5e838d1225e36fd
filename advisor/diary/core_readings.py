"""The readings of a batch that decide how hot it is and was: those of the core."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from advisor.diary.entries import Entry
from advisor.hearing.placing import of_the_core

_COLDEST, _HOTTEST = -60, 120  # °C; what lies beyond was kept on somebody's word and counts for nothing


def core_readings(entries: Sequence[Entry]) -> dict[date, tuple[float, ...]]:
    """The readings of the core in °C by day, oldest day first; a day on which only an edge was read has none."""
    by_day: dict[date, list[tuple[Entry, float]]] = {}
    for one in entries:
        celsius = one.told.celsius
        if celsius is not None and _COLDEST <= celsius <= _HOTTEST:
            by_day.setdefault(one.day, []).append((one, celsius))
    found: dict[date, tuple[float, ...]] = {}
    for day, read in sorted(by_day.items()):
        decides = of_the_core([(one.told.place, one.told.depth_cm) for one, _ in read])
        core = tuple(celsius for (_, celsius), decided in zip(read, decides, strict=True) if decided)
        if core:
            found[day] = core
    return found
