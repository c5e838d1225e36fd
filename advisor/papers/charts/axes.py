"""Axes: round figures to mark them with, the cell of a value, and labels that do not run into each other."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from advisor.papers.grid import Grid

_MOST_DIGITS = 6  # behind the point
_ROUND = (1.0, 2.0, 2.5, 5.0, 10.0)


def cell(value: float, low: float, high: float, cells: int) -> int:
    """The cell of a value among so many from low to high, whose ends lie in the middle of the end cells.

    It rounds as plotext does, halves upwards, so that what is written beside a plot stands where it belongs.
    """
    return math.floor(round(0.5 + (cells - 1) * (value - low) / (high - low), 8))


def ticks(low: float, high: float, most: int, *, whole: bool = False) -> list[float]:
    """Round figures from at or below `low` to at or above `high`: two at the least, and no more than `most`.

    Where they must reach to both sides of nought they may be three.

    Args:
        whole: nothing between one whole number and the next.
    """
    span = max(high - low, 1.0 if whole else 1e-9)
    power = 10.0 ** math.floor(math.log10(span / max(most, 1)))
    for step in (scale * round_ for scale in (power, power * 10, power * 100, power * 1000) for round_ in _ROUND):
        if whole and step != round(step):
            continue
        first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
        last = max(last, first + 1)
        if last - first + 1 <= max(most, 3 if low < 0 < high else 2):
            return [round(place * step, 10) for place in range(first, last + 1)]
    return [low, high]


def figures(values: Sequence[float]) -> list[str]:
    """The figures of an axis, with as many digits behind the point as any of them needs, all equally long."""
    exact = (all(abs(round(value, digits) - value) < 1e-9 for value in values) for digits in range(_MOST_DIGITS))
    digits = next((place for place, suffices in enumerate(exact) if suffices), _MOST_DIGITS)
    shown = [f"{value:.{digits}f}" for value in values]
    longest = max(map(len, shown), default=0)
    return [text.rjust(longest) for text in shown]


def put_labels(grid: Grid, down: int, labels: Iterable[tuple[int, str]], ink: str = "label", *, left: int = 0) -> None:
    """Write labels with their middle under a column each; where there is too little room, the earlier ones stand.

    They are moved in from the ends of the row, but not beyond half of their length.
    """
    free = left
    for column, text in labels:
        start = min(max(column - len(text) // 2, left), grid.width - len(text))
        if start >= free and start <= column < start + len(text):
            grid.put(start, down, text, ink)
            free = start + len(text) + 1
