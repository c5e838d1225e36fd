"""Whether a clause tells what there is to compost: a material with an amount, with a word of having or lacking, or in a list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.finding import Finder
from advisor.hearing.questions import Asking
from advisor.hearing.shapes import Fact

_NEAR = 4  # words between an amount and what it is an amount of
_LONGEST_BARE = 9  # words of a clause without a verb that only lists


def tells_stock(finder: Finder, facts: Sequence[Fact], asks: Mapping[int, Asking], other: set[int]) -> bool:
    """Whether a line tells what there is.

    Args:
        finder, facts, asks: of the line.
        other: where the clauses begin that are something else already, such as a deed or a command.
    """
    return any(
        not asks[clause.start] and clause.start not in other and _is_stock(finder, facts, clause)
        for clause in finder.line.clauses
    )


def _is_stock(finder: Finder, facts: Sequence[Fact], clause: Clause) -> bool:
    span = range(clause.start, clause.end)
    stuff = [at for at in span if finder.things("stuff", at)]
    if not stuff or any(finder.things("acts-doing", at) for at in span):
        return False
    words = finder.line.words
    first, last = words[clause.start].start, words[clause.end - 1].end
    concepts = finder.vocabulary.concepts
    here = [fact for fact in facts if first <= fact.start < last and fact.stance == "told" and fact.concept in concepts]
    if any(concepts[fact.concept].deed or concepts[fact.concept].bad for fact in here):
        return False
    if any(finder.things(name, at) for name in ("having", "acts-lacking") for at in span):
        return True
    counted = [end for at in span for end in (*finder.things("amount", at), *finder.things("acts-amount", at))]
    if any(0 <= at - end <= _NEAR or at < end for end in counted for at in stuff):
        return True
    many = len(stuff) > 1 and not any(finder.things("acts-saying", at) for at in span)
    return many and len(span) <= _LONGEST_BARE + 2 * len(stuff)
