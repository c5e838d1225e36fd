"""What a line becomes: facts with their stance, materials, what it is about and what kind of thing it is."""

from __future__ import annotations

from dataclasses import field

from advisor.hearing.times import When
from advisor.household.shapes import Quantity, Room
from advisor.records import dataclass


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
        likened: whether it only says what something looks, feels or smells like: "like ash".
    """

    ids: tuple[str, ...]
    said: str
    stance: str
    start: int
    end: int
    qualifiers: tuple[str, ...] = ()
    likened: bool = False


@dataclass(frozen=True, slots=True)
class HeardAmount:
    """What a line says of how much there is of a material.

    Attributes:
        ids: the materials that its name may stand for; none if only an amount was said.
        name: the words of the name.
        said: all the words.
        stance: "told", "asked", "supposed" ...; that there is none is told by `kind`.
        start, end: its characters in the line.
        kind: "have", "none" (there is none of it), "less" (so much of it is gone, or all), or "used" (so much went).
        quantity: how much; nothing if no usable amount was said.
        share: a share of what there is, where no measure was said: "half the leaves".
        measured: whether a measure was said, and not only a vague word.
        more: whether it comes on top of what was said before.
        sure: whether the whole name was understood.
        offered: how many of the ids are readings to ask about.
        trouble: why the amount cannot be taken as it stands.
        beside: whether it is said to be to hand, and not to be in a heap.
    """

    ids: tuple[str, ...]
    name: str
    said: str
    stance: str
    start: int
    end: int
    kind: str = "have"
    quantity: Quantity | None = None
    share: float | None = None
    measured: bool = False
    more: bool = False
    sure: bool = True
    offered: int = 6
    trouble: str = ""
    beside: bool = False


@dataclass(frozen=True, slots=True)
class HeardSize:
    """A size that a line tells: a ground plan or an area of ground, or what a measure of their own holds.

    Attributes:
        room: a ground plan.
        square_metres: an area; `land` if it was told in acres or hectares.
        measure, litres: a household measure and what it holds.
        sure: whether units or decimals show that two numbers are a ground plan.
    """

    said: str
    stance: str
    start: int
    end: int
    room: Room | None = None
    square_metres: float = 0.0
    land: bool = False
    measure: str = ""
    litres: float = 0.0
    sure: bool = True


@dataclass(frozen=True, slots=True)
class HeardSwap:
    """One material in the place of another: what either name may stand for, the names, and all the words."""

    old: tuple[str, ...]
    new: tuple[str, ...]
    old_name: str
    new_name: str
    said: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class HeardDoor:
    """What a line comes for, or asks of the talk itself: the name of the door or request, and the words that say so."""

    name: str
    request: bool
    said: str
    start: int
    end: int


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
        attribute: the fact that it asks for; empty if it asks for none.
        begun: whether something was told before, so that the talk is not at its start.
    """

    question: str = ""
    options: tuple[str, ...] = ()
    about: str = ""
    also: tuple[tuple[str, ...], ...] = ()
    many: bool = True
    attribute: str = ""
    begun: bool = True


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
        numbered: whether the options were picked by their numbers.
        amounts: how much there is, in order.
        sizes: sizes of ground and of measures, in order.
        doors: what it comes for or asks of the talk, in order.
        correcting: whether it puts right what was said before.
        swaps: materials that take the place of others, in order.
        courtesy: "thanks" or "greeting", if that is all it is.
        over: whether it says that a danger is past: help came, it is out, everybody is well.
        place: the kind of place that it shows in passing, by the words of place.space; empty if none.
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
    numbered: bool = False
    amounts: tuple[HeardAmount, ...] = ()
    sizes: tuple[HeardSize, ...] = ()
    doors: tuple[HeardDoor, ...] = ()
    correcting: bool = False
    swaps: tuple[HeardSwap, ...] = ()
    over: bool = False
    courtesy: str = ""
    place: str = ""

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
