"""Names and amounts as they stand in a line: each with its words, before they are put together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from advisor.hearing.cutting import Clause, Sentence
from advisor.hearing.english import listed
from advisor.hearing.finding import Finder, Named
from advisor.household.names import find_material, materials_index
from advisor.household.quantities import Amount, amount_at
from advisor.household.rates import Rate
from advisor.household.tokens import DASHES, singular
from advisor.records import dataclass

_MOST_ADJECTIVES = 3
_MOST_STATES = 3  # words between a name and what is said of its state
_RELATIVES = frozenset({"that", "which", "is", "are", "they", "but", "all", "still", "so", "very", "quite", ","})
#: No name reaches over one of these.
_PARTING = listed(
    "and but then plus or so because while although though nor except if is are was were has have had not no"
)


@dataclass(frozen=True, slots=True)
class Name:
    """A name from the word where "the" or "some" leads up to it.

    Attributes:
        first: the word at which the name itself begins.
        sure: whether every word of it was understood.
    """

    start: int
    first: int
    end: int
    named: Named
    sure: bool = True


@dataclass(frozen=True, slots=True)
class Counted:
    """An amount with what stands around it: how often it comes, how it is packed, and whether it comes on top."""

    start: int
    end: int
    amount: Amount
    rates: tuple[Rate, ...] = ()
    packed: bool | None = None
    more: bool = False


@dataclass
class Stuff:
    """Finds names and amounts in a sentence."""

    finder: Finder
    sentence: Sentence

    def past(self, name: str, at: int) -> int:
        """Past all words of a class."""
        while at < self.sentence.end:
            ends = [end for end in self.finder.things(name, at) if end <= self.sentence.end]
            if not ends:
                break
            at = max(ends)
        return at

    def name(self, at: int) -> Name | None:
        """The name that begins at a word, behind "the", "some" and words that change nothing about it."""
        start = self.past("stock-the", at)
        first, worked = start, -1  # "torn card" is said back as that
        while first < min(start + _MOST_ADJECTIVES, self.sentence.end):
            named = self.finder.named_at(first)
            if named is not None and named.end <= self.sentence.end:
                return self.with_state(Name(at, first if worked < 0 else worked, named.end, named))
            idle = self.finder.things("stock-idle", first)
            if not idle:
                return None
            if worked < 0 and self.finder.things("stock-worked", first):
                worked = first
            first = max(idle)
        return None

    def qualified(self, at: int) -> Name | None:
        """A name behind words that may change what it is: "sopping wet leaves"."""
        start = self.past("stock-the", at)
        for first in range(start + 1, min(start + 1 + _MOST_ADJECTIVES, self.sentence.end)):
            before = self.finder.line.words[first - 1]
            if before.mark or before.form in _PARTING or self.finder.things("stock-the", first - 1):
                return None
            named = self.finder.named_at(first)
            if named is not None and named.end <= self.sentence.end:
                return self.searched(at, start, named.end) or Name(at, first, named.end, named, sure=False)
        return self.searched(at, start, self._end_of_phrase(start))

    def _end_of_phrase(self, start: int) -> int:
        words = self.finder.line.words
        end = start
        while end < min(self.sentence.end, start + _MOST_ADJECTIVES):
            if words[end].mark or words[end].form in _PARTING or self.finder.things("stock-small", end):
                break
            end += 1
        return end

    def searched(self, at: int, start: int, end: int) -> Name | None:
        """A stretch looked up by likeness: with one reading or several, if at least half of its words are in names."""
        index = materials_index(self.finder.knowledge)
        words = self.finder.line.words[start:end]
        if not words or any(end <= behind for behind in self.finder.things("no-stuff", start)):
            return None
        match = find_material(self.finder.line.said(start, end), self.finder.knowledge)
        if match.found:
            return Name(at, start, end, Named(start, end, (match.id,)))
        known = sum(singular(word.form) in index.vocabulary for word in words)
        if match.kind != "ask" or 2 * known < len(words):
            return None
        return Name(at, start, end, Named(start, end, match.candidates), sure=False)

    def with_state(self, name: Name) -> Name:
        """ "Leaves that are soaking wet" are wet leaves, if there is such a name."""
        words = self.finder.line.words
        at = name.end
        while at < self.sentence.end and words[at].form in _RELATIVES and at < name.end + _MOST_STATES:
            at += 1
        keys = tuple(singular(word.form) for word in words[name.first : name.end])
        for end in range(at + 1, min(at + _MOST_STATES, self.sentence.end) + 1):
            if not self.finder.things("stock-state", end - 1):
                break
            ids = materials_index(self.finder.knowledge).exact.get((singular(words[end - 1].form), *keys))
            if ids:
                return replace(name, end=end, named=Named(name.first, end, ids))
        return name

    def counted(self, at: int) -> Counted | None:
        """The amount that begins at a word, or behind "another", with its rate and packing."""
        start = self.past("stock-more", at)
        more = start > at
        rates: tuple[Rate, ...] = ()
        if start >= self.sentence.end:
            return None
        found = self.finder.spoken.amount(start) if not self._is_mark(start) else None
        if found is None or not found[0].measured:
            before = self.finder.spoken.rate(start)
            later = (
                self.finder.spoken.amount(before[1]) if before is not None and before[1] < self.sentence.end else None
            )
            if before is not None and later is not None and later[0].measured:
                found, rates = later, (before[0],)
        if found is None:
            return None
        amount, end = found
        again = self._over_more(amount, start, end)
        if again is not None:
            (amount, end), more = again, True
        if end > self.sentence.end:
            return None
        return self.with_tail(Counted(at, end, amount, rates, None, more))

    def _over_more(self, amount: Amount, start: int, end: int) -> tuple[Amount, int] | None:
        """ "2 more sacks": the amount with the words between its count and its measure left out."""
        behind = self.past("stock-more", end)
        if behind == end or amount.measured or behind >= self.sentence.end:
            return None
        spoken = self.finder.spoken
        skipped = spoken.token(behind) - spoken.token(end)
        tokens = (*spoken.tokens[: spoken.token(end)], *spoken.tokens[spoken.token(behind) :])
        found = amount_at(tokens, spoken.token(start), spoken.measures)
        if found is None or not found.measured:
            return None
        return found, self.past("stock-more", spoken.word(found.end + skipped))

    def _is_mark(self, at: int) -> bool:
        """Whether a word is a mark, but for the sign of a number below zero."""
        words = self.finder.line.words
        if not words[at].mark:
            return False
        touches = at + 1 < self.sentence.end and words[at + 1].start == words[at].end and not words[at + 1].mark
        parted = at == 0 or words[at - 1].end < words[at].start
        return not (words[at].form in DASHES and touches and parted)

    def with_tail(self, counted: Counted) -> Counted:
        """With how often it comes and how it is packed, where that stands behind it."""
        at, rates, packed = counted.end, counted.rates, counted.packed
        words = self.finder.line.words
        for _ in range(2):
            rate = self._rate_behind(at)
            if rate is not None:
                rates, at = (*rates, rate[0]), rate[1]
            place = at + 1 if at < self.sentence.end and words[at].form == "," else at
            press = self.finder.spoken.packing(place) if place < self.sentence.end else None
            if press is not None and press[1] <= self.sentence.end:
                packed, at = press[0], press[1]
        return replace(counted, end=at, rates=rates, packed=packed)

    def _rate_behind(self, at: int) -> tuple[Rate, int] | None:
        """How often it comes, directly behind an amount or behind where it is from: "from the cafe every week"."""
        while at < self.sentence.end:
            rate = self.finder.spoken.rate(at)
            if rate is not None and rate[1] <= self.sentence.end:
                return rate
            ends = [end for end in self.finder.things("stock-aside", at) if end <= self.sentence.end]
            if not ends:
                return None
            at = max(ends)
        return None

    def is_on_top(self, start: int, end: int, clause: Clause) -> bool:
        """Whether "also" or "on top" is said of a stretch in its part of the clause, and not "as well as"."""
        words = self.finder.line.words
        first, last = start, end
        while first > clause.start and not words[first - 1].mark:
            first -= 1
        while last < clause.end and not words[last].mark and last not in self.finder.materials:
            last += 1
        for at in (*range(first, start), *range(end, last)):
            ends = self.finder.things("stock-on-top", at)
            if ends and not (max(ends) < len(words) and words[max(ends)].form == "as"):
                return True
        return False

    def forms(self, start: int, end: int) -> tuple[str, ...]:
        """The words from one up to another."""
        return tuple(word.form for word in self.finder.line.words[start:end])

    def covered(self, name: str, at: int) -> Iterator[int]:
        """The words of the longest way of a class that begins at a word."""
        yield from range(at, max((end for end in self.finder.things(name, at)), default=at))


def joins(forms: Sequence[str]) -> bool:
    """Whether nothing but "and", commas and the like stands between two things of a list."""
    return all(form in _JOINING for form in forms)


_JOINING = frozenset({",", "and", "or", "nor", "&", "+", "plus", "the", "my", "our", "any", "some", "a"})
