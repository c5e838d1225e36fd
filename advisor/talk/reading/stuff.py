"""Readings of a sentence as stuff on hand: names of materials with their amounts."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.household.names import measures_index
from advisor.household.quantities import Amount, amount_at
from advisor.household.rates import rate_at
from advisor.household.tokens import DASHES, longest
from advisor.household.words import OTHER_UNITS, PACKING
from advisor.talk.reading.found import MEASURED, NAMELESS, UNKNOWN, Found, Scope, Stuff
from advisor.talk.reading.things import Thing

Masked = tuple[tuple[int, int], ...]

_SEPARATORS = frozenset({"to", ",", ":", "(", "=", "-", "–", "—", "→", "x", "is", "are", "about"})
_ALTERNATIVES = frozenset({",", "or", "nor"})
_MOST_LIKELY = 4  # words of a clause that is read as one name


class StuffFinder:
    """Finds materials and amounts in a sentence."""

    def __init__(self, scope: Scope) -> None:
        self.scope = scope
        self.reader = scope.reader
        self.line = scope.line
        self.sentence = scope.sentence

    def stuff(self, at: int) -> Iterator[Found]:
        """Materials and amounts that begin at a word."""
        lexicon = self.reader.lexicon
        start, masked = self.past(at, lexicon.more)
        if start >= self.sentence.end or (self.line.words[start].mark and not self.is_minus(start)):
            return
        counted = self.reader.amount(start)
        if counted is not None:
            yield from self.counted(at, start, masked, *counted)
        behind = self.rated(start)
        later = self.reader.amount(behind) if start < behind < self.sentence.end else None
        if later is not None:
            yield from self.counted(at, behind, masked, *later)
        thing = self.reader.thing(start)
        if thing is not None:
            yield from self.named(at, masked, thing)
        if counted is None and not masked:
            yield from self.likely(at)

    def is_minus(self, at: int) -> bool:
        """Whether this is the sign of a number below nought."""
        words = self.line.words
        touches = at + 1 < self.sentence.end and words[at + 1].start == words[at].end
        if words[at].form not in DASHES or not touches or words[at + 1].mark:
            return False
        return at == 0 or words[at - 1].end < words[at].start

    def past(self, at: int, words: frozenset[str]) -> tuple[int, Masked]:
        """Past words of a set, and the stretch they take up."""
        end = at
        while end < self.sentence.end and self.line.forms[end] in words:
            end += 1
        return end, ((at, end),) if end > at else ()

    def counted(self, at: int, start: int, masked: Masked, amount: Amount, end: int) -> Iterator[Found]:
        """An amount, with the name that follows it if one does."""
        behind, extra = self.past(end, self.reader.lexicon.more)
        if extra and not amount.measured and behind < self.sentence.end:
            tokens = (
                *self.line.tokens[: self.line.words[end].token],
                *self.line.tokens[self.line.words[behind].token :],
            )
            again = amount_at(tokens, self.line.words[start].token, measures_index(self.reader.knowledge))
            if again is not None and again.measured:
                skipped = self.line.words[behind].token - self.line.words[end].token
                amount, behind = again, self.line.word_of[again.end + skipped]
                behind, _ = self.past(behind, self.reader.lexicon.more)
        if behind > self.sentence.end:
            return
        if amount.bare and behind < self.sentence.end:
            unit = longest(self.line.tokens, self.line.words[behind].token, OTHER_UNITS, 2)
            behind = self.line.word_of[unit[1]] if unit is not None else behind
        masked += extra
        more = bool(masked)
        name_at = self.rated(behind)
        if name_at < self.sentence.end and name_at != behind and self.line.forms[name_at] == "of":
            name_at += 1
        thing = self.reader.thing(name_at) if name_at < self.sentence.end else None
        if thing is not None:
            others = self.others(thing.end) if amount.count.none else ()
            last = self.tail(others[-1].end if others else thing.end)
            named_end = others[-1].end if others else thing.end
            stuff = Stuff(amount, thing, (*masked, (name_at, named_end)), more, amount.measured, others)
            yield Found(at, last, self.scope.weight(at, last) + MEASURED * amount.measured, stuff)
            return
        if not amount.measured or amount.count.none:
            return
        last = self.tail(behind)
        yield Found(at, last, self.scope.weight(at, last) + NAMELESS, Stuff(amount, None, masked, more, True))
        if name_at < self.sentence.end:
            unknown = self.reader.qualified(name_at) or next(iter(self.reader.unknown(name_at)), None)
            if unknown is not None:
                last = self.tail(unknown.end)
                weight = self.scope.weight(at, last) - (1 - UNKNOWN) * (unknown.end - name_at)
                yield Found(at, last, weight, Stuff(amount, unknown, (*masked, (name_at, unknown.end)), more, True))

    def others(self, at: int) -> tuple[Thing, ...]:
        """The rest of the list in "no manure, straw or hay"; nothing if no "or" is in it."""
        found: list[Thing] = []
        choice = False
        while at + 1 < self.sentence.end and self.line.forms[at] in _ALTERNATIVES:
            choice = choice or self.line.forms[at] != ","
            at += 2 if self.line.forms[at] == "," and self.line.forms[at + 1] in _ALTERNATIVES else 1
            choice = choice or self.line.forms[at - 1] != ","
            thing = self.reader.thing(at) if at < self.sentence.end else None
            if thing is None:
                break
            found.append(thing)
            at = thing.end
        return tuple(found) if choice else ()

    def named(self, at: int, masked: Masked, thing: Thing) -> Iterator[Found]:
        """A name, with the amount that follows it if one does: "grass, 2 barrows"."""
        last = self.tail(thing.end)
        rate = last > thing.end
        yield Found(at, last, self.scope.weight(at, last), Stuff(None, thing, (*masked, (at, thing.end)), bool(masked)))
        begin = thing.end
        while begin < self.sentence.end and begin in self.scope.aside:
            begin += 1
        separators = [begin]
        while len(separators) < 3 and separators[-1] < self.sentence.end:
            if self.line.forms[separators[-1]] not in _SEPARATORS:
                break
            separators.append(separators[-1] + 1)
        for place in separators:
            counted = self.reader.amount(place) if place < self.sentence.end and not rate else None
            if counted is None or self.line.words[place].mark:
                continue
            amount, end = counted
            leads_on = self.line.tokens[amount.end - 1].key == "of" or (
                end < self.sentence.end and self.reader.thing(end) is not None
            )
            told = amount.measured or amount.count.none or (amount.unit is not None and place > thing.end)
            if leads_on or not told:
                continue
            end = self.tail(end)
            if end < self.sentence.end and self.line.forms[end] == ")":
                end += 1
            stuff = Stuff(amount, thing, (*masked, (at, place)), bool(masked), amount.measured)
            yield Found(at, end, self.scope.weight(at, end) + MEASURED, stuff)

    def likely(self, at: int) -> Iterator[Found]:
        """A clause of words that are all in names of ours, though not together: "old bedding"."""
        first, last = self.scope.clause(at)
        thing = self.reader.thing(at)
        rest = range(thing.end if thing is not None else last, last)
        if thing is not None and not (rest and all(self.is_of_a_name(place) for place in rest)):
            return
        if not self.scope.is_alone(at, last) or last - at > _MOST_LIKELY or self.reader.is_filler(at):
            return
        words = self.line.words[at:last]
        if last == first or any(word.mark for word in words) or self.scope.aside & set(range(at, last)):
            return
        named: set[int] = set()
        for place in range(at, last):
            within = self.reader.thing(place)
            named.update(range(place, within.end) if within is not None else ())
        if any(word.form in self.reader.lexicon.common for place, word in enumerate(words, at) if place not in named):
            return
        known = all(word.key in self.reader.materials.vocabulary for word in words)
        if named or (known and len(words) > 1 and words[-1].key in self.reader.lexicon.heads):
            unknown = Thing(at, last, (), at, sure=False)
            weight = self.scope.weight(at, last) - MEASURED if named else UNKNOWN * (last - at)
            yield Found(at, last, weight, Stuff(None, unknown, ((at, last),)))

    def is_of_a_name(self, at: int) -> bool:
        """Whether a word behind a name can only be more of it: the roots in "couch grass roots"."""
        return self.reader.is_plain(at) and at not in self.scope.aside and self.reader.thing(at) is None

    def rated(self, at: int) -> int:
        """Past "a week", if it stands there."""
        if at >= self.sentence.end:
            return at
        rate = rate_at(self.line.tokens, self.line.words[at].token)
        return self.line.word_of[rate.end] if rate is not None else at

    def tail(self, at: int) -> int:
        """Past how often it comes, and how it is packed."""
        for _ in range(2):
            at = min(self.rated(at), self.sentence.end)
            place = at + 1 if at < self.sentence.end and self.line.forms[at] == "," else at
            if place < self.sentence.end:
                packed = longest(self.line.tokens, self.line.words[place].token, PACKING, 3, str)
                at = self.line.word_of[packed[1]] if packed is not None else at
        return min(at, self.sentence.end)
