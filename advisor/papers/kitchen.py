"""What a kitchen comes to in a year, as a page of plain text."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from advisor.counsel.kitchen_shapes import Kitchen
from advisor.papers.answer import answer_page
from advisor.papers.paper import Paper
from advisor.papers.sections import Section


def kitchen_page(answer: Kitchen, *, width: int = 80, colour: bool = False, why: Collection[str] | None = None) -> str:
    """The kitchen's year as text; see answer_page for the arguments."""
    made = paper(answer)
    return answer_page(made.title, made.parts, width=width, colour=colour, why=why)


def paper(answer: Kitchen) -> Paper:
    """The same as a paper."""
    return Paper(f"A kitchen's year: {answer.household}", tuple(sections(answer)))


def sections(answer: Kitchen) -> Iterator[Section]:
    """The parts of the answer, in the order they are read."""
    yield Section("First of all", tuple(line for line in answer.cautions if line.id.startswith("g")), grave=True)
    yield Section("What the kitchen gives", answer.scraps)
    yield Section("What suits best", (answer.choice,))
    yield Section("In fermented buckets", (*answer.bucket.lines, *answer.bucket.gives.lines))
    yield Section("In a worm bin", (*answer.worms.lines, *answer.worms.gives.lines))
    yield Section("Comfrey in a tub", answer.comfrey)
    yield Section("Take care", tuple(line for line in answer.cautions if not line.id.startswith("g")), care=True)
