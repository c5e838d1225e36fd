"""Everything that each stretch of a sentence may mean."""

from __future__ import annotations

from advisor.talk.reading.entries import EntryFinder
from advisor.talk.reading.found import Found, Phrase, Scope
from advisor.talk.reading.lexicon import Doors, Signs
from advisor.talk.reading.numbers import NumberFinder
from advisor.talk.reading.parting import PartFinder
from advisor.talk.reading.stuff import StuffFinder


def find(scope: Scope) -> tuple[list[Found], list[Found]]:
    """Readings that exclude one another where they overlap, and readings that stand beside them."""
    entries, stuff, numbers, parts = EntryFinder(scope), StuffFinder(scope), NumberFinder(scope), PartFinder(scope)
    rivals: list[Found] = []
    beside: list[Found] = []
    in_trouble = scope.reader.context.attribute.startswith("sign.")
    for at in range(scope.sentence.start, scope.sentence.end):
        for each in entries.entries(at):
            stands_beside = isinstance(each.what, Phrase) and each.what.entry.beside
            by_name = is_sign(each, named=True) and not in_trouble
            (beside if stands_beside or by_name else rivals).append(each)
        rivals += stuff.stuff(at)
        rivals += parts.parts(at)
        if not scope.line.words[at].mark:
            rivals += numbers.sizes(at)
            rivals += numbers.picks(at)
    return [each for each in rivals if each.end <= scope.sentence.end], _widest(beside)


def is_sign(found: Found, named: bool) -> bool:
    """Whether this is a sign of trouble: one of those with a name of their own, or any other."""
    meaning = found.what.entry.meaning if isinstance(found.what, Phrase) else None
    return isinstance(meaning, Signs) and bool(meaning.attribute) == named


def is_door_of_trouble(found: Found) -> bool:
    return isinstance(found.what, Phrase) and found.what.entry.meaning == Doors("trouble")


def holds(outer: Found, inner: Found) -> bool:
    return outer.start <= inner.start and inner.end <= outer.end


def _widest(beside: list[Found]) -> list[Found]:
    """Without those that lie within another: "rotten egg" in "rotten eggs or a drain"."""
    places = {(each.start, each.end) for each in beside}
    return [
        each
        for each in beside
        if not any(
            first <= each.start and each.end <= last and (first, last) != (each.start, each.end)
            for first, last in places
        )
    ]
