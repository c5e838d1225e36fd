"""Herbs, starters and minerals for a heap, as a paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.counsel.additions import Addition, Additions
from advisor.papers.paper import Paper
from advisor.papers.sections import Section, first_of_all, take_care


def paper(answer: Additions) -> Paper:
    """The answer as a paper."""
    return Paper(f"By the handful, for {answer.household}", tuple(_parts(answer)))


def _parts(answer: Additions) -> Iterator[Section]:
    """The parts of the answer, in the order they are read."""
    yield first_of_all(answer.cautions)
    yield Section("The heap", (answer.heap,))
    yield _section("Herbs", answer.herbs)
    yield Section("Steeped in rainwater", answer.steeping)
    yield _section("Starters", answer.starters)
    yield _section("Minerals", answer.minerals)
    yield _section("Not in this heap", answer.leave)
    yield Section("Keep out", answer.stays_out)
    yield take_care(answer.cautions)


def _section(title: str, additions: Sequence[Addition]) -> Section:
    return Section(title, tuple(line for one in additions for line in (one.line, *one.mind)))
