"""A year by the week in three strips over one row of months: in store, in the heap, and what goes in."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import groupby

from advisor.papers.charts.axes import ticks
from advisor.papers.charts.plotted import Axes, Series, plotted
from advisor.papers.charts.shapes import YearChart, YearWeek
from advisor.papers.grid import Grid, cut
from advisor.units import GALLON_L, Units, volume_text

_ROWS = (7, 7, 5)  # of the strips, where there is room for them
_FEWEST = 4  # of each, however low the screen: fewer make steps of what is no step
_LABELS = 7  # columns for a volume
_GONE = 0.5  # litres; less than this is nothing


def year_grid(chart: YearChart, width: int, height: int | None = None) -> Grid:
    """The drawing: a column or more for each week, or a column for some weeks where there are too few.

    As high as it needs to be; lower if there are fewer rows, down to what still shows something.
    """
    columns, spans = _spans(chart.weeks, width - _LABELS - 1)
    heads = strips_of(chart, spans)
    rows = _rows(height)
    grid = Grid(width, sum(rows) + 2 * len(rows) + 2)
    down = 0
    for (head, room, values, sign, ink), high in zip(heads, rows, strict=True):
        grid.put(0, down, cut(head, width), "label")
        y_ticks = tuple((value, _volume(value, chart)) for value in (0.0, room))
        axes = Axes((0, columns - 1), (0, room), _starts(chart.weeks, columns, spans), y_ticks, columns, high)
        points = _filled(values, columns // len(spans))
        grid.paste(plotted(axes, [], [Series(points, sign, ink, "fill")]), 0, down + 1)
        down += high + 2
    _foot(grid, chart, columns, spans, down)
    return grid


def strips_of(chart: YearChart, spans: Sequence[Sequence[YearWeek]]) -> list[tuple[str, float, list[float], str, str]]:
    """Head, top of the axis in litres, a value for each span, sign and ink of each strip."""

    def each(value: Callable[[YearWeek], float]) -> list[float]:
        return [max(map(value, span)) for span in spans]

    store, heap = each(lambda week: week.store_litres), each(lambda week: week.heap_litres)
    loads = [math.fsum(week.load_litres for week in span) / len(span) for span in spans]
    return [
        ("In store, of the room there is", _top(chart.store_room_litres, store), store, "▒", "brown-1"),
        ("In the heap, of the room there is", _top(chart.heap_room_litres, heap), heap, "█", "green-2"),
        ("What goes in, a week", _round_top(loads, chart.units), loads, "▓", "green-1"),
    ]


def _round_top(loads: Sequence[float], units: Units) -> float:
    """A round figure, in the units shown, that no load goes beyond; in litres."""
    worth = 1.0 if units == "metric" else GALLON_L
    return ticks(0, max(*loads, worth) / worth, 3)[-1] * worth


def _top(room: float, values: Sequence[float]) -> float:
    return max(room, *values, 1.0)


def _rows(height: int | None) -> tuple[int, ...]:
    """Rows of the strips: as wanted, or in the same proportion as many as there are."""
    if height is None or height >= sum(_ROWS) + 8:
        return _ROWS
    spare = height - 8
    return tuple(max(_FEWEST, spare * rows // sum(_ROWS)) for rows in _ROWS)


def _spans(weeks: Sequence[YearWeek], room: int) -> tuple[int, list[Sequence[YearWeek]]]:
    """Columns of the plot, and the weeks that share them: as many columns for each span of as few weeks as fit."""
    together = math.ceil(len(weeks) / room)
    spans = [weeks[start : start + together] for start in range(0, len(weeks), together)]
    return len(spans) * (room // len(spans)), spans


def _filled(values: Sequence[float], wide: int) -> tuple[tuple[float, float], ...]:
    """A point for each column of a span that holds anything."""
    return tuple(
        (float(place * wide + across), value)
        for place, value in enumerate(values)
        if value >= _GONE
        for across in range(wide)
    )


def _starts(weeks: Sequence[YearWeek], columns: int, spans: Sequence[Sequence[YearWeek]]) -> tuple[float, ...]:
    """The columns in which a month begins."""
    return tuple(float(column) for column, _, _ in _changes(weeks, columns, spans, lambda week: week.month))


def _changes(
    weeks: Sequence[YearWeek],
    columns: int,
    spans: Sequence[Sequence[YearWeek]],
    named: Callable[[YearWeek], str],
) -> list[tuple[int, int, str]]:
    """Runs of weeks of one name: their first column, how many columns there are to the next run, and the name."""
    together, wide = len(spans[0]), columns // len(spans)
    starts, week = [], 0
    for name, run in groupby(weeks, named):
        starts.append((week // together * wide, name))
        week += len(list(run))
    ends = [*(column for column, _ in starts[1:]), columns]
    return [(column, end - column, name) for (column, name), end in zip(starts, ends, strict=True)]


def _foot(grid: Grid, chart: YearChart, columns: int, spans: Sequence[Sequence[YearWeek]], down: int) -> None:
    """The months, and below them the batches that are fed."""
    left = _LABELS + 1
    for column, room, name in _changes(chart.weeks, columns, spans, lambda week: week.month):
        grid.put(left + column, down, name[: max(room - 1, 1)], "label")
    grid.put(0, down + 1, "batch", "label")
    for column, room, name in _changes(chart.weeks, columns, spans, lambda week: str(week.batch)):
        line = "─" * max(room - len(name) - 1, 0)
        grid.put(left + column, down + 1, f"{name}{line}"[: max(room, 1)], "label")


def _volume(litres: float, chart: YearChart) -> str:
    return ("0" if litres == 0 else volume_text(litres, chart.units)).rjust(_LABELS)
