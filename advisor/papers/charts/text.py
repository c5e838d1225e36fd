"""Charts as drawings, and as text for any page."""

from __future__ import annotations

import textwrap

from advisor.papers.charts.shapes import Chart, HeatChart, SeasonsChart, TextureChart, TrendChart
from advisor.papers.grid import Grid, cut

#: Columns; what is narrower is treated as this.
NARROWEST = 32

#: How inks look on a terminal, in its own sixteen colours; no meaning hangs on it. By their first word.
_CODES = {
    "mark": "1",
    "line": "36",
    "limit": "33",
    "label": "2",
    "outline": "2",
    "brown": "33",
    "green": "32",
    "other": "36",
}


def chart_grid(chart: Chart, width: int, height: int | None = None) -> Grid:
    """The drawing alone, with its axes and its legend, in inks that whoever shows it gives a colour.

    Args:
        width: columns; what is narrower is treated as 32.
        height: rows at the most, as far as a chart can be drawn so low without leaving anything out; None for as many
            as suit it.
    """
    width = max(width, NARROWEST)
    if isinstance(chart, TrendChart):
        from advisor.papers.charts.trend import trend_grid

        return trend_grid(chart, width, height)
    if isinstance(chart, TextureChart):
        from advisor.papers.charts.texture import texture_grid

        return texture_grid(chart, width, height)
    if isinstance(chart, SeasonsChart):
        from advisor.papers.charts.calendar import calendar_grid

        return calendar_grid(chart, width)
    if isinstance(chart, HeatChart):
        from advisor.papers.charts.heat import heat_grid

        return heat_grid(chart, width, height)
    from advisor.papers.charts.year import year_grid

    return year_grid(chart, width, height)


def chart_text(chart: Chart, *, width: int, height: int | None = None, colour: bool = False) -> str:
    """A chart as text: its title, the drawing, and what is to be seen, in words.

    Args:
        width, height: as of `chart_grid`; the height is that of the drawing.
        colour: whether to set parts off with terminal codes. No meaning hangs on them.
    """
    width = max(width, NARROWEST)
    grid = chart_grid(chart, width, height)
    title = cut(chart.title, width)
    drawn = _coloured(grid) if colour else grid.text()
    words = textwrap.fill(chart.words, width, break_on_hyphens=False)
    return "\n".join([f"\x1b[1m{title}\x1b[0m" if colour else title, drawn, words])


def _coloured(grid: Grid) -> str:
    rows = []
    for runs in grid.rows():
        row = "".join(f"\x1b[{code}m{text}\x1b[0m" if (code := _code(ink)) else text for text, ink in runs)
        rows.append(row.rstrip())
    return "\n".join(rows)


def _code(ink: str) -> str:
    name, _, weight = ink.partition(" ")
    code = _CODES.get(name.partition("-")[0], "")
    return ";".join(part for part in ("1" if weight == "bold" else "", code) if part)
