"""A deep bed as a page of plain text."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from advisor.counsel.deep_bed import DeepBed
from advisor.papers.answer import answer_page
from advisor.papers.paper import Paper
from advisor.papers.sections import Section


def deep_bed_page(answer: DeepBed, *, width: int = 80, colour: bool = False, why: Collection[str] | None = None) -> str:
    """The bed as text; see answer_page for the arguments."""
    made = paper(answer)
    return answer_page(made.title, made.parts, width=width, colour=colour, why=why)


def paper(answer: DeepBed) -> Paper:
    """The same as a paper."""
    return Paper(f"A deep bed for {answer.weeks:g} weeks", tuple(sections(answer)))


def sections(answer: DeepBed) -> Iterator[Section]:
    """The parts of the answer, in the order they are read."""
    yield Section("First of all", tuple(line for line in answer.cautions if line.id.startswith("g")), grave=True)
    yield Section("The animals", answer.animals)
    yield Section("Lay down", tuple(each.line for each in answer.laid))
    yield Section("The bed", answer.bed)
    yield Section("In spring", answer.spring)
    yield Section("What is short", answer.short)
    yield Section("Take care", tuple(line for line in answer.cautions if not line.id.startswith("g")), care=True)
