"""One reading of a stretch of words, and the sentence it is found in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from advisor.household.counts import Count
from advisor.household.quantities import Amount
from advisor.household.shapes import Room
from advisor.talk.reading.lexicon import Asides, Entry
from advisor.talk.reading.line import Sentence, bounds
from advisor.talk.reading.patterns import Captures, match
from advisor.talk.reading.things import Reader, Thing

#: What a reading weighs beside its words. The heaviest readings that fit together stand, so that longer ones beat
#: shorter ones, a name with its amount beats the name, and an answer to the open question beats everything.
PICKED: Final = 1.5
ASKED: Final = 0.6  # for each of its words
FRAMED: Final = 0.4
ALONE: Final = 0.3
SAID: Final = 0.2
MEASURED: Final = 0.1
NAMELESS: Final = -0.5
ASIDE: Final = -0.1
FILLER: Final = 0.25  # a word of small talk, where any other weighs 1
UNKNOWN: Final = 0.4  # a word of a name that is none of ours
PIECE: Final = -0.4  # for each reading, so that of two ways the one in fewer pieces stands

_ARTICLES = frozenset({"a", "an", "the", "my", "our", "it", "we", "i"})
_SUBJECTS = _ARTICLES | frozenset({"you", "they", "this", "that", "these", "those", "there", "one", "he", "she", "any"})
_AUXILIARIES = frozenset(
    {"can", "could", "should", "would", "will", "do", "doe", "did", "is", "are", "may", "might", "must", "shall", "am"}
)


@dataclass(frozen=True, slots=True)
class Stuff:
    """A material with its amount, either of which may be missing.

    Attributes:
        masked: words that say neither how much nor how often, from one up to another.
        more: it comes on top of what was said before.
        measured: a measure or unit was said.
        others: more names of which it is said, too, that there is none.
    """

    amount: Amount | None
    thing: Thing | None
    masked: tuple[tuple[int, int], ...] = ()
    more: bool = False
    measured: bool = False
    others: tuple[Thing, ...] = ()


@dataclass(frozen=True, slots=True)
class Area:
    """Ground in square metres; `land` if it was told in acres or hectares."""

    square_metres: float
    land: bool


@dataclass(frozen=True, slots=True)
class Picked:
    """The number of an option, from 1."""

    number: int


@dataclass(frozen=True, slots=True)
class Named:
    """The name of a line that can be asked why."""

    line: str


@dataclass(frozen=True, slots=True)
class PartOf:
    """A part of the amount before it: how much, and the word at which what it is called begins."""

    count: Count
    start: int


@dataclass(frozen=True, slots=True)
class Phrase:
    """An entry of the lexicon, with what its places hold."""

    entry: Entry
    captures: Captures


@dataclass(frozen=True, slots=True)
class Found:
    """One reading of the words from `start` up to `end`; of readings that overlap, the weightier stands."""

    start: int
    end: int
    weight: float
    what: Stuff | PartOf | Phrase | Room | Area | Picked | Named

    @property
    def bare(self) -> bool:
        """Whether it is a name and nothing more, which may be no news at all."""
        return isinstance(self.what, Stuff) and self.what.amount is None


class Scope:
    """A sentence in which readings are looked for."""

    def __init__(self, reader: Reader, sentence: Sentence) -> None:
        self.reader = reader
        self.line = reader.line
        self.sentence = sentence
        self.clauses = bounds(self.line, sentence, reader.lexicon.parting)
        self.asking = not reader.supposing and self._is_asking()
        self.hypothetical = not reader.supposing and self._opens_with(_AUXILIARIES)
        self.aside = self._asides()

    def clause(self, at: int) -> tuple[int, int]:
        """The clause of a word."""
        return self.clauses[at - self.sentence.start]

    def is_alone(self, start: int, end: int, asides: bool = True) -> bool:
        """Whether the clause says nothing but these words, small talk aside, and asides too."""
        first, last = self.clause(start)[0], self.clause(end - 1)[1]
        around = (*range(first, start), *range(end, last))
        return all(self.reader.is_filler(at) or (asides and at in self.aside) for at in around)

    def weight(self, start: int, end: int) -> float:
        """The words that a reading accounts for, less a little, so that of two ways the one in fewer pieces stands."""
        filler = sum(1 for at in range(start, end) if self.reader.is_filler(at) or self.line.words[at].mark)
        return (end - start - filler) + FILLER * filler + PIECE

    def asked(self, start: int, end: int) -> float:
        """What the words weigh beside that, if they answer the open question."""
        return ASKED * (self.weight(start, end) - PIECE)

    def _opens_with(self, words: frozenset[str]) -> bool:
        """Whether the sentence opens with one of these words and a subject, as a question does."""
        at = self.sentence.start
        while at < self.sentence.end and self.reader.is_filler(at) and self.line.forms[at] not in words | _SUBJECTS:
            at += 1
        if at + 1 >= self.sentence.end or self.line.forms[at] not in words:
            return False
        return self.line.forms[at + 1] in _SUBJECTS or self.reader.thing(at + 1) is not None

    def _is_asking(self) -> bool:
        at = self.sentence.start
        while at < self.sentence.end and self.reader.is_filler(at):
            at += 1
        asks = at < self.sentence.end and self.line.forms[at] in self.reader.lexicon.asking
        return self.sentence.asks or asks or self._opens_with(_AUXILIARIES)

    def _asides(self) -> frozenset[int]:
        """The words that belong to what stands beside them."""
        covered: set[int] = set()
        for at in range(self.sentence.start, self.sentence.end):
            for entry in self.reader.lexicon.by_first.get(self.line.forms[at], ()):
                if isinstance(entry.meaning, Asides):
                    matched = match(entry.pattern, self.line.forms, at, _nothing)
                    covered.update(range(at, min(matched[0], self.sentence.end)) if matched is not None else ())
        return frozenset(covered)


def _nothing(place: str, at: int) -> Sequence[tuple[int, Any]]:  # noqa: ARG001  (what patterns ask to be given)
    """No place can be filled in an aside."""
    return ()
