"""Readings of a sentence as sizes of ground, numbers of options and names of lines."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.household.names import measures_index
from advisor.household.quantities import measure_at
from advisor.household.tokens import fold
from advisor.talk.reading.found import ALONE, FRAMED, PICKED, Area, Found, Named, Picked, Scope
from advisor.talk.reading.sizes import area_at, room_at

_PICK_WORDS = frozenset({"option", "number", "answer", "choice", "one", "no", "nr", "st", "nd", "rd", "th"})
_ROOM = "place.room"


class NumberFinder:
    """Finds ground plans, areas, picks and names of lines in a sentence."""

    def __init__(self, scope: Scope) -> None:
        self.scope = scope
        self.reader = scope.reader
        self.line = scope.line
        self.sentence = scope.sentence

    def sizes(self, at: int) -> Iterator[Found]:
        """Ground plans and areas."""
        if at > self.sentence.start and self.line.words[at - 1].token == self.line.words[at].token:
            return
        tokens, token = self.line.tokens, self.line.words[at].token
        asked = self.reader.context.attribute == _ROOM
        room = room_at(tokens, token)
        if room is not None and (asked or room[2]):
            end = self.line.word_of[room[1]]
            if not self.counts_on(end):
                yield Found(at, end, self.scope.weight(at, end) + FRAMED + asked * self.scope.asked(at, end), room[0])
        area = area_at(tokens, token)
        if area is not None:
            end = self.line.word_of[area[1]]
            yield Found(
                at, end, self.scope.weight(at, end) + FRAMED + asked * self.scope.asked(at, end), Area(area[0], area[2])
            )

    def counts_on(self, at: int) -> bool:
        """Whether a measure or a name follows, so that the numbers before it count that."""
        if at >= self.sentence.end:
            return False
        measure = measure_at(self.line.tokens, self.line.words[at].token, measures_index(self.reader.knowledge))
        return measure is not None or self.line.forms[at] == "of"

    def picks(self, at: int) -> Iterator[Found]:
        """Numbers of options, and names of lines that can be asked why."""
        first, last = self.scope.clause(at)
        number = self.number(at)
        if number and all(
            place == at or self.reader.is_filler(place) or self.line.forms[place] in _PICK_WORDS
            for place in range(first, last)
        ):
            yield Found(first, last, self.scope.weight(first, last) + PICKED + ALONE, Picked(number))
        for end in range(at + 1, min(at + 3, last) + 1):
            squashed = "".join(self.line.words[place].form for place in range(at, end))
            for name in self.reader.context.lines:
                if squashed == fold(name) and self.scope.is_alone(at, end):
                    yield Found(at, end, self.scope.weight(at, end) + ALONE, Named(name))

    def number(self, at: int) -> int:
        """The option that a word picks, or nought."""
        options = self.reader.context.options
        word = self.line.words[at]
        if not options or word.mark:
            return 0
        if word.form == "last":
            return options
        found = self.reader.lexicon.ordinals.get(word.form, 0)
        others = (place for place in range(*self.scope.clause(at)) if self.line.forms[place] != "one")
        if word.form == "one" and any(self.number(place) for place in others):
            return 0  # "the second one"
        if not found and self.line.tokens[word.token].kind == "number":
            value = self.line.tokens[word.token].value
            found = int(value) if value.is_integer() and value <= options else 0
        return found if found <= options else 0
