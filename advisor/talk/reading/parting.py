"""A part of an amount that was just named: "3 sacks of leaves, 2 of them oak", "4 bags of hay, half of it straw"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from advisor.errors import HouseholdError
from advisor.household.counts import Count, count_at
from advisor.household.shapes import Holding, Quantity
from advisor.talk.intents import Have, Intent, Unclear
from advisor.talk.reading.found import Found, PartOf, Scope, Stuff
from advisor.talk.reading.holdings import Holdings
from advisor.talk.reading.losing import quoted
from advisor.talk.reading.things import Reader

_POINTERS = frozenset({"them", "it", "those", "that", "these", "which"})
_LINKS = frozenset({"is", "are", "was", "were", "being", "a", "the"})
_MOST_WORDS = 4  # in what the part is called
_NOTHING = 1e-9


class PartFinder:
    """Finds parts in a sentence."""

    def __init__(self, scope: Scope) -> None:
        self.scope = scope
        self.reader, self.line, self.sentence = scope.reader, scope.line, scope.sentence

    def parts(self, at: int) -> Iterator[Found]:
        """A part that begins at a word, if an amount stands before it."""
        counted = self.counted(at)
        if counted is None or not self.follows_an_amount(at):
            return
        count, start = counted
        end = start
        while end < min(self.sentence.end, start + _MOST_WORDS) and self.is_of_the_name(end):
            end += 1
        # what it is called reaches no further than the names of ours: "2 of them oak" in "2 of them oak in the shed"
        if end > start:
            yield Found(at, end, self.scope.weight(at, end) + 1.0, PartOf(count, start))

    def counted(self, at: int) -> tuple[Count, int] | None:
        """How much of it: the count, and the word at which the name begins; "of which 2 are" is the same."""
        forms, end = self.line.forms, self.sentence.end
        first = at
        if forms[at : at + 2] == ("of", "which"):
            at += 2
        if at >= end or self.line.words[at].mark:
            return None
        found = count_at(self.line.tokens, self.line.words[at].token)
        if found is None or found[0].none or found[0].negative or found[0].vague:
            return None
        place = self.line.word_of[found[1]]
        if at == first:
            place += place < end and forms[place] == "of"
            if place >= end or forms[place] not in _POINTERS:
                return None
            place += 1
        while place < end and forms[place] in _LINKS:
            place += 1
        return (found[0], place) if place < end else None

    def follows_an_amount(self, at: int) -> bool:
        before = (self.reader.amount(place) for place in range(self.sentence.start, at))
        return any(amount is not None and amount[0].measured for amount in before)

    def is_of_the_name(self, at: int) -> bool:
        word = self.line.words[at]
        plain = not word.mark and word.form not in self.reader.lexicon.parting
        return plain and (word.key in self.reader.materials.vocabulary or word.form in self.reader.lexicon.states)


def parted(
    reader: Reader, whole: Found, told: Sequence[Intent], found: Found, part: PartOf
) -> tuple[list[Intent], list[Intent]] | None:
    """What a whole and its part mean; nothing if the part is none of ours, or more than the whole.

    Args:
        told: what the whole means without it. A whole without a name of ours stays lost, but its part need not.
    """
    stuff = whole.what
    if not isinstance(stuff, Stuff) or len(told) != 1:
        return None
    name = reader.line.words[stuff.thing.name_start : stuff.thing.end] if stuff.thing is not None else ()
    material = called(reader, tuple(word.key for word in name), part.start, found.end)
    meant = told[0] if isinstance(told[0], Have | Unclear) else None
    holding = meant.holding if meant is not None else None
    quantity = holding.quantity if holding is not None else _amount(reader, whole, stuff)
    divided = _divided(quantity, part.count) if quantity is not None else None
    if material is None or divided is None:
        return None
    rest, share = divided
    said = quoted(reader, whole.start, found.end)
    piece = Have(Holding(material, share, said), reader.line.span(found.start, found.end), stuff.more)
    if meant is None or holding is None:
        return list(told), [piece]
    sharp = isinstance(meant, Have)
    if (sharp and material == holding.material) or rest.high <= _NOTHING:  # all of it is the same stuff
        all_of_it = Holding(material, holding.quantity, said)
        return [], [replace(piece, holding=all_of_it, span=reader.line.span(whole.start, found.end))]
    return [_less(meant, holding, rest, material)], [piece]


def _less(meant: Have | Unclear, holding: Holding, rest: Quantity, named: str) -> Intent:
    """What is left of a whole; where it is one of many, the part that has been named is not asked about again."""
    if isinstance(meant, Have):
        return replace(meant, holding=replace(holding, quantity=rest))
    others = tuple(name for name in meant.readings if name != named)
    readings = others if len(others) > 1 else meant.readings
    return replace(meant, readings=readings, holding=Holding(readings[0], rest, holding.said))


def _amount(reader: Reader, whole: Found, stuff: Stuff) -> Quantity | None:
    """The amount of a whole without a name of ours."""
    if stuff.amount is None:
        return None
    try:
        return Holdings(reader, False).amount(whole, stuff).quantity
    except HouseholdError:
        return None


def called(reader: Reader, name: tuple[str, ...], start: int, end: int) -> str | None:
    """The material that a part is: a kind of the whole ("wet" leaves), or another with a name of its own ("straw")."""
    exact = reader.materials.exact
    for first in range(start, end):
        keys = tuple(word.key for word in reader.line.words[first:end])
        for behind in (name, name[-1:], ()):
            ids = exact.get((*keys, *behind), ()) if behind or keys else ()
            if len(ids) == 1:
                return ids[0]
    return None


def _divided(quantity: Quantity, count: Count) -> tuple[Quantity, Quantity] | None:
    """What is left, and the part: a share of it ("half"), or so many in the same measure, which is no more than all."""
    if count.part:
        share = _times(quantity, count.value)
        return _times(quantity, 1 - count.value), share
    share = replace(quantity, count=count.value, low=count.low, high=count.high)
    if count.value > quantity.high + _NOTHING:
        return None
    rest = max(0.0, quantity.count - count.value)
    low, high = max(0.0, quantity.low - count.high), max(rest, quantity.high - count.low)
    return replace(quantity, count=rest, low=min(low, rest), high=high), share


def _times(quantity: Quantity, factor: float) -> Quantity:
    count, low, high = quantity.count * factor, quantity.low * factor, quantity.high * factor
    return replace(quantity, count=count, low=low, high=high)
