"""Any answer as a page of plain text, with reasons below the lines that are asked why."""

from __future__ import annotations

import textwrap
from collections.abc import Collection, Iterable, Iterator, Sequence

from advisor.papers.charts import chart_text
from advisor.papers.paper import Answer, Drawing, Heap, Part, Table, paper_of
from advisor.papers.pen import Pen
from advisor.papers.sections import Section, thickness

#: Columns that the name of a layer gets, however narrow the page.
_NAME_AT_LEAST = 10
#: Columns of a bar that is as long as the thickest layer.
_BAR = 18
#: Blanks between the columns of a table.
_BETWEEN = 2


def page(
    answer: Answer,
    *,
    width: int = 80,
    colour: bool = False,
    why: Collection[str] | None = None,
    local: Sequence[str] = (),
) -> str:
    """An answer as text; see `page_text` for the arguments. `local` is what is said of local rules."""
    made = paper_of(answer, local=local)
    return page_text(made.title, made.parts, heap=made.heap, width=width, colour=colour, why=why)


def page_text(
    title: str,
    parts: Iterable[Part | str],
    *,
    heap: Heap | None = None,
    width: int = 80,
    colour: bool = False,
    why: Collection[str] | None = None,
) -> str:
    """A title and parts as text.

    Args:
        parts: in order; a text stands as it is, and a drawing is left out where it is wider than the page.
        heap: drawn below the section about it.
        width: columns; narrower than 40 is treated as 40.
        colour: whether to set words off with terminal codes. No meaning hangs on them.
        why: None for a page without names of lines. Otherwise every line has its name in front, and the lines named
            here have their reasons below, all lines if it is empty.
    """
    pen = Pen(width, colour=colour, why=why)
    lines = [pen.ink.heading(title)]
    for part in parts:
        if isinstance(part, Section):
            lines += pen.section(part.title, part.lines, grave=part.grave)
            if part.drawn and heap is not None and heap.layers:
                lines += ["", *_layers(heap, pen)]
        elif isinstance(part, str):
            lines += ["", *part.splitlines()]
        elif isinstance(part, Table):
            lines += ["", pen.ink.heading(part.title), *table_lines(part)]
        elif isinstance(part, Drawing):
            drawn = part.text.splitlines()
            lines += ["", *drawn] if max(map(len, drawn)) <= pen.width else []
        else:
            lines += ["", *chart_text(part, width=width, colour=colour).splitlines()]
    return "\n".join(lines).rstrip() + "\n"


def table_lines(table: Table) -> Iterator[str]:
    """A table in columns, each as wide as its widest cell."""
    rows = (table.head, *table.rows)
    wide = [max(map(len, column)) + _BETWEEN for column in zip(*rows, strict=True)]
    for row in rows:
        yield "".join(f"{cell:<{room}}" for cell, room in zip(row, wide, strict=True)).rstrip()


def _layers(heap: Heap, pen: Pen) -> Iterator[str]:
    """The section of the heap, top first, as it would be seen."""
    thickest = max(layer.thickness_cm for layer in heap.layers)
    margin = " " * pen.margin
    for layer in reversed(heap.layers):
        bar = "=" * max(1, round(_BAR * layer.thickness_cm / thickest))
        place = {"base": " (base)", "cover": " (cover)", "body": ""}[layer.place]
        lead = f"{margin}{bar:<{_BAR}}  {thickness(layer.thickness_cm, heap.units):>6}  "
        room = max(pen.width - len(lead) - len(place), _NAME_AT_LEAST)
        yield f"{lead}{textwrap.shorten(layer.name, room, placeholder=' …')}{place}"
    yield f"{margin}{'-' * _BAR}  ground"
