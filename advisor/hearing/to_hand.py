"""Whether a line only tells what stuff there is, so that "dry", "wet" or "stinking" in it is said of the stuff."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.english import listed
from advisor.hearing.facts import things_in
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.questions import asking
from advisor.hearing.shapes import Fact, HeardAmount, HeardMaterial

#: Said of stuff that lies to hand, these are no signs of a heap.
_LOOKS = ("sign.moisture", "sign.smell", "sign.looks", "sign.pieces", "sign.size", "sign.plants", "sign.texture")
#: A line that tells one of these speaks of more than stuff.
_OF_MORE = ("sign.neighbours", "sign.worms", "sign.effects", "sign.liquid", "sign.bucket")
_VESSELS = frozenset({"heap", "bin", "worm bin", "fermented bucket", "tumbler", "leaf heap", "trench"})
_STANDS_FOR_HEAP = listed("it she her")
_OF_IT = listed("of all with to on for under up about at from get gets got use using used")  # "of it", "use it"
_HOLDS = listed("of 's worth full")
_NAMED_FIRST = 4  # words, within which a clause that is all of stuff names it
_SAYING = ("acts-saying", "acts-doing")


def only_tells_stuff(finder: Finder) -> bool:
    """Whether a line names stuff, with how much there is or as all that a clause says, and no heap or vessel."""
    return finder.once(("only-tells-stuff", 0), lambda: _only_tells_stuff(finder))


def _only_tells_stuff(finder: Finder) -> bool:
    line = finder.line
    telling = [clause for clause in line.clauses if not asking(line, clause)]
    if not any(_tells(finder, clause) for clause in telling):
        return False
    if any(str(hit.of) in _VESSELS and not is_measure(finder, hit) for one in line.clauses for hit in things_in(finder, one)):
        return False
    return not any(_stands_for_heap(finder, at) for at in range(len(line.words)))


def _tells(finder: Finder, clause: Clause) -> bool:
    """Whether a clause tells stuff by an amount or a word of having beside it, or names it first and says no more."""
    span = range(clause.start, clause.end)
    stuff = [at for at in span if finder.things("stuff", at) and not finder.things("compost", at)]
    if not stuff or any(finder.things("acts-did", at) and at == clause.start for at in span):
        return False
    if any(finder.things(name, at) for name in ("having", "acts-lacking", "amount", "acts-amount", "stock-plenty") for at in span):
        return True
    words = [at for at in span if not finder.line.words[at].mark]
    return stuff[0] in words[:_NAMED_FIRST] and not any(finder.things(name, at) for name in _SAYING for at in span)


def _stands_for_heap(finder: Finder, at: int) -> bool:
    words = finder.line.words
    if words[at].form not in _STANDS_FOR_HEAP:
        return False
    before = words[at - 1].form if at else ""
    behind = words[at + 1].form if at + 1 < len(words) else ""
    return before not in _OF_IT and behind not in ("all",)


def is_measure(finder: Finder, hit: Hit) -> bool:
    """Whether a vessel is only how much there is: "half a bin of comfrey", "a wheelie bin's worth", "a heap of hay"."""
    words = finder.line.words
    behind = words[hit.end].form if hit.end < len(words) else ""
    if behind in _HOLDS or any(finder.things("stuff", at) for at in range(hit.start, hit.end)):
        return True
    counted = hit.start > 0 and (hit.start - 1 in finder.numbers or words[hit.start - 1].form in ("half", "½"))
    return counted and bool(hit.end < len(words) and finder.things("stuff", hit.end))


def without_looks(finder: Finder, found: Sequence[Fact]) -> list[Fact]:
    """The facts of a line without signs that are said of stuff to hand, and vessels that only measure it."""
    kept = [fact for fact in found if not _is_measuring(finder, fact)]
    if not only_tells_stuff(finder) or any(fact.name.startswith(_OF_MORE) for fact in kept):
        return kept
    if any(fact.name.startswith("deed.") and fact.stance == "told" for fact in kept):
        return kept
    return [fact for fact in kept if not fact.name.startswith(_LOOKS)]


def _is_measuring(finder: Finder, fact: Fact) -> bool:
    if fact.name != "place.container":
        return False
    words = finder.line.words
    at = next((at for at, word in enumerate(words) if word.start <= fact.start < word.end), 0)
    end = next((at + 1 for at, word in enumerate(words) if word.start < fact.end <= word.end), at + 1)
    return is_measure(finder, Hit(at, end, None)) if end > at else False  # type: ignore[arg-type]


def without_measures(materials: Sequence[HeardMaterial], held: Sequence[HeardAmount]) -> Iterator[HeardMaterial]:
    """The materials of a line without what only measures another: the bags of "two bin bags of leaves"."""
    for one in materials:
        inside = [
            amount
            for amount in held
            if amount.start <= one.start and one.end < amount.end and amount.ids and amount.ids != one.ids
        ]
        names = {other.ids for other in materials if other is not one}
        if not any(amount.ids in names and one.end < amount.end for amount in inside):
            yield one
