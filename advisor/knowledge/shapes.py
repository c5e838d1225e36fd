"""The shapes of what is written in rules/: every file is checked against these when it is read."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints, model_validator

Id = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$")]
Word = Id
Text = Annotated[str, StringConstraints(min_length=3, strip_whitespace=True)]

#: How a source came to us. `read`: figures were read in it; `memory`: recalled, to be confirmed;
#: `practice`: what the trade does, with no publication to point to; `none`: our own estimate, counted by the lint.
Standing = Literal["read", "memory", "practice", "none"]

#: How good the evidence behind a rule is.
Evidence = Literal["measured", "guidance", "tradition"]


def _tuple_of_one(value: object) -> object:
    return [value] if isinstance(value, str) else value


#: Ids of the bibliography, one or more; a single one may stand without its brackets.
Sources = Annotated[tuple[Id, ...], BeforeValidator(_tuple_of_one), Field(min_length=1)]


class Shape(BaseModel):
    """Frozen, and strict about keys: a misspelt key is an error, never a silence."""

    model_config = ConfigDict(defer_build=True, frozen=True, extra="forbid", allow_inf_nan=False)

    def __getstate__(self) -> dict[Any, Any]:
        """What is kept of one that is read and checked: its values alone."""
        return self.__dict__

    def __setstate__(self, state: dict[Any, Any]) -> None:
        put = object.__setattr__
        put(self, "__dict__", state)
        put(self, "__pydantic_fields_set__", set(state))
        put(self, "__pydantic_extra__", None)
        put(self, "__pydantic_private__", None)


class Source(Shape):
    """An entry of the bibliography."""

    title: Text
    publisher: str = ""
    year: int | None = None
    undated: bool = False  # what was read shows no year
    place: str = ""  # chapter, table, page or address
    whole: bool = False  # a page or a leaflet that is cited as a whole
    standing: Standing
    kind: Literal["", "trial", "standard"] = ""  # what was measured, or how to measure; empty: advice, tables, the rest
    note: str = ""


class Published(Shape):
    """A value as one source prints it."""

    low: float
    high: float
    source: Id
    as_received: bool = False  # of the whole, wet weight: never mixed with dry-weight values
    outlier: bool = False  # known to be a misprint or another thing; kept, but not spanned
    group: bool = False  # printed of its kind as a whole ("leaves"), or of its nearest kin, and not of the thing itself
    derived: bool = False  # worked out from what is printed (nitrogen from protein, a density from a cupful)

    @model_validator(mode="before")
    @classmethod
    def _from_line(cls, line: object) -> object:
        if not isinstance(line, str):
            return line
        match = _PUBLISHED.match(line)
        if match is None:
            form = "VALUE [as-received] [group] [derived] [outlier] SOURCE"
            raise ValueError(f"write it as '{form}', for instance '3-6 fact-sheet-3'; got {line!r}")
        low = float(match["low"])
        return {
            "low": low,
            "high": float(match["high"] or low),
            "as_received": bool(match["received"]),
            "group": bool(match["group"]),
            "derived": bool(match["derived"]),
            "outlier": bool(match["outlier"]),
            "source": match["source"],
        }


_PUBLISHED = re.compile(
    r"^(?P<low>\d+(\.\d+)?)(-(?P<high>\d+(\.\d+)?))?"
    r"(?P<received>\s+as-received)?(?P<group>\s+group)?(?P<derived>\s+derived)?(?P<outlier>\s+outlier)?"
    r"\s+(?P<source>[a-z][a-z0-9-]*)$"
)


class Figure(Shape):
    """A property with its honest spread: it lies between low and high, and as often below typical as above."""

    low: float
    typical: float
    high: float
    published: tuple[Published, ...]
    note: str = ""
    guards: Literal["", "from below", "from above"] = ""  # it keeps people safe: local rules may only be stricter

    @model_validator(mode="before")
    @classmethod
    def _from_range(cls, raw: object) -> object:
        if isinstance(raw, dict) and "range" in raw:
            rest = {key: value for key, value in raw.items() if key != "range"}
            values = raw["range"]
            if not (isinstance(values, list) and len(values) == 3):
                raise ValueError("range is [low, typical, high]")
            return {"low": values[0], "typical": values[1], "high": values[2], **rest}
        return raw

    @model_validator(mode="after")
    def _in_order(self) -> Figure:
        if not 0 <= self.low <= self.typical <= self.high:
            raise ValueError(f"needs 0 <= low <= typical <= high, got {self.low}, {self.typical}, {self.high}")
        if not self.published:
            raise ValueError("names no source; a value of our own cites 'our-estimate'")
        return self


Role = Literal["green", "brown", "mineral", "starter", "liquid", "never"]
Structure = Literal["coarse", "medium", "fine", "matting", "liquid", "mineral"]


class Material(Shape):
    """Something people bring to a heap.

    Units: nitrogen, carbon, phosphate (as P2O5), potash (as K2O) and ash in % of dry mass; moisture in % of wet mass;
    densities in kg/m3 as piled; carbon_nitrogen is the ratio by mass; fetch in litres. Minerals have no
    carbon_nitrogen.
    """

    name: Text
    aliases: tuple[str, ...] = ()
    role: Role
    structure: Structure
    traits: tuple[Word, ...] = ()
    keeps: Literal["days", "weeks", "months", "years"]  # how long it lies before it spoils
    seasons: tuple[Literal["spring", "summer", "autumn", "winter"], ...] = ()  # when it is to be had; empty: all year
    fetch: Figure | None = None  # what a household gets near home at a time, for little or nothing; None: not fetched
    nitrogen: Figure
    carbon_nitrogen: Figure | None = None
    carbon: Figure | None = None
    feeds: Figure | None = None  # % of its carbon that microbes reach while a heap works; None: all of it
    phosphate: Figure | None = None  # None: not known
    potash: Figure | None = None
    moisture: Figure
    density: Figure  # loose, as tipped into a bucket
    density_packed: Figure | None = None  # trodden or pressed down
    ash: Figure | None = None
    about: str = ""


class Measure(Shape):
    """A household measure. Units: litres."""

    name: Text
    aliases: tuple[str, ...] = ()
    litres: Figure
    packed: bool = False  # what it holds is pressed down (a bale)
    small: bool = False  # too small to count a heap in
    halves: bool = True  # half of one is a sensible thing to say
    about: str = ""


class Place(Shape):
    """Whose local rules a folder holds, as it is told in answers: "Wexcombe Garden Club"."""

    name: Text
    about: str = ""


class Names(Shape):
    """What people of a place call a material or a measure."""

    says: Annotated[tuple[Text, ...], Field(min_length=1)]


#: What kind of thing a method makes: the words of the fact `plan.form`.
Form = Literal["stacked", "drum", "leaves", "ground", "worms", "bucket", "elsewhere"]


class Method(Shape):
    """A way of composting."""

    name: Text
    aliases: tuple[str, ...] = ()
    about: Text
    form: Form
    made_in: tuple[Word, ...] = ()  # containers, words of place.container, whose size is that of the heap
    heats: bool
    weeks: Figure  # from the last filling to usable compost or, for the bucket, to planting over it
    shrinks_to: Figure  # % of the starting volume left at the end

    @property
    def stacked(self) -> bool:
        """Whether it is built with a fork, layer on layer."""
        return self.form == "stacked"

    @property
    def balanced(self) -> bool:
        """Whether browns and greens are mixed for it."""
        return self.form in ("stacked", "drum")

    @property
    def has_body(self) -> bool:
        """Whether what goes in makes a heap with sides and a height, balanced or of leaves alone."""
        return self.balanced or self.form == "leaves"


Answer = Literal["answer", "computed", "concluded"]


class Attribute(Shape):
    """What one attribute of a fact kind may hold: words, each with its meaning, or a number in a range."""

    words: dict[Word, str] = Field(default_factory=dict)
    number: tuple[float, float] | None = None
    unit: str = ""
    origin: Answer
    many: bool = False  # several values may hold at once
    implies: dict[Word, dict[str, str]] = Field(default_factory=dict)  # by a word, what follows unless it was told
    about: Text

    @model_validator(mode="after")
    def _one_type(self) -> Attribute:
        if bool(self.words) == (self.number is not None):
            raise ValueError("holds either words or a number range")
        return self


class Kind(Shape):
    """A kind of fact. `subjects` says what each such fact is about, if there can be several."""

    about: Text
    subjects: Literal["", "materials", "methods", "notices"] | tuple[Word, ...] = ""
    attributes: dict[str, Attribute] = Field(default_factory=dict)


class Notice(Shape):
    """Words that a rule may put before the gardener: a step, a caution, a thing to get."""

    say: Text
    source: Annotated[tuple[Id, ...], BeforeValidator(_tuple_of_one)]  # that there is one is seen by the lint
    order: int = 50  # for an event the day it falls on
    after_filling: bool = False  # that day counts from the last filling, not from the start
    grave: bool = False  # shown first, and never left out


class Cause(Notice):
    """What may be wrong with a heap, or the reassurance that nothing is."""

    name: Text
    tell: Text  # how to tell it from its neighbours, with hands and nose
    normal: bool = False  # nothing is wrong
    find: bool = False  # something harmless that is seen, and that explains no trouble beside it
    beside: tuple[Id, ...] = ()  # causes that it often comes together with


Dose = Literal["none", "browns", "greens", "water", "volume"]


class Remedy(Notice):
    """What to do about a trouble. `{dose}` in `say` is worked out from what is in the heap."""

    dose: Dose = "none"
    expect: Text  # what to see if it works
    days: int = Field(ge=0, le=400)  # by when
    otherwise: Text  # what to try next if not
    moot: Text | None = None  # said in its place where what went in shows that a dose would change nothing
    alone: bool = False  # told only where nothing else is to be done


class Due(Notice):
    """A deed that can be due today for one vessel of the diary. The lowest `order` is the most urgent."""

    name: Text  # the deed in a few words: "Turn it"
    done: tuple[str, ...] = ()  # kinds of entry that do it, beside saying that it is done
    again: int = Field(ge=0, le=400)  # days for which it is not named again once it is done
    counts: str = ""  # the attribute of `record` that counts the days, told with the reason
    by: int = 0  # how many of those days pass until it is due
    away: bool = False  # to be done before going away
    back: bool = False  # the one look that tells what happened while nothing was told for a long time
    agree: str = ""  # how far the sources agree


class RuleText(Shape):
    """A rule as written."""

    id: Id
    when: tuple[str, ...] = Field(min_length=1)
    then: tuple[dict[str, object], ...] = Field(min_length=1)
    because: Text
    source: Sources
    evidence: Evidence = "guidance"


class Question(Shape):
    """Something worth asking. The answers offered are the words of its attribute, or a number or words typed."""

    attribute: str  # kind.attribute it settles
    ask: Text
    why: Text  # why it matters, shown on request
    ease: int = Field(ge=1, le=5, default=3)  # 1: everyone knows at once; 5: needs measuring
    volunteered: bool = False  # taken when said, never asked for
    when: Annotated[tuple[str, ...], BeforeValidator(_tuple_of_one)] = ()  # only worth asking under these conditions


class DangerAnswer(Shape):
    """What is answered about a danger or a kind of danger. `{3 m}` in a text is shown in the person's units."""

    warning: Annotated[tuple[Text, ...], Field(min_length=2, max_length=5)]  # told as present; first what to do now
    answer: Annotated[tuple[Text, ...], Field(min_length=1, max_length=3)]  # feared or asked about
    followup: Text  # when the danger is past: the next step, or the one question
    meanwhile: Annotated[tuple[Text, ...], Field(max_length=4)] = ()  # to whatever is said while help is awaited
    source: Sources
