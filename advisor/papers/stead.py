"""What stands in for manure, as a page of plain text."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from advisor.counsel.stead import Substitutes
from advisor.papers.answer import answer_page
from advisor.papers.paper import Paper
from advisor.papers.sections import Section


def stead_page(
    answer: Substitutes, *, width: int = 80, colour: bool = False, why: Collection[str] | None = None
) -> str:
    """The options as text; see answer_page for the arguments."""
    made = paper(answer)
    return answer_page(made.title, made.parts, width=width, colour=colour, why=why)


def paper(answer: Substitutes) -> Paper:
    """The same as a paper."""
    return Paper("In the place of manure", tuple(sections(answer)))


def sections(answer: Substitutes) -> Iterator[Section]:
    """The parts of the answer, in the order they are read."""
    yield Section("What is asked for", (answer.asked,))
    yield Section("First of all", tuple(line for line in answer.cautions if line.id.startswith("g")), grave=True)
    for one in answer.options:
        yield Section(f"Way {one.name}", (one.line, *(part.line for part in one.parts)))
        yield Section("  what manure brings besides", (*one.makes_up, *one.food_lines()))
        yield Section("  what to look out for", one.risks)
        yield Section("  how much of a heap it may be", one.shares)
        yield Section("  do this to it first", one.prepare)
    yield Section(
        "Take care", (*answer.mind, *(line for line in answer.cautions if not line.id.startswith("g"))), care=True
    )
    yield Section("Keep out", answer.stays_out)
