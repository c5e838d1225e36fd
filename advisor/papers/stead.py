"""What to use instead of manure, as a paper."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.counsel.stead import Substitutes
from advisor.papers.paper import Paper
from advisor.papers.sections import Section, first_of_all, take_care


def paper(answer: Substitutes) -> Paper:
    """The answer as a paper."""
    return Paper("Instead of manure", tuple(_parts(answer)))


def _parts(answer: Substitutes) -> Iterator[Section]:
    """The parts of the answer, in the order they are read."""
    yield Section("What is asked for", (answer.asked,))
    yield first_of_all(answer.cautions)
    for one in answer.options:
        yield Section(f"Choice {one.name}", (one.line, *(part.line for part in one.parts)))
        yield Section("  what else manure brings", (*one.makes_up, *one.food_lines()))
        yield Section("  what to look out for", one.risks)
        yield Section("  how much of a heap it can be", one.shares)
        yield Section("  do this to it first", one.prepare)
    yield take_care(answer.cautions, before=answer.mind)
    yield Section("Keep out", answer.stays_out)
