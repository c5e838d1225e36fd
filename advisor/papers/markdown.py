"""A paper as Markdown (CommonMark, with tables in the common pipe form and boxes to tick in the common list form)."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from advisor.papers.charts import chart_text
from advisor.papers.paper import Drawing, Heap, Paper, Part, Table
from advisor.papers.sections import Section, thickness
from advisor.safe_text import one_line, safe_text

#: Signs that may mean something inside a line of CommonMark (0.31.2, sections 2.4 and 2.5, chapter 6), the sign that
#: closes a heading, and the pipe of tables. Any of them may be escaped by a backslash.
_ACTIVE = re.compile(r"([\\`*_\[\]<>|~#&])")

_CHART_WIDTH = 80


def markdown(paper: Paper) -> str:
    """The paper as a page of Markdown, for files, notes and printing.

    Everything told by the person is escaped, so that it shows as it was typed.
    """
    return "\n".join(_page(paper)).rstrip() + "\n"


def _page(paper: Paper) -> Iterator[str]:
    yield f"# {escaped(paper.title)}"
    if paper.whose:
        yield from ("", escaped(paper.whose))
    for part in paper.parts:
        yield ""
        yield from _part(part, paper)
    if paper.sources:
        yield from ("", "## Sources", "")
        yield from (f"- {escaped(source)}" for source in paper.sources)


def _part(part: Part, paper: Paper) -> Iterator[str]:
    if isinstance(part, Drawing):
        yield from _as_drawn(part.text)
    elif isinstance(part, Table):
        yield from (f"## {escaped(part.title)}", "")
        yield from _table(part.head, part.rows)
    elif isinstance(part, Section):
        yield from _section(part, paper.heap)
    else:
        yield from _as_drawn(chart_text(part, width=_CHART_WIDTH))


def _section(section: Section, heap: Heap | None) -> Iterator[str]:
    yield f"## {escaped(section.title)}"
    yield ""
    if section.grave:
        for line in section.lines:
            yield f"> **{escaped(line.text)}**"
            yield ">"
        return
    for line in section.lines:
        box = "[ ] " if line.id in section.ticked else ""
        yield f"{'' if line.id else '  '}- {box}{escaped(line.text)}"
    if section.drawn and heap is not None and heap.layers:
        yield ""
        yield from _layers(heap)


def _layers(heap: Heap) -> Iterator[str]:
    places = {"base": "base", "cover": "cover", "body": ""}
    rows = (
        (layer.name, thickness(layer.thickness_cm, heap.units), places[layer.place]) for layer in reversed(heap.layers)
    )
    yield from _table(("from the top", "thick", ""), rows)


def _table(head: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> Iterator[str]:
    yield _row(head)
    yield _row((":--", *("--:" for _ in head[1:])), plain=True)
    yield from (_row(row) for row in rows)


def _row(cells: tuple[str, ...], *, plain: bool = False) -> str:
    return f"| {' | '.join(cell if plain else escaped(cell) for cell in cells)} |"


def _as_drawn(text: str) -> Iterator[str]:
    """A drawing or a table in columns, as code that shows it as it stands."""
    fence = "`" * max(3, max((len(run) for run in re.findall("`+", text)), default=0) + 1)
    yield from (fence, safe_text(text), fence)


def escaped(text: str) -> str:
    """Text that shows as it stands, whatever signs are in it; line breaks and what is no writing become blanks."""
    return _ACTIVE.sub(r"\\\1", one_line(text))
