"""A year by the week, drawn in black on white: a bar for each week, in store, in the heap, and what goes in."""

from __future__ import annotations

from itertools import groupby

from advisor.papers.charts.shapes import YearChart
from advisor.papers.charts.year import strips_of
from advisor.papers.print.elements import Element, add, element
from advisor.papers.print.patterns import patterns
from advisor.units import volume_text

_WIDTH, _LEFT, _STRIP, _GAP = 700.0, 62.0, 70.0, 24.0


def year_drawing(chart: YearChart) -> Element:
    """The drawing, its months and its batches below it."""
    strips = strips_of(chart, [[week] for week in chart.weeks])
    high = len(strips) * (_STRIP + _GAP) + 40
    drawing = element("svg", xmlns="http://www.w3.org/2000/svg", viewBox=f"0 0 {_WIDTH:.0f} {high:.0f}", role="img",
                      aria_label=chart.words)  # fmt: skip
    fills = list(patterns(add(drawing, "defs"), [head for head, *_ in strips]).values())
    step = (_WIDTH - _LEFT - 4) / max(len(chart.weeks), 1)
    for number, (head, top, values, *_) in enumerate(strips):
        foot = (number + 1) * (_STRIP + _GAP)
        add(drawing, "text", head, x=_LEFT, y=foot - _STRIP - 6, font_size=11)
        add(drawing, "text", volume_text(top, chart.units), x=_LEFT - 6, y=foot - _STRIP + 8, text_anchor="end",
            font_size=10)  # fmt: skip
        add(drawing, "text", "0", x=_LEFT - 6, y=foot, text_anchor="end", font_size=10)
        for place, value in enumerate(values):
            tall = _STRIP * min(value / top, 1.0)
            if tall > 0:
                add(drawing, "rect", x=_LEFT + place * step, y=foot - tall, width=step, height=tall,
                    fill=fills[number], stroke="#000", stroke_width=0.5)  # fmt: skip
        add(drawing, "polyline", points=f"{_LEFT},{foot - _STRIP} {_LEFT},{foot} {_WIDTH - 4},{foot}", fill="none",
            stroke="#000", stroke_width=1.2)  # fmt: skip
    _foot(drawing, chart, step, len(strips) * (_STRIP + _GAP))
    return drawing


def _foot(drawing: Element, chart: YearChart, step: float, y: float) -> None:
    place = 0
    for month, weeks in groupby(chart.weeks, lambda week: week.month):
        add(drawing, "text", month, x=_LEFT + place * step + 2, y=y + 14, font_size=11)
        add(drawing, "line", x1=_LEFT + place * step, y1=y, x2=_LEFT + place * step, y2=y + 6, stroke="#000")
        place += len(list(weeks))
    place = 0
    add(drawing, "text", "batch", x=_LEFT - 6, y=y + 30, text_anchor="end", font_size=11)
    for batch, weeks in groupby(chart.weeks, lambda week: week.batch):
        long = len(list(weeks)) * step
        x = _LEFT + place * step
        add(drawing, "line", x1=x + 12, y1=y + 26, x2=x + long - 3, y2=y + 26, stroke="#000", stroke_width=1.6)
        add(drawing, "text", str(batch), x=x + 2, y=y + 30, font_size=11)
        place += round(long / step)
