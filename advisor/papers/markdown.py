"""The plan as Markdown (CommonMark, with tables in the common pipe form)."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from advisor.counsel.plan import Layer, Line, Plan
from advisor.papers.sections import sections
from advisor.safe_text import one_line

#: Signs that may mean something inside a line of CommonMark (0.31.2, sections 2.4 and 2.5, chapter 6), the sign that
#: closes a heading, and the pipe of tables. Any of them may be escaped by a backslash.
_ACTIVE = re.compile(r"([\\`*_\[\]<>|~#&])")


def markdown(plan: Plan) -> str:
    """The plan as a page of Markdown: what `page` prints, for files, notes and printing.

    Everything told by the person is escaped, so that it shows as it was typed.
    """
    return "\n".join(_page(plan)).rstrip() + "\n"


def _page(plan: Plan) -> Iterator[str]:
    yield f"# Compost for {escaped(plan.household)}"
    for section in sections(plan):
        yield ""
        yield f"## {section.title}"
        yield ""
        if section.grave:
            yield from (f"> **{escaped(line.text)}**" for line in section.lines)
            continue
        yield from _list(section.lines)
        if section.drawn and plan.layers:
            yield from _layers(plan.layers, plan)
    yield ""
    yield "The letters and numbers name each line, so that its reasons can be asked for: “why m1”."


def _list(lines: Iterable[Line]) -> Iterator[str]:
    for line in lines:
        yield f"- `{line.id}` {escaped(line.text)}"


def _layers(layers: Iterable[Layer], plan: Plan) -> Iterator[str]:
    yield ""
    yield "| from the top | thick | |"
    yield "| :-- | --: | :-- |"
    for layer in reversed(tuple(layers)):
        place = {"base": "base", "cover": "cover", "body": ""}[layer.place]
        thick = f"{layer.thickness_cm:.0f} cm" if plan.units == "metric" else f"{layer.thickness_cm / 2.54:.0f} in"
        yield f"| {escaped(layer.name)} | {thick} | {place} |"


def escaped(text: str) -> str:
    """Text that shows as it stands, whatever signs are in it; line breaks and what is no writing become blanks."""
    return _ACTIVE.sub(r"\\\1", one_line(text))
