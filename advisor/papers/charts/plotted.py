"""Plots by plotext, as drawings with inks.

plotext has one figure for the whole program. It is emptied before each use and held by a lock, for a screen may draw
in one thread what a page draws in another. Inks are handed to it as colours by their numbers and found again in what it
writes: so a page and a screen show the same drawing, each in its own colours or in none.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from threading import Lock
from typing import Literal

from advisor.papers.charts.axes import cell
from advisor.papers.grid import Grid
from advisor.records import dataclass

#: Fewer rows or columns than this within the axes show nothing.
FEWEST_ROWS, FEWEST_COLUMNS = 3, 8

_LOCK = Lock()
_CODE = re.compile(r"\x1b\[([\d;]*)m")
_FIRST_COLOUR = 17  # of the 256; which one it is means nothing here
_AXES = "outline"


@dataclass(frozen=True, slots=True)
class Series:
    """Points in one sign: each by itself, joined by lines, or filled down to the axis. Later series lie above."""

    points: tuple[tuple[float, float], ...]
    sign: str
    ink: str
    how: Literal["points", "line", "fill"] = "points"


@dataclass(frozen=True, slots=True)
class Level:
    """A line straight across at a value, below all series."""

    value: float
    ink: str


@dataclass(frozen=True, slots=True)
class Axes:
    """What a plot shows, in so many cells; `y_ticks` are values with their figures, all equally long."""

    x: tuple[float, float]
    y: tuple[float, float]
    x_ticks: tuple[float, ...]
    y_ticks: tuple[tuple[float, str], ...]
    columns: int
    rows: int

    @property
    def left(self) -> int:
        """Columns before the first cell: the figures and the axis."""
        return max((len(text) for _, text in self.y_ticks), default=0) + 1

    def column(self, x: float) -> int:
        """The column of a value in the drawing."""
        return self.left + cell(x, *self.x, self.columns)

    def row(self, y: float) -> int:
        """The row of a value in the drawing, counted from its top."""
        return self.rows - 1 - cell(y, *self.y, self.rows)


def plotted(axes: Axes, levels: Sequence[Level], series: Sequence[Series]) -> Grid:
    """The plot over its axes; the lowest row is the axis along the foot, without words."""
    import plotext

    inks = [_AXES, *dict.fromkeys([*(level.ink for level in levels), *(part.ink for part in series)])]
    number = {ink: _FIRST_COLOUR + place for place, ink in enumerate(inks)}
    width, height = axes.left + axes.columns, axes.rows + 1
    with _LOCK:
        plotext.clear_figure()
        plotext.limit_size(False, False)
        # a row more than is kept: the words along the foot are written by whoever asked for the plot
        plotext.plotsize(width, height + 1)
        plotext.theme("clear")
        plotext.ticks_color(number[_AXES])
        plotext.xaxes(True, False)
        plotext.yaxes(True, False)
        plotext.xlim(*axes.x)
        plotext.ylim(*axes.y)
        plotext.xticks(list(axes.x_ticks), [" "] * len(axes.x_ticks))
        plotext.yticks([value for value, _ in axes.y_ticks], [text for _, text in axes.y_ticks])
        # without a point plotext draws no axes either
        plotext.scatter([axes.x[0]], [axes.y[0]], marker=" ")
        for level in levels:
            plotext.hline(level.value, number[level.ink])
        for part in series:
            if part.points:
                draw = plotext.plot if part.how == "line" else plotext.scatter
                xs, ys = zip(*part.points, strict=True)
                draw(list(xs), list(ys), marker=part.sign, color=number[part.ink], fillx=part.how == "fill")
        text = plotext.build()
    grid = Grid(width, height)
    for down, row in enumerate(text.split("\n")[:height]):
        for across, run, ink in _runs(row, {str(code): ink for ink, code in number.items()}):
            grid.put(across, down, run, ink)
    return grid


def _runs(row: str, inks: dict[str, str]) -> Iterator[tuple[int, str, str]]:
    """The runs of a row with their columns, by the codes between them."""
    across, ink, place = 0, "", 0
    for code in _CODE.finditer(row):
        if run := row[place : code.start()]:
            yield across, run, ink
            across += len(run)
        ink = inks.get(code[1].rpartition(";")[2], "")
        place = code.end()
    if run := row[place:]:
        yield across, run, ink
