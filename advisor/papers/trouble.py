"""A diagnosis as a page of plain text: safety first, then what it is, what to do, and what not."""

from __future__ import annotations

import textwrap
from collections.abc import Collection, Iterable, Iterator

from advisor.counsel.plan import Because, Line
from advisor.diagnosis.shapes import Cure, Diagnosis, Suspect
from advisor.papers.page import Ink

_NARROWEST = 40
_MARGIN = 6
_ROOM_FOR_NAMES = 48
_QUESTIONS_SHOWN = 3
_MARKS = {"told": "you:", "computed": "sum:", "rule": "rule:"}


def trouble_page(
    diagnosis: Diagnosis, *, width: int = 80, colour: bool = False, why: Collection[str] | None = None
) -> str:
    """The diagnosis as text.

    Args:
        width: columns; narrower than 40 is treated as 40.
        colour: whether to set words off with terminal codes. No meaning hangs on them.
        why: None for the plain page; otherwise names of lines whose reasons are shown below them, all lines if empty.
    """
    writer = _Writer(diagnosis, max(width, _NARROWEST), Ink(colour), why)
    return "\n".join(writer.page()).strip("\n") + "\n"


class _Writer:
    def __init__(self, diagnosis: Diagnosis, width: int, ink: Ink, why: Collection[str] | None) -> None:
        self.diagnosis, self.width, self.ink, self.why = diagnosis, width, ink, why

    def page(self) -> Iterator[str]:
        found = self.diagnosis
        grave = [line for line in found.cautions if line.id.startswith("g")]
        yield from self.section("First of all", grave, grave=True)
        yield from self.heard()
        yield from self.section("What it is", [found.summary])
        yield from self.suspects()
        yield from self.questions()
        yield from self.cures()
        yield from self.section("What not to do", found.avoid)
        yield from self.section("Take care", [line for line in found.cautions if line not in grave])
        if self.why is None:
            yield ""
            yield from self.wrapped("Every line can say why: --why m1, or --why for all.", "", 0)

    def heard(self) -> Iterator[str]:
        yield ""
        yield self.ink.heading("What you see")
        for sign in self.diagnosis.signs:
            yield from self.wrapped(sign.text, "", _MARGIN)
        if not self.diagnosis.signs:
            yield from self.wrapped("nothing that was understood", "", _MARGIN)
        if self.diagnosis.unplaced:
            yield from self.wrapped(f"not understood: {', '.join(self.diagnosis.unplaced)}", "", _MARGIN, quiet=True)

    def suspects(self) -> Iterator[str]:
        settled = self.diagnosis.verdict in ("settled", "normal")
        shown = [one for one in self.diagnosis.causes if one.stands or not settled]
        for suspect in shown:
            yield from self.suspect(suspect)

    def suspect(self, suspect: Suspect) -> Iterator[str]:
        yield from self.lines([suspect.line])
        for mark, voices in (("for", suspect.speaks_for), ("against", suspect.speaks_against)):
            for voice in voices:
                yield from self.wrapped(f"{mark}: {voice.text}", "", _MARGIN + 2, quiet=True)
        yield from self.wrapped(f"To tell: {suspect.tell}", "", _MARGIN + 2, quiet=True)

    def questions(self) -> Iterator[str]:
        asked = self.diagnosis.questions[:_QUESTIONS_SHOWN]
        if not asked:
            return
        yield ""
        yield self.ink.heading("What would tell")
        for number, question in enumerate(asked, 1):
            yield from self.wrapped(question.ask, f"q{number}", _MARGIN)
            yield from self.wrapped(question.why, "", _MARGIN + 2, quiet=True)

    def cures(self) -> Iterator[str]:
        if not self.diagnosis.remedies:
            return
        yield ""
        yield self.ink.heading("What to do")
        for cure in self.diagnosis.remedies:
            yield from self.cure(cure)

    def cure(self, cure: Cure) -> Iterator[str]:
        yield from self.lines([cure.line])
        yield from self.lines(cure.provisos)
        when = f"within {cure.look_again_days} days" if cure.look_again_days > 1 else "at once"
        yield from self.wrapped(f"If it works, {when}: {cure.expect}", "", _MARGIN + 2, quiet=True)
        yield from self.wrapped(f"If not: {cure.otherwise}", "", _MARGIN + 2, quiet=True)

    def section(self, title: str, lines: Iterable[Line], *, grave: bool = False) -> Iterator[str]:
        shown = list(lines)
        if shown:
            yield ""
            yield (self.ink.grave if grave else self.ink.heading)(title)
            yield from self.lines(shown)

    def lines(self, lines: Iterable[Line]) -> Iterator[str]:
        for line in lines:
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
        indent = min(indent, self.width // 3)
        room = self.width - indent
        narrow = room < _ROOM_FOR_NAMES  # names of rules are long words joined by hyphens
        folded = textwrap.wrap(text, room, break_long_words=False, break_on_hyphens=narrow) or [""]
        lead = f"{name:<{indent - 1}} " if name else " " * indent
        for place, part in enumerate(folded):
            shown = self.ink.quiet(part) if quiet else part
            yield f"{lead if place == 0 else ' ' * indent}{shown}"
