"""The heat of a heap by days, with the limits that rules name, and the days on which it was turned."""

from __future__ import annotations

import textwrap

from advisor.papers.charts.axes import figures, put_labels, ticks
from advisor.papers.charts.plotted import FEWEST_COLUMNS, FEWEST_ROWS, Axes, Level, Series, plotted
from advisor.papers.charts.shapes import HeatChart
from advisor.papers.grid import Grid, cut
from advisor.units import Units

READING, BETWEEN, TURNED, FORESEEN, EDGE = "o", "·", "T", "•", ":"

_ROWS = 12
_COOLEST = 20.0  # °C; an axis from there shows the rise, and no heap worth reading is colder
_WIDEST_NAME = 16
_ENOUGH_COLUMNS = 24
_LABEL_EVERY = 8  # columns from one day's label to the next, at the least


def heat_grid(chart: HeatChart, width: int, height: int | None = None) -> Grid:
    """The drawing, as high as it needs to be; lower if there are fewer rows, down to what still shows something."""
    legend = textwrap.wrap(_legend(chart), width)
    spare = _ROWS if height is None else height - 4 - len(legend)
    rows = min(max(spare, FEWEST_ROWS), _ROWS)
    readings = [(one.day, degrees(one.celsius, chart.units)) for one in chart.readings]
    limits = [(degrees(one.celsius, chart.units), one.say) for one in chart.limits]
    low, middle, high = (
        tuple((one.day, degrees(each, chart.units)) for one, each in zip(chart.band, edge, strict=True))
        for edge in (
            [one.low for one in chart.band],
            [one.typical for one in chart.band],
            [one.high for one in chart.band],
        )
    )
    values = [value for _, value in (*readings, *low, *high, *((0, value) for value, _ in limits))]
    levels = ticks(min(*values, degrees(_COOLEST, chart.units)), max(values), max(2, rows // 2))
    y_ticks = tuple(zip(levels, figures(levels), strict=True))
    days = [day for day, _ in (*readings, *middle)] + list(chart.turnings)
    x = (min(0.0, *days), max(*days, 1.0))
    left = len(y_ticks[0][1]) + 1
    names = min(max((len(say) for _, say in limits), default=-1), _WIDEST_NAME) + 1
    beside = names if width - left - names >= _ENOUGH_COLUMNS else 0
    columns = max(width - left - beside, FEWEST_COLUMNS)
    marked = [day for day in ticks(*x, max(2, columns // _LABEL_EVERY), whole=True) if x[0] <= day <= x[1]]
    axes = Axes(x, (levels[0], levels[-1]), tuple(marked), y_ticks, columns, rows)
    series = [
        Series(low, EDGE, "outline", "line"),
        Series(high, EDGE, "outline", "line"),
        Series(middle, FORESEEN, "line", "line"),
        Series(tuple(readings), BETWEEN, "line", "points" if chart.band else "line"),
        Series(tuple(readings), READING, "mark"),
    ]
    grid = Grid(width, rows + 4 + len(legend))
    grid.put(0, 0, "°C" if chart.units == "metric" else "°F", "label")
    grid.paste(plotted(axes, [Level(value, "limit") for value, _ in limits], series), 0, 1)
    for value, say in limits if beside else ():
        grid.put(axes.left + columns + 1, 1 + axes.row(value), cut(say, beside - 1), "limit")
    put_labels(grid, rows + 2, [(axes.column(day), f"{day:g}") for day in marked], left=left)
    for day in chart.turnings:
        grid.put(axes.column(day), rows + 3, TURNED, "mark")
    for down, text in enumerate(legend, rows + 4):
        grid.put(0, down, text, "label")
    return grid


def _legend(chart: HeatChart) -> str:
    limits = [f"─ {degrees(one.celsius, chart.units):.0f}: {one.say}" for one in chart.limits]
    turned = [f"{TURNED} turned"] if chart.turnings else []
    read = [f"{READING} reading"] if chart.readings else []
    band = [f"{FORESEEN} foreseen", f"{EDGE} 8 heaps in 10 lie between these"] if chart.band else []
    return "; ".join(["days since it was built, along the foot", *read, *band, *turned, *limits])


def degrees(celsius: float, units: Units) -> float:
    """A temperature in °C or °F."""
    return celsius if units == "metric" else celsius * 9 / 5 + 32
