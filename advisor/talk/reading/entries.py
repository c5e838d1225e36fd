"""Readings of a sentence that are written in the lexicon."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

from advisor.household.counts import count_at, value_at
from advisor.household.names import measures_index
from advisor.household.quantities import measure_at
from advisor.talk.reading.found import ALONE, ASIDE, FRAMED, SAID, UNKNOWN, Found, Phrase, Scope
from advisor.talk.reading.lexicon import Answers, Asides, Entry, Frames, Signs
from advisor.talk.reading.patterns import match
from advisor.talk.reading.sizes import length_at, litres_at
from advisor.talk.reading.things import Thing

_OPEN_FRAMES = frozenset({"what-if", "about", "why"})  # they hold a sentence, which holds no other of them
_STRANGE = 0.3
_SPELLED_OUT = 0.05
_NEGATED_VERBS = frozenset({"do", "doe", "did", "can", "could", "will", "would", "should", "is", "am", "are"})
_NEGATIONS = frozenset({"not", "no", "never", "without", "nor", "neither", "hardly"})
_ARTICLES = frozenset({"a", "an", "the", "my", "our", "it", "we", "i"})


class EntryFinder:
    """Finds the entries of the lexicon in a sentence."""

    def __init__(self, scope: Scope) -> None:
        self.scope = scope
        self.reader = scope.reader
        self.line = scope.line
        self.sentence = scope.sentence
        said = frozenset(self.line.forms[self.sentence.start : self.sentence.end])
        by_place = [entry for entry in self.reader.lexicon.by_place if all(said & each for each in entry.needs)]
        self.by_place = tuple(entry for entry in by_place if self.may_be(entry))
        self.by_first: dict[str, tuple[Entry, ...]] = {}
        self.filled: dict[tuple[str, int], Sequence[tuple[int, Any]]] = {}
        self.sizes: dict[tuple[str, int], tuple[Any, int] | None] = {}

    def entries(self, at: int) -> Iterator[Found]:
        """The entries that begin at a word."""
        for entry in (*self.beginning_with(self.line.forms[at]), *self.by_place):
            matched = match(entry.pattern, self.line.forms, at, self.fill)
            if matched is None or matched[0] > self.sentence.end:
                continue
            end, captures = matched
            if self.holds(entry, at, end):
                strange = sum(_unknown_words(value) for _, value in captures)
                weight = self.scope.weight(at, end) + self.bonus(entry)
                weight -= (1 - UNKNOWN) * strange + (_STRANGE if strange else 0.0)
                if isinstance(entry.meaning, Answers) and entry.meaning.attribute == self.reader.context.attribute:
                    weight += self.scope.asked(at, end)
                if not captures:
                    weight += _SPELLED_OUT
                yield Found(at, end, weight, Phrase(entry, captures))

    def beginning_with(self, form: str) -> tuple[Entry, ...]:
        """The entries that may be read and begin with a word."""
        if form not in self.by_first:
            entries = self.reader.lexicon.by_first.get(form, ())
            self.by_first[form] = tuple(entry for entry in entries if self.may_be(entry))
        return self.by_first[form]

    def may_be(self, entry: Entry) -> bool:
        """Whether an entry can be read at all as the talk stands."""
        context = self.reader.context
        if self.reader.supposing and isinstance(entry.meaning, Frames) and entry.meaning.frame in _OPEN_FRAMES:
            return False
        if entry.first and (context.attribute or context.materials):
            return False
        if entry.how in ("asked", "asked-alone"):
            if isinstance(entry.meaning, Signs):
                return True
            return isinstance(entry.meaning, Answers) and entry.meaning.attribute == context.attribute
        return True

    def holds(self, entry: Entry, start: int, end: int) -> bool:
        """Whether an entry that matches is meant."""
        tells = isinstance(entry.meaning, Answers | Signs)
        if entry.how in ("alone", "asked-alone") and not self.scope.is_alone(start, end, asides=tells):
            return False
        if isinstance(entry.meaning, Signs):
            return not (self.scope.hypothetical or self.is_negated(start))
        if isinstance(entry.meaning, Answers):
            asked = entry.meaning.attribute == self.reader.context.attribute
            if self.scope.asking and not entry.in_questions and (self.scope.hypothetical or not asked):
                return False
            return not self.is_negated(start)
        return True

    def is_negated(self, at: int) -> bool:
        """Whether a "not" stands before a word, with nothing but small talk between."""
        first = self.scope.clause(at)[0]
        for place in range(at - 1, max(first, at - 4) - 1, -1):
            if self.line.forms[place] in _NEGATIONS:
                corrects = self.line.forms[place] == "no" and place == first and self.line.forms[place + 1] in _ARTICLES
                return not corrects
            if not self.reader.is_filler(place):
                break
        opening = self.line.forms[first:at]
        return any(pair[0] in _NEGATED_VERBS and pair[1] == "not" for pair in pairwise(opening))

    def bonus(self, entry: Entry) -> float:
        bonus = ALONE if entry.how in ("alone", "asked-alone") else SAID
        if isinstance(entry.meaning, Frames):
            bonus = FRAMED
        elif isinstance(entry.meaning, Asides):
            bonus = ASIDE
        return bonus

    def fill(self, place: str, at: int) -> Sequence[tuple[int, Any]]:
        """What stands at a place of a pattern."""
        if (place, at) not in self.filled:
            self.filled[place, at] = self.fill_anew(place, at)
        return self.filled[place, at]

    def fill_anew(self, place: str, at: int) -> Sequence[tuple[int, Any]]:
        """The same, read for the first time."""
        if at >= self.sentence.end or self.line.words[at].mark:
            return ()
        name, *numbers = place.split()
        if name == "rest":
            return ((self.sentence.end, (at, self.sentence.end)),)
        if name == "stuff":
            return self.reader.stuff(at)
        if name == "part":
            return [found for found in self.reader.stuff(at) if all(thing.counted for thing in found[1])]
        if name in ("thing", "old", "new"):
            known = self.reader.thing(at)
            return [(each.end, each) for each in ((known,) if known is not None else self.reader.unknown(at))]
        return self.measured(name, numbers, at)

    def measured(self, name: str, numbers: Sequence[str], at: int) -> Sequence[tuple[int, Any]]:
        """A count, number, length, volume or household measure, within bounds if there are any."""
        if (name, at) not in self.sizes:
            self.sizes[name, at] = self.size(name, at)
        found = self.sizes[name, at]
        if found is None or (numbers and not float(numbers[0]) <= found[0] <= float(numbers[1])):
            return ()
        end = self.line.word_of[found[1]]
        ends = [(end, found[0])]
        if name == "count" and end < self.sentence.end and self.line.forms[end] == "of":
            ends.append((end + 1, found[0]))
        return ends

    def size(self, name: str, at: int) -> tuple[Any, int] | None:
        """What a place for a size holds, with the token after it."""
        tokens, token = self.line.tokens, self.line.words[at].token
        if name == "count":
            counted = count_at(tokens, token)
            return counted if counted is not None and not counted[0].none else None
        if name == "number":
            valued = value_at(tokens, token)
            return (valued[0].value, valued[1]) if valued is not None else None
        if name == "litres":
            return litres_at(tokens, token)
        if name == "length":
            length = length_at(tokens, token)
            return (length.metres(), length.end) if length is not None and length.unit is not None else None
        return measure_at(tokens, token, measures_index(self.reader.knowledge))


def _unknown_words(value: object) -> int:
    """The words of names that are none of ours, in what stands at a place."""
    things = value if isinstance(value, tuple) else (value,)
    return sum(thing.end - thing.name_start for thing in things if isinstance(thing, Thing) and not thing.ids)
