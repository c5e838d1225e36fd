"""A diagnosis as a paper: safety first, then what it is, what to do, and what not."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.counsel.plan import Line
from advisor.diagnosis.shapes import Cure, Diagnosis, Suspect
from advisor.papers.paper import Paper
from advisor.papers.sections import Section, first_of_all, take_care

_QUESTIONS_SHOWN = 3


def paper(found: Diagnosis) -> Paper:
    """What to do before why: each remedy with a box to tick, and when to look again."""
    seen = [sign.text for sign in found.signs] or ["nothing that I understood"]
    seen += [f"not understood: {word}" for word in found.unplaced]
    parts = (
        first_of_all(found.cautions),
        Section("What it is", (found.summary,)),
        Section("What to do", tuple(_cures(found)), ticked=frozenset(cure.line.id for cure in found.remedies)),
        Section("What not to do", found.avoid),
        take_care(found.cautions),
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
