"""What a kitchen comes to in a year, as a paper."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.counsel.kitchen_shapes import Kitchen
from advisor.papers.paper import Paper
from advisor.papers.sections import Section, first_of_all, take_care


def paper(answer: Kitchen) -> Paper:
    """The answer as a paper."""
    return Paper(f"A kitchen's year: {answer.household}", tuple(_parts(answer)))


def _parts(answer: Kitchen) -> Iterator[Section]:
    """The parts of the answer, in the order they are read."""
    yield first_of_all(answer.cautions)
    yield Section("What the kitchen gives", answer.scraps)
    yield Section("What suits best", (answer.choice,))
    yield Section("In fermented buckets", (*answer.bucket.lines, *answer.bucket.gives.lines))
    yield Section("In a worm bin", (*answer.worms.lines, *answer.worms.gives.lines))
    yield Section("Comfrey in a tub", answer.comfrey)
    yield take_care(answer.cautions)
