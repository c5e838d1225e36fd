"""Herbs, starters and minerals for a heap, as a page of plain text."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from advisor.counsel.additions import Addition, Additions
from advisor.papers.answer import answer_page
from advisor.papers.paper import Paper
from advisor.papers.sections import Section


def additions_page(
    answer: Additions, *, width: int = 80, colour: bool = False, why: Collection[str] | None = None
) -> str:
    """The additions as text; see answer_page for the arguments."""
    made = paper(answer)
    return answer_page(made.title, made.parts, width=width, colour=colour, why=why)


def paper(answer: Additions) -> Paper:
    """The same as a paper."""
    return Paper(f"By the handful, for {answer.household}", tuple(sections(answer)))


def sections(answer: Additions) -> Iterator[Section]:
    """The parts of the answer, in the order they are read."""
    yield Section("First of all", tuple(line for line in answer.cautions if line.id.startswith("g")), grave=True)
    yield Section("The heap", (answer.heap,))
    yield _section("Herbs", answer.herbs)
    yield Section("Steeped in rainwater", answer.steeping)
    yield _section("Starters", answer.starters)
    yield _section("Minerals", answer.minerals)
    yield _section("Not in this heap", answer.leave)
    yield Section("Keep out", answer.stays_out)
    yield Section("Take care", tuple(line for line in answer.cautions if not line.id.startswith("g")), care=True)


def _section(title: str, additions: Sequence[Addition]) -> Section:
    return Section(title, tuple(line for one in additions for line in (one.line, *one.mind)))
