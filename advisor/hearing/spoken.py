"""Amounts and sizes in a line by its words: counts, household measures, exact volumes, lengths, rates."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from advisor.hearing.cutting import Line
from advisor.hearing.sizes import length_at, litres_at
from advisor.household.counts import count_at
from advisor.household.names import Index, measures_index
from advisor.household.quantities import Amount, amount_at, measure_at, uncounted_at
from advisor.household.rates import Rate, rate_at
from advisor.household.tokens import Token, longest, tokenize
from advisor.household.words import OTHER_UNITS, PACKING, TIMES
from advisor.knowledge.base import Knowledge

#: What a way of saying can name by its form.
FORMS = ("number", "count", "litres", "length", "measure")


@dataclass
class Spoken:
    """The words of a line as tokens of amounts, those put right that were slips of the pen.

    Words and tokens are counted each for themselves: "30l" is two words and two tokens, "1 1/2" four words and two
    tokens. Every place that goes in or comes out is that of a word.
    """

    line: Line
    knowledge: Knowledge
    tokens: tuple[Token, ...] = ()
    _token_of: tuple[int, ...] = ()
    _word_of: tuple[int, ...] = ()
    _amounts: dict[int, tuple[Amount, int] | None] = field(default_factory=dict)
    _figures: dict[tuple[str, int], tuple[float, int] | None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        words = self.line.words
        meant: dict[tuple[int, int], str] = {}
        doubled: set[tuple[int, int]] = set()
        for word in words:
            place = word.start, word.end
            doubled.update({place} & meant.keys())
            meant[place] = word.form
        found = []
        for token in tokenize(self.line.text):
            place = token.start, token.end
            form = meant.get(place, "")
            right = token.kind == "word" and form.isalpha() and place not in doubled
            found.append(replace(token, key=form) if right else token)
        self.tokens = tuple(found)
        self._token_of = tuple(self._at_or_after([(token.start, token.end) for token in found], words))
        self._word_of = tuple(self._at_or_after([(word.start, word.end) for word in words], found))

    @staticmethod
    def _at_or_after(of: list[tuple[int, int]], marked: tuple | list) -> list[int]:  # type: ignore[type-arg]
        """For each of some stretches, and for the end, the first of others that does not end before it begins."""
        found, at = [], 0
        for one in marked:
            while at < len(of) and of[at][1] <= one.start:
                at += 1
            found.append(at)
        return [*found, len(of)]

    def token(self, at: int) -> int:
        """The token of a word."""
        return self._token_of[at]

    def word(self, token: int) -> int:
        """The first word at or behind a token."""
        return self._word_of[token]

    def begins(self, at: int) -> bool:
        """Whether a token begins at a word, and hangs on no other: "r2" is no 2, but "10x40" has two numbers."""
        words = self.line.words
        token = self.token(at)
        if token >= len(self.tokens) or self.tokens[token].start != words[at].start:
            return False
        if at > 0 and words[at - 1].start == words[at].start:
            return False
        before = self.tokens[token - 1] if token else None
        hangs = before is not None and before.kind == "word" and before.end == self.tokens[token].start
        return not (hangs and self.tokens[token].kind == "number" and before.key not in TIMES)  # type: ignore[union-attr]

    @property
    def measures(self) -> Index:
        """The household measures by name."""
        return measures_index(self.knowledge)

    def amount(self, at: int) -> tuple[Amount, int] | None:
        """The amount that begins at a word, counted or not ("bucket of grounds"), with the word behind it."""
        if at not in self._amounts:
            self._amounts[at] = self._amount(at)
        return self._amounts[at]

    def _amount(self, at: int) -> tuple[Amount, int] | None:
        if not self.begins(at):
            return None
        token = self.token(at)
        found = amount_at(self.tokens, token, self.measures)
        if found is None and measure_at(self.tokens, token, self.measures) is not None:
            found = uncounted_at(self.tokens, token, self.measures)
        return (found, self.word(found.end)) if found is not None else None

    def rate(self, at: int) -> tuple[Rate, int] | None:
        """How often, if it begins at a word: "a week", "every two days"."""
        if at >= len(self.line.words) or not self.begins(at):
            return None
        found = rate_at(self.tokens, self.token(at))
        return (found, self.word(found.end)) if found is not None else None

    def packing(self, at: int) -> tuple[bool, int] | None:
        """Whether it is pressed down, if that begins at a word: "well packed", "loose"."""
        if at >= len(self.line.words) or not self.begins(at):
            return None
        found = longest(self.tokens, self.token(at), PACKING, 3, str)
        return (found[0], self.word(found[1])) if found is not None else None

    def other_unit(self, at: int) -> tuple[str, int] | None:
        """A unit that is no volume and no weight, if it begins at a word: "metres", "°C"."""
        if at >= len(self.line.words) or not self.begins(at):
            return None
        found = longest(self.tokens, self.token(at), OTHER_UNITS, 2)
        return (found[0], self.word(found[1])) if found is not None else None

    def figure(self, form: str, at: int) -> tuple[float, int] | None:
        """The worth of a count, a volume in litres, a length in metres, or a measure (1) that begins at a word."""
        key = (form, at)
        if key not in self._figures:
            self._figures[key] = self._figure(form, at) if self.begins(at) else None
        return self._figures[key]

    def _figure(self, form: str, at: int) -> tuple[float, int] | None:
        token = self.token(at)
        if form == "count":
            counted = count_at(self.tokens, token)
            if counted is None or counted[0].none:
                return None
            end = self.word(counted[1])
            of = end < len(self.line.words) and self.line.words[end].form == "of"
            return counted[0].value, end + of
        if form == "litres":
            volume = litres_at(self.tokens, token)
            return (volume[0], self.word(volume[1])) if volume is not None else None
        if form == "length":
            length = length_at(self.tokens, token)
            told = length is not None and length.unit is not None
            return (length.metres(), self.word(length.end)) if told and length is not None else None
        measure = measure_at(self.tokens, token, self.measures)
        return (1.0, self.word(measure[1])) if measure is not None else None
