"""Circumstances told in the words of an answer, and what a line comes for: ways that count by what else is said."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.hearing.cutting import Clause
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.meanings import Door, Told
from advisor.hearing.shapes import Asked, HeardDoor

#: The value of a fact that is the figure found in its way of saying: "<litres>", "<number>".
_FIGURES = {"<litres>": "litres", "<number>": "number"}


def told_in(finder: Finder, clause: Clause, attribute: str) -> Iterator[Hit]:
    """The circumstances that a clause tells.

    Args:
        attribute: the fact that the open question asks for; empty if it asks for none.
    """
    for hit in finder.hits(finder.vocabulary.told_index, clause.start, clause.end):
        told = hit.of
        if not isinstance(told, Told) or (told.asked and told.concept.facts[0][0] != attribute):
            continue
        if told.whole and _is_of_a_door(finder, hit, clause):
            continue  # "count worms" names no worm bin
        if not told.whole or is_alone(finder, clause.start, clause.end, hit):
            yield Hit(hit.start, hit.end, told.concept, hit.way)


def _is_of_a_door(finder: Finder, hit: Hit, clause: Clause) -> bool:
    """Whether a way of saying is only a part of what a person comes for."""
    size = hit.end - hit.start
    doors = finder.hits(finder.vocabulary.door_index, clause.start, clause.end)
    return any(door.start <= hit.start and hit.end <= door.end and door.end - door.start > size for door in doors)


def figure_in(finder: Finder, hit: Hit, value: str) -> str:
    """The value of a fact: the figure in its way of saying where it stands for one."""
    form = _FIGURES.get(value)
    if form is None:
        return value
    found = (finder.figure(form, at) for at in range(hit.start, hit.end))
    worth = next((one[0] for one in found if one is not None), None)
    return "" if worth is None else f"{round(worth, 2):g}" if worth < 1e5 else f"{worth:.2f}"


def doors(finder: Finder, asked: Asked) -> tuple[HeardDoor, ...]:
    """What a line comes for or asks of the talk itself, in order; of ways that overlap, the longest."""
    found: list[Hit] = []
    for sentence in finder.line.sentences:
        hits = finder.hits(finder.vocabulary.door_index, sentence.start, sentence.end)
        found += [hit for hit in hits if _is_meant(finder, hit, asked)]
    kept: list[Hit] = []
    for hit in sorted(found, key=lambda one: (one.start - one.end, not _is_whole(one), one.start)):
        if not any(hit.start < other.end and other.start < hit.end for other in kept):
            kept.append(hit)
    return tuple(_heard(finder, hit) for hit in sorted(kept, key=lambda one: one.start))


def _is_whole(hit: Hit) -> bool:
    return isinstance(hit.of, Door) and hit.of.whole


def _heard(finder: Finder, hit: Hit) -> HeardDoor:
    door, words = hit.of, finder.line.words
    name, request = (door.name, door.request) if isinstance(door, Door) else ("", False)
    said = finder.line.said(hit.start, hit.end)
    return HeardDoor(name, request, said, words[hit.start].start, words[hit.end - 1].end)


def _goes_on(finder: Finder, at: int) -> bool:
    """Whether something to compost follows, of which it is said: "how to compost cardboard"."""
    return at in finder.materials and not finder.things("stock-shy", at)


def _is_meant(finder: Finder, hit: Hit, asked: Asked) -> bool:
    door = hit.of
    if not isinstance(door, Door) or (door.first and asked.begun):
        return False
    clause = finder.line.clause_of(hit.start)
    behind = max(finder.things("stock-the", hit.end), default=hit.end) if hit.end < clause.end else hit.end
    if not door.request and _goes_on(finder, behind):
        return False
    return not door.whole or is_alone(finder, clause.start, max(clause.end, hit.end), hit)


_MARKS = frozenset(".,!?:;'\"-()…")
#: What parts the pieces of a clause that are each told by themselves.
_PARTING = frozenset({",", "and", "but", "then", "plus", "or", "so", "&", "nor", ";"})


def is_alone(finder: Finder, start: int, end: int, hit: Hit) -> bool:
    """Whether a stretch says nothing but one way of saying, small words and asides aside; a comma or "and" ends it."""
    words = finder.line.words
    first, last = hit.start, hit.end
    while first > start and words[first - 1].form not in _PARTING:
        first -= 1
    while last < end and words[last].form not in _PARTING:
        last += 1
    covered = {at for at in range(first, last) if words[at].form in _MARKS or finder.things("stock-small", at)}
    for name in ("stock-aside", "stock-supposing", "stock-correcting"):
        for at in range(first, last):
            behind = max(finder.things(name, at), default=at)
            if behind <= hit.start or at >= hit.end:  # "last summer" says more than "summer"
                covered.update(range(at, behind))
    return all(at in covered or hit.start <= at < hit.end for at in range(first, last))
