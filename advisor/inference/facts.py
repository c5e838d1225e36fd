"""A fact is one value of one attribute of one thing: small, typed, and with a name a person can read."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import field
from difflib import get_close_matches

from advisor.errors import InferenceFault
from advisor.knowledge.conditions import Value
from advisor.knowledge.shapes import Attribute, Kind
from advisor.records import dataclass

#: The kind the engine keeps for itself. Its subject is the attribute that nobody has told.
ABSENCE = "unknown"

#: Numbers are kept to so many decimals and below so much: then Python never writes one with an exponent,
#: which the engine's reader would refuse, and equal figures are equal.
DECIMALS = 4
NUMBERS_BELOW = 1e12


@dataclass(frozen=True, slots=True)
class Fact:
    """The `attribute` of a `kind`, for one `subject` (or none: ""), is `value`: a word or a number.

    Numbers become floats of four decimals. `key` is the fact's name: `place.space = flat`,
    `holding[grass-clippings].share = 62.5`, `unknown(place.digging)`. Equal facts have equal keys.

    Raises:
        InferenceFault: the value is neither a word nor a number of ordinary size.
    """

    kind: str
    attribute: str
    subject: str
    value: Value
    key: str = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        name = _name(self.kind, self.attribute, self.subject)
        value = plain(self.value, name)
        object.__setattr__(self, "value", value)
        object.__setattr__(self, "key", name if self.kind == ABSENCE else f"{name} = {written(value)}")


def _name(kind: str, attribute: str, subject: str) -> str:
    if kind == ABSENCE:
        return f"{ABSENCE}({subject})"
    return f"{kind}[{subject}].{attribute}" if subject else f"{kind}.{attribute}"


def plain(value: object, name: str) -> Value:
    """A word as it is, a number as a float of four decimals. Raises InferenceFault for anything else."""
    if isinstance(value, str):
        return value
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise InferenceFault(f"{value!r} is neither a word nor a number", where=name)
    if not (math.isfinite(value) and abs(value) < NUMBERS_BELOW):
        raise InferenceFault(f"{value!r} is no figure to reason with", where=name)
    return round(float(value), DECIMALS) + 0.0  # the sum turns -0.0 into 0.0


def written(value: Value) -> str:
    """The value in words for people: no exponent, no idle zeros."""
    return value if isinstance(value, str) else f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")


def absence(kind: str, attribute: str) -> Fact:
    """The fact that nobody has told `kind.attribute`."""
    return Fact(ABSENCE, "answer", f"{kind}.{attribute}", "none")


def admit(fact: Fact, kinds: Mapping[str, Kind]) -> Fact:
    """The fact itself, if the registry of kinds allows it.

    Raises:
        InferenceFault: no such kind or attribute, a subject where there can be none or none where there must
            be one, a word that is not declared, or a number out of its range.
    """
    attribute = declared(fact.kind, fact.attribute, kinds)
    subjects = kinds[fact.kind].subjects
    if bool(subjects) != bool(fact.subject):
        message = f"'{fact.kind}' needs a subject" if subjects else f"'{fact.kind}' has no subjects"
        raise InferenceFault(message, where=fact.key)
    if isinstance(subjects, tuple) and fact.subject and fact.subject not in subjects:
        raise InferenceFault(f"no {fact.kind} '{fact.subject}'", where=fact.key, hint=nearest(fact.subject, subjects))
    if attribute.number is None:
        if fact.value not in attribute.words:
            hint = nearest(str(fact.value), attribute.words)
            raise InferenceFault(f"{fact.kind}.{fact.attribute} is never that", where=fact.key, hint=hint)
        return fact
    low, high = attribute.number
    if isinstance(fact.value, str):
        raise InferenceFault(f"{fact.kind}.{fact.attribute} holds a number", where=fact.key)
    if not low <= fact.value <= high:
        message = f"{fact.kind}.{fact.attribute} lies between {written(low)} and {written(high)}"
        raise InferenceFault(message, where=fact.key)
    return fact


def declared(kind: str, attribute: str, kinds: Mapping[str, Kind]) -> Attribute:
    """What the registry says of `kind.attribute`. Raises InferenceFault if it says nothing."""
    if kind not in kinds:
        raise InferenceFault(f"no fact kind '{kind}'", where=f"{kind}.{attribute}", hint=nearest(kind, kinds))
    found = kinds[kind].attributes.get(attribute)
    if found is None:
        hint = nearest(attribute, kinds[kind].attributes)
        raise InferenceFault(f"'{kind}' has no '{attribute}'", where=f"{kind}.{attribute}", hint=hint)
    return found


def nearest(word: str, words: Iterable[str]) -> str:
    """A hint that names the word most like it, or some of the words if none is; empty if there are none."""
    there = list(words)
    alike = get_close_matches(word, there, n=1)
    if alike:
        return f"did you mean {alike[0]}?"
    return f"there are {', '.join(there[:12])}" if there else ""
