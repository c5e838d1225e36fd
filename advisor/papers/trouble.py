"""A diagnosis as a page of plain text: safety first, then what it is, what to do, and what not."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from advisor.counsel.plan import Line
from advisor.diagnosis.shapes import Cure, Diagnosis, Suspect
from advisor.papers.paper import Paper
from advisor.papers.pen import MARGIN, Pen
from advisor.papers.sections import Section

_QUESTIONS_SHOWN = 3


def trouble_page(
    diagnosis: Diagnosis, *, width: int = 80, colour: bool = False, why: Collection[str] | None = None
) -> str:
    """The diagnosis as text.

    Args:
        width: columns; narrower than 40 is treated as 40.
        colour: whether to set words off with terminal codes. No meaning hangs on them.
        why: None for the plain page; otherwise names of lines whose reasons are shown below them, all lines if empty.
    """
    writer = _Writer(diagnosis, width, colour=colour, why=why)
    return "\n".join(writer.page()).strip("\n") + "\n"


def paper(found: Diagnosis) -> Paper:
    """The same as a paper, what to do before why: each remedy with a box to tick, and when to look again."""
    grave = tuple(line for line in found.cautions if line.id.startswith("g"))
    care = tuple(line for line in found.cautions if line not in grave)
    seen = [sign.text for sign in found.signs] + [f"not understood: {word}" for word in found.unplaced]
    parts = (
        Section("First of all", grave, grave=True),
        Section("What it is", (found.summary,)),
        Section("What to do", tuple(_cures(found)), ticked=frozenset(cure.line.id for cure in found.remedies)),
        Section("What not to do", found.avoid),
        Section("Take care", care, care=True),
        Section("What you see", tuple(_said(text) for text in seen)),
        Section("How to tell", tuple(line for one in shown_causes(found) for line in _told_by(one))),
        Section("What would tell", tuple(_said(asked.ask) for asked in found.questions[:_QUESTIONS_SHOWN])),
    )
    return Paper("What is wrong, and what to do", parts, whose=found.household)


def _cures(found: Diagnosis) -> Iterator[Line]:
    for cure in found.remedies:
        yield cure.line
        yield from cure.provisos
        yield _said(f"If it works, {_by_when(cure)}: {cure.expect}")
        yield _said(f"If not: {cure.otherwise}")


def _told_by(suspect: Suspect) -> Iterator[Line]:
    yield suspect.line
    yield _said(f"To tell: {suspect.tell}")


def _said(text: str) -> Line:
    """A text that stands below a line of the answer, and has no name of its own."""
    return Line(id="", text=text)


def _by_when(cure: Cure) -> str:
    return f"within {cure.look_again_days} days" if cure.look_again_days > 1 else "at once"


def shown_causes(found: Diagnosis) -> tuple[Suspect, ...]:
    """The causes worth showing: those that stand, or all of them where nothing is settled."""
    settled = found.verdict in ("settled", "normal", "guessed")
    return tuple(one for one in found.causes if one.stands or not settled)


class _Writer(Pen):
    def __init__(self, diagnosis: Diagnosis, width: int, *, colour: bool, why: Collection[str] | None) -> None:
        super().__init__(width, colour=colour, why=why)
        self.diagnosis = diagnosis

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
            yield from self.wrapped(sign.text, "", MARGIN)
        if not self.diagnosis.signs:
            yield from self.wrapped("nothing that was understood", "", MARGIN)
        if self.diagnosis.unplaced:
            yield from self.wrapped(f"not understood: {', '.join(self.diagnosis.unplaced)}", "", MARGIN, quiet=True)

    def suspects(self) -> Iterator[str]:
        for suspect in shown_causes(self.diagnosis):
            yield from self.suspect(suspect)

    def suspect(self, suspect: Suspect) -> Iterator[str]:
        yield from self.lines([suspect.line])
        for mark, voices in (("for", suspect.speaks_for), ("against", suspect.speaks_against)):
            for voice in voices:
                yield from self.wrapped(f"{mark}: {voice.text}", "", MARGIN + 2, quiet=True)
        yield from self.wrapped(f"To tell: {suspect.tell}", "", MARGIN + 2, quiet=True)

    def questions(self) -> Iterator[str]:
        asked = self.diagnosis.questions[:_QUESTIONS_SHOWN]
        if not asked:
            return
        yield ""
        yield self.ink.heading("What would tell")
        for number, question in enumerate(asked, 1):
            yield from self.wrapped(question.ask, f"q{number}", MARGIN)
            yield from self.wrapped(question.why, "", MARGIN + 2, quiet=True)

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
        yield from self.wrapped(f"If it works, {_by_when(cure)}: {cure.expect}", "", MARGIN + 2, quiet=True)
        yield from self.wrapped(f"If not: {cure.otherwise}", "", MARGIN + 2, quiet=True)
