"""The shape of rules/phrases.toml."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from advisor.knowledge.shapes import Id, Shape
from advisor.talk.intents import Door, Request

#: The places a pattern may have.
#:   count      how many: "two", "a few", "lots of"
#:   number     a plain number; "number 15 90" is one from 15 to 90
#:   litres     an exact volume, in litres
#:   length     a length, in metres; "length 0 10" is one from nought to ten
#:   measure    a household measure by its name
#:   stuff      one or more materials: "citrus, bread or ash"
#:   part       the same, each with its amount: "2 buckets of grass"
#:   thing      one material; "old" and "new" are the same, for swaps
#:   rest       all that is left of the sentence
PLACES = ("count", "number", "litres", "length", "measure", "stuff", "part", "thing", "old", "new", "rest")

#: Sentences with places, and what they ask for.
#:   what-if    the plan as it would be if the rest were so
#:   about      what of the rest: a material asked about, or a what-if
#:   ask        whether a material may go in
#:   without    there is none of it, or no more of it
#:   less       there is so much less of it; none of it where no amount is said
#:   used       there is so much less of what is on hand
#:   swap       <new> in the place of <old>
#:   why        why the rest is so
#:   measure    how much a measure of their own holds
#:   wanted     stuff that is looked for, not on hand
Frame = Literal["what-if", "about", "ask", "without", "less", "used", "swap", "why", "measure", "wanted"]


class PhraseText(Shape):
    """Patterns, and when they are read.

    Attributes:
        say: read wherever they stand.
        alone: read where their clause says nothing else, small talk aside.
        asked: read while the question they answer is open, wherever they stand.
        asked_alone: read while it is open, where their clause says nothing else.
        beside: they say something more about words that are read otherwise too.
        first: read only at the start of the talk, with nothing on hand yet and no question open.
    """

    say: tuple[str, ...] = ()
    alone: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()
    asked_alone: tuple[str, ...] = ()
    beside: bool = False
    first: bool = False


class AnswerText(PhraseText):
    """An answer to a question: one value, several that hold at once, or two of which it is not clear which.

    Attributes:
        place: the place of the patterns whose value is the answer, or a second answer, to `second`.
        in_questions: read in questions too ("can I do this on a balcony?").
    """

    attribute: str
    value: str = ""
    values: tuple[str, ...] = ()
    either: tuple[str, ...] = ()
    place: str = ""
    second: str = ""
    in_questions: bool = False


class RequestText(PhraseText):
    """Something asked of the talk itself."""

    request: Request


class DoorText(PhraseText):
    """What the person came for."""

    door: Door


class FrameText(PhraseText):
    """A sentence with places."""

    frame: Frame


class Group(Shape):
    """A word for many materials: those with a trait, or those that play a part."""

    say: tuple[str, ...] = Field(min_length=1)
    trait: str = ""
    role: str = ""
    readings: tuple[Id, ...] = Field(min_length=2)  # what is offered when one of them must be meant


class SmallTalk(Shape):
    """Words that carry no news.

    Attributes:
        words: may stand anywhere and be passed over.
        asides: patterns that belong to what stands beside them: "from the garden".
        correcting: such patterns that put right what was said: "make that".
        idle: before the name of a material, they do not change what it is.
        states: behind the name of a material, they do: "leaves, soaking wet".
        more: say that an amount comes on top, where they stand before it or its measure.
        on_top: say so beside it.
        parting: part clauses, as a comma does.
        asking: begin a question.
        shy: names of materials that mean the material only with an amount, or alone.
    """

    words: tuple[str, ...] = ()
    asides: tuple[str, ...] = ()
    correcting: tuple[str, ...] = ()
    idle: tuple[str, ...] = ()
    states: tuple[str, ...] = ()
    more: tuple[str, ...] = ()
    on_top: tuple[str, ...] = ()
    parting: tuple[str, ...] = ()
    asking: tuple[str, ...] = ()
    shy: tuple[str, ...] = ()


class Common(Shape):
    """Words that are none of ours, so that they are not taken for slips of the pen."""

    words: tuple[str, ...] = ()


class PhraseFile(Shape):
    """All of rules/phrases.toml."""

    spelling: dict[str, str] = Field(default_factory=dict)
    lists: dict[str, tuple[str, ...]] = Field(default_factory=dict)
    ordinals: tuple[tuple[str, ...], ...] = ()
    small_talk: SmallTalk = Field(default_factory=SmallTalk)
    common: Common = Field(default_factory=Common)
    implied: dict[Id, Id] = Field(default_factory=dict)
    answer: tuple[AnswerText, ...] = ()
    request: tuple[RequestText, ...] = ()
    door: tuple[DoorText, ...] = ()
    sign: tuple[PhraseText, ...] = ()
    frame: tuple[FrameText, ...] = ()
    group: tuple[Group, ...] = ()
    near: dict[str, dict[str, tuple[str, ...]]] = Field(default_factory=dict)
    """Other words for what the sheets offer: by attribute and value."""
