"""Whether a clause tells what there is to compost: a material with an amount, words of having or lacking, or a list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.facts import VESSELS, things_in
from advisor.hearing.finding import Finder
from advisor.hearing.questions import Asking
from advisor.hearing.shapes import Fact

#: Signs that only say what there is of one kind.
HELD = ("sign.holds", "sign.bedding")
_NEAR = 6  # words between an amount, or a word of having, and what it is of
_LEAST_SHARE = 0.4  # of the words of a bare list that name something to compost


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


def names_stuff(finder: Finder, not_in: set[int]) -> bool:
    """Whether a line names something to compost and no vessel: said of nothing else, it tells what there is."""
    vessels = VESSELS - {"trench"} | {"plants", "soil"}
    clauses = finder.line.clauses
    if any(str(hit.of) in vessels for clause in clauses for hit in things_in(finder, clause)):
        return False
    return any(
        finder.things("stuff", at) and not _is_place(finder, clause, at)
        for clause in clauses
        if clause.start not in not_in
        for at in range(clause.start, clause.end)
    )


def _is_stock(finder: Finder, facts: Sequence[Fact], clause: Clause) -> bool:
    span = range(clause.start, clause.end)
    stuff = [at for at in span if finder.things("stuff", at) and not _is_place(finder, clause, at)]
    if not stuff or any(finder.things("acts-doing", at) for at in span):
        return False
    words = finder.line.words
    first, last = words[clause.start].start, words[clause.end - 1].end
    concepts = finder.vocabulary.concepts
    here = [fact for fact in facts if first <= fact.start < last and fact.stance == "told" and fact.concept in concepts]
    counted = [
        (at, end)
        for name in ("having", "acts-lacking", "amount", "acts-amount")
        for at in span
        for end in finder.things(name, at)
    ]
    signs = [(fact.start, fact.end) for fact in here if fact.name.startswith("sign.") and fact.name not in HELD]
    stuff = [at for at in stuff if not any(start <= words[at].start < end for start, end in signs)]
    listed = any(finder.things(name, clause.start) for name in ("amount", "acts-amount"))
    telling = [fact for fact in here if fact.name not in HELD and not fact.name.startswith("material.")]
    if not listed and any(concepts[fact.concept].deed or concepts[fact.concept].bad for fact in telling):
        return False
    if any(-_NEAR <= at - end <= _NEAR or start <= at < end for start, end in counted for at in stuff):
        return True
    if any(finder.things("acts-saying", at) for at in span):
        return False
    covered = {at for start in stuff for at in range(start, max(finder.things("stuff", start)))}
    return len(stuff) > 1 and len(covered) >= _LEAST_SHARE * len(span)


def _is_place(finder: Finder, clause: Clause, at: int) -> bool:
    """Whether what names a material is part of the name of a place or vessel, or is compost or soil itself."""
    return any(hit.start <= at < hit.end and str(hit.of) in _PLACES for hit in things_in(finder, clause))


_PLACES = VESSELS - {"fermented bucket"} | {"soil", "compost", "weather"}
