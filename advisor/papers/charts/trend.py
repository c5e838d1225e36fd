"""A check over the years: a mark for each result, the line of its median slope, and the classes of its scale."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from statistics import median

from advisor.papers.charts.axes import figures, put_labels, ticks
from advisor.papers.charts.plotted import FEWEST_COLUMNS, FEWEST_ROWS, Axes, Level, Series, plotted
from advisor.papers.charts.shapes import Band, TrendChart
from advisor.papers.grid import Grid, cut

MARK, SLOPE = "o", "·"

#: What is said of a direction, wherever it stands beside a chart.
DIRECTIONS = {
    "better": "getting better",
    "worse": "getting worse",
    "steady": "about the same",
    "too-few": "one result so far",
}

_ROWS = 10
_DAYS_PER_YEAR = 365.25
_WIDEST_NAME = 18  # of a class beside the plot
_ENOUGH_COLUMNS = 22  # for the plot, before classes are named beside it


def trend_grid(chart: TrendChart, width: int, height: int | None = None) -> Grid:
    """The drawing, as high as it needs to be; lower if there are fewer rows, down to what still shows something."""
    legend = textwrap.wrap(_legend(chart), width)
    spare = _ROWS if height is None else height - 3 - len(legend)
    rows = min(max(spare, FEWEST_ROWS), _ROWS)
    marks = [(float(mark.on.toordinal()), mark.value) for mark in chart.marks]
    line = _line(chart, marks)
    low, high = _range([value for _, value in marks], [value for _, value in line])
    levels = ticks(low, high, max(2, rows // 2))
    y_ticks = tuple(zip(levels, figures(levels), strict=True))
    first, last = marks[0][0], marks[-1][0]
    x = (first, last) if last > first else (first - 1, last + 1)
    beside = _beside(chart, levels[0], levels[-1], width - len(y_ticks[0][1]) - 1)
    columns = max(width - len(y_ticks[0][1]) - 1 - beside, FEWEST_COLUMNS)
    axes = Axes(x, (levels[0], levels[-1]), tuple(day for day, _ in marks), y_ticks, columns, rows)
    limits = [Level(value, "label") for value in _limits(chart.bands, axes)]
    series = [Series(tuple(_along(line, columns)), SLOPE, "line"), Series(tuple(marks), MARK, "mark")]
    grid = Grid(width, rows + 3 + len(legend))
    grid.put(0, 0, cut(chart.unit or "score", width), "label")
    grid.paste(plotted(axes, limits, series), 0, 1)
    _name_marks(grid, axes, marks)
    if beside:
        _name_bands(grid, axes, chart.bands, beside)
    dates = [mark.on.isoformat() for mark in chart.marks]
    put_labels(grid, rows + 2, [(axes.column(day), text) for (day, _), text in zip(marks, dates, strict=True)])
    for down, text in enumerate(legend, rows + 3):
        grid.put(0, down, text, "label")
    return grid


def _legend(chart: TrendChart) -> str:
    parts = [f"{MARK} result"]
    if chart.per_year is not None:
        parts.append(f"{SLOPE} median slope: {DIRECTIONS[chart.direction]}")
    if chart.bands:
        parts.append("─ limit of a class")
    return "; ".join(parts)


def _line(chart: TrendChart, marks: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The ends of the line of the median slope, laid so that half of the marks lie on either side of it."""
    if chart.per_year is None:
        return []
    slope = chart.per_year / _DAYS_PER_YEAR
    start = median(value - slope * day for day, value in marks)
    return [(day, start + slope * day) for day in (marks[0][0], marks[-1][0])]


def _along(ends: list[tuple[float, float]], columns: int) -> Iterator[tuple[float, float]]:
    """A point of the line for each column, so that each lies in the row nearest to it."""
    if ends:
        (first, start), (last, end) = ends
        for place in range(columns):
            share = place / (columns - 1)
            yield first + share * (last - first), start + share * (end - start)


def _range(marks: list[float], line: list[float]) -> tuple[float, float]:
    """What the axis must show: from nought unless that would squash the marks into its upper half.

    Where no mark lies below zero the axis ends there, and so does the line.
    """
    low, high = min(*marks, *line), max(*marks, *line)
    if min(marks) >= 0 and low <= high / 2:
        low = 0.0
    if high - low < 1e-9 * max(1.0, abs(high)):
        spare = max(abs(high) * 0.1, 0.5)
        return low - spare, high + spare
    return low, high


def _limits(bands: tuple[Band, ...], axes: Axes) -> list[float]:
    """Limits of classes within the axis, one to a row: what is crowded together could not be told apart."""
    inside = [band.until for band in bands if band.until is not None and axes.y[0] < band.until < axes.y[1]]
    by_row = {axes.row(value): value for value in inside}
    return [value for row, value in by_row.items() if 0 < row < axes.rows - 1]


def _shown(bands: tuple[Band, ...], low: float, high: float) -> list[tuple[float, float, str]]:
    """The classes that lie on the axis, each with the stretch of it that is theirs."""
    found, start = [], float("-inf")
    for band in bands:
        until = float("inf") if band.until is None else band.until
        if start < high and until > low:
            found.append((max(start, low), min(until, high), band.say))
        start = until
    return found


def _beside(chart: TrendChart, low: float, high: float, room: int) -> int:
    """Columns for the names of classes to the right of the plot; none if the plot would have too few."""
    names = [len(name) for _, _, name in _shown(chart.bands, low, high)]
    wanted = min(max(names, default=-1), _WIDEST_NAME) + 1
    return wanted if room - wanted >= _ENOUGH_COLUMNS else 0


def _name_bands(grid: Grid, axes: Axes, bands: tuple[Band, ...], beside: int) -> None:
    """Each class in the middle of its rows, if it has a row without a limit in it."""
    taken = {axes.row(value) for value in _limits(bands, axes)}
    for low, high, name in _shown(bands, *axes.y):
        inside = [row for row in range(axes.rows) if low < _value(axes, row) < high and row not in taken]
        if inside:
            grid.put(axes.left + axes.columns + 1, 1 + inside[len(inside) // 2], cut(name, beside - 1), "label")


def _value(axes: Axes, row: int) -> float:
    """The value in the middle of a row."""
    return axes.y[0] + (axes.y[1] - axes.y[0]) * (axes.rows - 1 - row) / (axes.rows - 1)


def _name_marks(grid: Grid, axes: Axes, marks: list[tuple[float, float]]) -> None:
    """The figure of each mark above it, or below it, where that hides neither a mark nor another figure."""
    for day, value in marks:
        text = figure(value)
        column, row = axes.column(day), 1 + axes.row(value)
        start = min(max(column - len(text) // 2, axes.left), axes.left + axes.columns - len(text))
        for down in (row - 1, row + 1):
            there = [grid.sign(across, down) for across in range(start, start + len(text))]
            if 1 <= down <= axes.rows and all(sign in (" ", "─", SLOPE) for sign in there):
                grid.put(start, down, text, "")
                break


def figure(value: float) -> str:
    """A value to three digits, without a power of ten."""
    return f"{value:.0f}" if abs(value) >= 100 else f"{value:.3g}"
