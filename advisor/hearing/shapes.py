"""What a line becomes: facts with their stance, materials, what it is about and what kind of thing it is."""

from __future__ import annotations

from dataclasses import dataclass, field

from advisor.hearing.times import When

Pair = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Fact:
    """Something a line states, or mentions without stating it.

    Attributes:
        name: "sign.smell", "deed.turned" ...
        value: one of the words of that name, or a figure.
        stance: "told", "denied", "asked", "supposed", "past" or "other" (somebody else's).
        said: the words that say it.
        concept: the concept of rules/words/ that was said; empty for figures.
        because: the words that made it other than told; empty if it is told.
        about: the thing it is said of; empty if the line does not say.
        start, end: its characters in the line.
    """

    name: str
    value: str
    stance: str
    said: str
    concept: str = ""
    because: str = ""
    about: str = ""
    start: int = 0
    end: int = 0


@dataclass(frozen=True, slots=True)
class HeardMaterial:
    """A material that a line names.

    Attributes:
        ids: the materials that its name may stand for.
        said: the words.
        stance: "told", "denied", "asked", "supposed", "past" or "other" (somebody else's).
        start, end: its characters in the line.
        qualifiers: what is said of it that makes it another thing: "sprayed", "treated", "hot" ...
    """

    ids: tuple[str, ...]
    said: str
    stance: str
    start: int
    end: int
    qualifiers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HeardDanger:
    """Something that can hurt somebody: the danger's name, what it is a case of, and the words that say so."""

    name: str
    kind: str
    said: str


@dataclass(frozen=True, slots=True)
class Asked:
    """The question that stands open when a line is said.

    Attributes:
        question: its words.
        options: what it offers, as worded on the screen.
        about: the thing that was spoken of last; empty if none.
        also: other words for each of the options, in their order.
        many: whether several of them may hold.
    """

    question: str = ""
    options: tuple[str, ...] = ()
    about: str = ""
    also: tuple[tuple[str, ...], ...] = ()
    many: bool = True


@dataclass(frozen=True, slots=True)
class Question:
    """Something that a line asks.

    Attributes:
        act: what kind of question it is.
        topic: what it asks for, by the names of [topic] in rules/words/; empty if none of them.
        said: its words.
        materials: the materials it names.
    """

    act: str
    topic: str
    said: str
    materials: tuple[HeardMaterial, ...] = ()


@dataclass(frozen=True, slots=True)
class Heard:
    """How a line is read.

    Attributes:
        acts: what kinds of thing it is, in the order in which they are answered.
        about: which thing it is about, by the names of rules/words/things.toml; "none" if about nothing of the trade.
        facts: what it states or mentions, in order.
        dangers: what is told as present or just done, the gravest first.
        feared: dangers that are asked after, feared or supposed, the gravest first; none of them is told.
        options: numbers, from 1, of the options of the open question that it picks.
        unread: words that carry meaning and were not used.
        asked: what it asks, in order.
        named: whether it is nothing but an option's own words, or numbers of options.
        sure: whether the options are what most of it speaks of.
        unknown: whether it answers the open question with "I don't know".
        yes: whether it says yes or no to the open question; None if neither.
    """

    text: str
    acts: tuple[str, ...]
    about: str
    facts: tuple[Fact, ...] = ()
    materials: tuple[HeardMaterial, ...] = ()
    dangers: tuple[HeardDanger, ...] = ()
    feared: tuple[HeardDanger, ...] = ()
    options: tuple[int, ...] = ()
    unread: tuple[str, ...] = ()
    pieces: tuple[Piece, ...] = ()
    times: tuple[When, ...] = ()
    asked: tuple[Question, ...] = ()
    unknown: bool = False
    yes: bool | None = None
    named: bool = False
    sure: bool = False

    @property
    def told(self) -> tuple[Fact, ...]:
        """The facts that the line states as true now."""
        return tuple(fact for fact in self.facts if fact.stance == "told")


@dataclass(frozen=True, slots=True)
class Piece:
    """A clause, for whoever wants to see how it was read: its words, whether it asks, what it is about, its forms."""

    said: str
    asks: str = ""
    about: str = ""
    forms: tuple[str, ...] = field(default_factory=tuple)
