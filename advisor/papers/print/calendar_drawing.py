"""A season's calendar of the beds, drawn in black on white: a bar for each thing to do, from its first day to its last.

Which bar stands in which row is worked out as for the terminal.
"""

from __future__ import annotations

from datetime import timedelta

from advisor.counsel.seasons import MONTHS
from advisor.papers.charts.calendar import DOINGS, Span, lanes_of, span_of
from advisor.papers.charts.shapes import SeasonsChart, Stretch
from advisor.papers.print.elements import Element, add, element

_WIDTH, _MOST_LEFT = 700, 96  # units of the drawing: all of it, and what the names of beds take at the most
_LANE, _BAR = 19.0, 14.0
_HEAD = 28.0
_LETTER = 6.2  # how wide a letter is
_MOST_NAME = 14


def season_drawing(chart: SeasonsChart) -> Element:
    """The drawing."""
    left = min(_MOST_LEFT, 10 + _LETTER * max((len(one.bed) for one in chart.beds), default=0))
    span = span_of(chart, int(_WIDTH - left))
    frosts = 16.0 if chart.last_frost is not None and chart.first_frost is not None else 0.0
    beds = [(one.bed, _rows(one.stretches, span)) for one in chart.beds]
    high = _HEAD + frosts + sum(_LANE * max(len(rows), 1) + 6 for _, rows in beds)
    drawing = element("svg", xmlns="http://www.w3.org/2000/svg", viewBox=f"0 0 {_WIDTH} {high:.0f}", role="img",
                      aria_label=chart.words)  # fmt: skip
    _months(drawing, span, left, high)
    if frosts and chart.last_frost is not None and chart.first_frost is not None:
        first, last = left + span.column(chart.last_frost), left + span.column(chart.first_frost)
        y = _HEAD + 9
        add(drawing, "line", x1=first, y1=y, x2=last, y2=y, stroke="#000", stroke_width=1.2, stroke_dasharray="2 3")
        for x in (first, last):
            add(drawing, "line", x1=x, y1=y - 5, x2=x, y2=y + 5, stroke="#000", stroke_width=1.6)
        _halo(drawing, "no frost", (first + last) / 2, y + 4, anchor="middle")
    y = _HEAD + frosts
    for name, rows in beds:
        shown = name if len(name) <= _MOST_NAME else f"{name[: _MOST_NAME - 1]}…"
        add(drawing, "text", shown, x=0, y=y + 14, font_size=11)
        for row in rows:
            for stretch in row:
                _bar(drawing, stretch, span, left, y + 3)
            y += _LANE
        y += 6 + _LANE * (not rows)
        add(drawing, "line", x1=0, y1=y - 2, x2=_WIDTH, y2=y - 2, stroke="#000", stroke_width=0.4)
    return drawing


def _rows(stretches: tuple[Stretch, ...], span: Span) -> list[list[Stretch]]:
    """Rows in which no word lies on another bar: a word that does not fit in its bar stands behind it."""
    days = span.last - span.first
    a_column = days / max(span.columns - 1, 1)
    grown = []
    for one in stretches:
        wide = span.column(one.closes) - span.column(one.opens) + 1
        word = _LETTER * len(DOINGS[one.what][1]) + 8
        grown.append((one, 0 if wide >= word else word + 2))
    longer = {
        (one.what, one.opens, one.closes + timedelta(seconds=a_column.total_seconds() * more)): one
        for one, more in grown
    }
    lanes = lanes_of(tuple(Stretch(*key) for key in longer), span)
    return [[longer[(each.what, each.opens, each.closes)] for each in lane] for lane in lanes]


def _bar(drawing: Element, stretch: Stretch, span: Span, left: float, y: float) -> None:
    first, last = left + span.column(stretch.opens), left + span.column(stretch.closes) + 1
    word = DOINGS[stretch.what][1]
    held = last - first >= _LETTER * len(word) + 8
    dashed = {"stroke_dasharray": "3 2"} if stretch.what in ("cover", "wait") else {}
    add(drawing, "rect", x=first, y=y, width=max(last - first, 3), height=_BAR,
        fill="#fff" if held else "#000", stroke="#000", stroke_width=1.1, **dashed)  # fmt: skip
    x, anchor = ((first + last) / 2, "middle") if held else (last + 3, "start")
    _halo(drawing, word, x, y + 11, anchor=anchor)


def _halo(drawing: Element, word: str, x: float, y: float, *, anchor: str) -> None:
    """A word with white around it, readable over lines."""
    add(drawing, "text", word, x=x, y=y, text_anchor=anchor, font_size=11, stroke="#fff", stroke_width=3,
        paint_order="stroke", fill="#000")  # fmt: skip


def _months(drawing: Element, span: Span, left: float, high: float) -> None:
    """The months at their first days, and above them the years."""
    day = span.first
    while day <= span.last:
        x = left + span.column(day)
        add(drawing, "line", x1=x, y1=14, x2=x, y2=high, stroke="#000", stroke_width=0.3)
        if day == span.first or day.month == 1:
            add(drawing, "text", str(day.year), x=x + 2, y=10, font_size=10, font_weight="bold")
        add(drawing, "text", MONTHS[day.month - 1], x=x + 2, y=23, font_size=10)
        day = (day + timedelta(days=32)).replace(day=1)
