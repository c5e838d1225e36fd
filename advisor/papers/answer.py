"""Any answer made of headed lines as a page of plain text, with reasons below the lines that are asked why."""

from __future__ import annotations

import textwrap
from collections.abc import Collection, Iterable, Iterator

from advisor.counsel.plan import Because
from advisor.papers.page import Ink
from advisor.papers.sections import Section

_NARROWEST = 40
_MARGIN = 6
_MARKS = {"told": "you:", "computed": "sum:", "rule": "rule:"}


def answer_page(
    title: str,
    sections: Iterable[Section | str],
    *,
    width: int = 80,
    colour: bool = False,
    why: Collection[str] | None = None,
) -> str:
    """An answer as text.

    Args:
        title: what stands at its head.
        sections: its parts in order; a text stands as it is, for a picture or a table.
        width: columns; narrower than 40 is treated as 40.
        colour: whether to set words off with terminal codes. No meaning hangs on them.
        why: None for the plain page; otherwise names of lines whose reasons are shown below them, all lines if empty.
    """
    writer = _Writer(max(width, _NARROWEST), Ink(colour), why)
    lines = [writer.ink.heading(title)]
    for part in sections:
        lines += ["", *part.splitlines()] if isinstance(part, str) else writer.section(part)
    if why is None:
        lines += ["", *writer.wrapped("Every line can say why: --why m1, or --why for all.", "", 0)]
    return "\n".join(lines).rstrip() + "\n"


class _Writer:
    def __init__(self, width: int, ink: Ink, why: Collection[str] | None) -> None:
        self.width, self.ink, self.why = width, ink, why

    def section(self, section: Section) -> Iterator[str]:
        if not section.lines:
            return
        yield ""
        if section.title:
            yield (self.ink.grave if section.grave else self.ink.heading)(section.title)
        for line in section.lines:
            yield from self.wrapped(line.text, line.id, _MARGIN)
            if self.why is not None and (not self.why or line.id in self.why):
                for because in line.why:
                    yield from self.because(because, 1)

    def because(self, because: Because, depth: int) -> Iterator[str]:
        indent = _MARGIN + 2 * depth
        yield from self.wrapped(f"{_MARKS[because.origin]} {because.statement}", "", indent, quiet=True)
        if because.because:
            yield from self.wrapped(because.because, "", indent + 2, quiet=True)
        about = [part for part in (because.rule, because.evidence, ", ".join(because.sources)) if part]
        if about:
            yield from self.wrapped(f"[{'; '.join(about)}]", "", indent + 2, quiet=True)
        for child in because.rests_on:
            yield from self.because(child, depth + 1)

    def wrapped(self, text: str, name: str, indent: int, *, quiet: bool = False) -> Iterator[str]:
        room = max(self.width - indent, _NARROWEST // 2)
        folded = textwrap.wrap(text, room, break_long_words=False, break_on_hyphens=False) or [""]
        lead = f"{name:<{indent - 1}} " if name else " " * indent
        for place, part in enumerate(folded):
            shown = self.ink.quiet(part) if quiet else part
            yield f"{lead if place == 0 else ' ' * indent}{shown}"
