"""Any answer made of headed lines as a page of plain text, with reasons below the lines that are asked why."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from advisor.papers.charts import chart_text
from advisor.papers.paper import Part, Table
from advisor.papers.pen import Pen
from advisor.papers.sections import Section


def answer_page(
    title: str,
    parts: Iterable[Part],
    *,
    width: int = 80,
    colour: bool = False,
    why: Collection[str] | None = None,
) -> str:
    """An answer as text.

    Args:
        title: what stands at its head.
        parts: its parts in order; a text stands as it is. Tables are set as text by whoever has them.
        width: columns; narrower than 40 is treated as 40.
        colour: whether to set words off with terminal codes. No meaning hangs on them.
        why: None for the plain page; otherwise names of lines whose reasons are shown below them, all lines if empty.
    """
    pen = Pen(width, colour=colour, why=why)
    lines = [pen.ink.heading(title)]
    for part in parts:
        if isinstance(part, Section):
            lines += pen.section(part.title, part.lines, grave=part.grave)
        elif isinstance(part, str):
            lines += ["", *part.splitlines()]
        elif not isinstance(part, Table):
            lines += ["", *chart_text(part, width=width, colour=colour).splitlines()]
    if why is None:
        lines += ["", *pen.wrapped("Every line can say why: --why m1, or --why for all.", "", 0)]
    return "\n".join(lines).rstrip() + "\n"
