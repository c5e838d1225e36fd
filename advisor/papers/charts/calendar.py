"""A calendar of the beds: what is to do on each, as bars through one season.

plotext fills bars from an axis and packs none beside another; here windows overlap, and each bar must say what it is in
its own signs. So the bars are laid in rows by hand: as many rows for a bed as it has windows open at once.
"""

from __future__ import annotations

import textwrap
from datetime import date, timedelta

from advisor.counsel.seasons import MONTHS
from advisor.papers.charts.axes import put_labels
from advisor.papers.charts.shapes import Doing, SeasonsChart, Stretch
from advisor.papers.grid import Grid, cut
from advisor.records import dataclass

#: The sign, the word and the ink of each thing to do.
DOINGS: dict[Doing, tuple[str, str, str]] = {
    "check": ("?", "check", "other-3"),
    "spread": ("c", "compost", "brown-1"),
    "sow": ("s", "sow", "green-1"),
    "cut": ("x", "cut", "green-3"),
    "wait": ("w", "wait", "other-2"),
    "plant": ("p", "grow", "green-2"),
    "cover": ("~", "cover", "brown-3"),
}

_MOST_NAME = 12  # columns for the name of a bed
_DATED = "Jan 2026"  # a month with its year, where months have room for that
_FROST, _FREE = "*", "-"


@dataclass(frozen=True, slots=True)
class Span:
    """The days shown, from the first of a month to the last of one, in so many columns."""

    first: date
    last: date
    columns: int

    def column(self, day: date) -> int:
        """The column that a day lies in; days beyond the span lie in its end columns."""
        column = (day - self.first).days * self.columns // ((self.last - self.first).days + 1)
        return min(max(column, 0), self.columns - 1)


def calendar_grid(chart: SeasonsChart, width: int) -> Grid:
    """The drawing, with as many rows as there are windows open at once: to leave one out would be to leave work out."""
    left = min(max((len(one.bed) for one in chart.beds), default=0), _MOST_NAME, width // 4) + 1
    span = span_of(chart, width - left)
    lanes = [(one, lanes_of(one.stretches, span)) for one in chart.beds]
    legend = textwrap.wrap(_legend(chart), width)
    heads = 1 if chart.last_frost is None or chart.first_frost is None else 2
    grid = Grid(width, heads + sum(max(len(rows), 1) for _, rows in lanes) + len(legend))
    _months(grid, span, left)
    if chart.last_frost is not None and chart.first_frost is not None:
        _frosts(grid, chart.last_frost, chart.first_frost, span, left)
    down = heads
    for one, rows in lanes:
        grid.put(0, down, cut(one.bed, left - 1), "")
        for row in rows:
            for stretch in row:
                _bar(grid, stretch, span, left, down)
            down += 1
        down += not rows
    for place, text in enumerate(legend, down):
        grid.put(0, place, text, "label")
    return grid


def _legend(chart: SeasonsChart) -> str:
    there = {stretch.what for one in chart.beds for stretch in one.stretches}
    signs = [f"{sign} {word}" for what, (sign, word, _) in DOINGS.items() if what in there]
    frosts = [] if chart.last_frost is None else [f"{_FROST}{_FREE}{_FROST} from the last frost to the first"]
    return "; ".join([*signs, *frosts])


def span_of(chart: SeasonsChart, columns: int) -> Span:
    """Whole months that hold every window and both frosts, in so many columns."""
    stretches = [stretch for one in chart.beds for stretch in one.stretches]
    frosts = [day for day in (chart.last_frost, chart.first_frost) if day is not None]
    first = min([*frosts, *(stretch.opens for stretch in stretches)])
    last = max([*frosts, *(stretch.closes for stretch in stretches)])
    after = (last.replace(day=1) + timedelta(days=32)).replace(day=1)
    return Span(first.replace(day=1), after - timedelta(days=1), columns)


def lanes_of(stretches: tuple[Stretch, ...], span: Span) -> list[list[Stretch]]:
    """The windows in as few rows as hold them side by side, each in the first that has room for it."""
    lanes: list[list[Stretch]] = []
    for stretch in sorted(stretches, key=lambda one: (one.opens, one.closes)):
        free = (lane for lane in lanes if span.column(lane[-1].closes) < span.column(stretch.opens))
        lane = next(free, None)
        if lane is None:
            lanes.append([stretch])
        else:
            lane.append(stretch)
    return lanes


def _bar(grid: Grid, stretch: Stretch, span: Span, left: int, down: int) -> None:
    """The window in its sign, with its word within where that fits and leaves a sign at either end."""
    sign, word, ink = DOINGS[stretch.what]
    first, last = span.column(stretch.opens), span.column(stretch.closes)
    long = last - first + 1
    grid.put(left + first, down, sign * long, ink)
    if long >= len(word) + 4:
        grid.put(left + first + (long - len(word) - 2) // 2, down, f" {word} ", f"{ink} bold")


def _months(grid: Grid, span: Span, left: int) -> None:
    """The months at their first days; if there is room, with the year at the first and at each January."""
    labels: list[tuple[int, str]] = []
    day = span.first
    room = span.columns * 28 // ((span.last - span.first).days + 1)
    while day <= span.last:
        named = MONTHS[day.month - 1][: 3 if room >= 4 else 1]
        if room > len(_DATED) and (not labels or day.month == 1):
            named = f"{named} {day.year}"
        labels.append((left + span.column(day) + len(named) // 2, named))
        day = (day + timedelta(days=32)).replace(day=1)
    put_labels(grid, 0, labels, left=left)


def _frosts(grid: Grid, last_frost: date, first_frost: date, span: Span, left: int) -> None:
    first, last = span.column(last_frost), span.column(first_frost)
    grid.put(left + first, 1, _FROST + _FREE * (last - first - 1) + _FROST, "label")
    word = " no frost "
    if last - first >= len(word) + 4:
        grid.put(left + first + (last - first + 1 - len(word)) // 2, 1, word, "label")
