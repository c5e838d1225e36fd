"""What a person may mean by a line of text: one or several of these, each with its place in the line."""

from __future__ import annotations

from typing import Literal

from advisor.household.shapes import Holding, Quantity, Room
from advisor.knowledge.conditions import Value
from advisor.records import dataclass

Span = tuple[int, int]

#: What can be asked of the talk itself, in any words.
Request = Literal[
    "back",  # take back the last thing said
    "redo",  # put back what was taken back last
    "again",  # start all over
    "save",
    "paper",  # give me that as a page to print
    "calendar",  # put the dates in my calendar
    "plan",  # show the plan
    "else",  # what else could I do
    "metric",
    "us",
    "help",
    "leave",
    "skip",  # I don't know; next question
    "yes",
    "no",
    "list",  # what have I told you so far
    "drop",  # leave what we are at
]

#: What a person may come for. Behind some doors stands a sheet of questions (advisor/talk/sheets).
Door = Literal[
    "start",
    "trouble",
    "no-manure",
    "carry-on",
    "animals",  # a deep bed, and the rows it makes
    "soil",  # what about the soil?
    "more",  # what else?
    "instead",  # what stands in for so much manure
    "handfuls",  # herbs, starters and minerals
    "year",  # a year's plan
    "blend",  # the figures of exactly one mix
    "paces",  # a quick heap beside a slow one
    "heat",  # how hot it may get, and what its readings mean
    "kitchen",  # what so many people's scraps come to
    "ready",
    "spread",
    "check",  # of the soil
    "trends",  # of the checks in the diary
    "seasons",
]


@dataclass(frozen=True, slots=True)
class Have:
    """There is so much of a material. `more` adds to what was said of it before; otherwise it takes its place."""

    holding: Holding
    span: Span
    more: bool = False


@dataclass(frozen=True, slots=True)
class HaveNot:
    """There is none of a material, or of any material with a trait or role ("no manure", "no browns")."""

    materials: tuple[str, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Less:
    """There is so much less of a material: an amount of it, or a share of what there is (0 to 1)."""

    material: str
    taken: Quantity | float
    span: Span


@dataclass(frozen=True, slots=True)
class Told:
    """An answer to a question of rules/questions.toml, asked or not. An attribute with `many` takes several values."""

    attribute: str
    values: tuple[Value, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Unsaid:
    """A sign that holds no more: an attribute of the fact kind `sign`, and its value."""

    attribute: str
    value: Value
    span: Span = (0, 0)


@dataclass(frozen=True, slots=True)
class TellRoom:
    """How much ground there is."""

    room: Room
    span: Span


@dataclass(frozen=True, slots=True)
class TellMeasure:
    """The size of a measure of their own: "my bucket is 12 L"."""

    measure: str
    litres: float
    span: Span


@dataclass(frozen=True, slots=True)
class AskMaterial:
    """Whether, where and how a material may go in: "can I put in citrus?". Several if the word is not sharp."""

    materials: tuple[str, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class AskWhy:
    """Why: of a line by its name ("why r2"), of the question just asked, or of what stands (empty)."""

    about: str
    span: Span


@dataclass(frozen=True, slots=True)
class WhatIf:
    """The plan as it would be if these things were said, without saying them."""

    changes: tuple[Intent, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Swap:
    """One material in place of another, as much by volume."""

    old: str
    new: str
    span: Span


@dataclass(frozen=True, slots=True)
class Ask:
    """A request to the talk itself."""

    request: Request
    span: Span


@dataclass(frozen=True, slots=True)
class Enter:
    """One of the doors: what the person came for."""

    door: Door
    span: Span


@dataclass(frozen=True, slots=True)
class Pick:
    """A number of a list of options on the screen, from 1."""

    number: int
    span: Span


@dataclass(frozen=True, slots=True)
class Unclear:
    """Words with two near readings: "straw, or hay?". Each reading is a material id; `words` are what was said."""

    words: str
    readings: tuple[str, ...]
    span: Span
    holding: Holding | None = None  # the amount, with the first reading as its material


@dataclass(frozen=True, slots=True)
class Vague:
    """A material without a usable amount: it is taken at a guess, or asked about."""

    material: str
    words: str
    span: Span
    trouble: str = ""  # why the amount cannot be taken as it stands
    holding: Holding | None = None  # the guess that the words give: "lots of leaves"


@dataclass(frozen=True, slots=True)
class Lost:
    """Words that could not be placed, with the nearest things they might have been."""

    words: str
    span: Span
    nearest: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CarryOn:
    """A talk that was kept is carried on with, by its number in the diary."""

    talk: int
    span: Span


@dataclass(frozen=True, slots=True)
class LookAtDeed:
    """A deed that is due, by its vessel and its name in rules/today.toml: how it is done and why it is due."""

    vessel: str
    deed: str
    span: Span


@dataclass(frozen=True, slots=True)
class SettleDeed:
    """A deed that was due is "done", "put off" or "skipped"; or stays on the list, if `how` is empty."""

    vessel: str
    deed: str
    how: str
    span: Span


@dataclass(frozen=True, slots=True)
class Which:
    """Words with two near answers to a question: a "yard" may be paved or planted, October may be autumn or spring."""

    attribute: str
    values: tuple[Value, ...]
    words: str
    span: Span


Intent = (
    Have
    | HaveNot
    | Less
    | Told
    | Unsaid
    | TellRoom
    | TellMeasure
    | AskMaterial
    | AskWhy
    | WhatIf
    | Swap
    | Ask
    | Enter
    | Pick
    | Unclear
    | Vague
    | Lost
    | Which
    | CarryOn
    | LookAtDeed
    | SettleDeed
)


@dataclass(frozen=True, slots=True)
class Context:
    """What the talk expects just now, which may settle what a short answer means."""

    attribute: str = ""  # the attribute of the question that stands open
    options: int = 0  # how many numbered options are on the screen
    materials: tuple[str, ...] = ()  # materials on hand
    latest: str = ""  # the material last spoken of: what "no, 3 buckets" corrects
    lines: tuple[str, ...] = ()  # names of the lines that can be asked why
    ails: bool = False  # whether a heap in trouble is talked about
    animals: tuple[str, ...] = ()  # animals kept, by the words of household.animals


@dataclass(frozen=True, slots=True)
class Understood:
    """A line of text and everything it was taken to mean, in order. No word is outside the spans but for small talk."""

    text: str
    intents: tuple[Intent, ...]
