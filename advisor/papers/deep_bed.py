"""A deep bed as a paper."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.counsel.deep_bed import DeepBed
from advisor.papers.paper import Paper
from advisor.papers.sections import Section, first_of_all, take_care


def paper(answer: DeepBed) -> Paper:
    """The answer as a paper."""
    return Paper(f"A deep bed for {answer.weeks:g} weeks", tuple(_parts(answer)))


def _parts(answer: DeepBed) -> Iterator[Section]:
    """The parts of the answer, in the order they are read."""
    yield first_of_all(answer.cautions)
    yield Section("The animals", answer.animals)
    yield Section("Lay down", tuple(each.line for each in answer.laid))
    yield Section("The bed", answer.bed)
    yield Section("In spring", answer.spring)
    yield Section("What is short", answer.short)
    yield take_care(answer.cautions)
