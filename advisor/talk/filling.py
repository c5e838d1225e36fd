"""What a line does to a sheet: it fills the open blank, says more than that, or puts right what was said before."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from advisor.errors import HouseholdError
from advisor.household.tokens import singular
from advisor.talk.sheets.playing import Blank

#: Whether what would be asked next takes some words, if the open blank is filled with others.
Next = Callable[[str, str], bool]

_PARTS = re.compile(r"\s*[;\n]\s*|,\s+|(?<=[^\d\s])[.!?]+\s+|[.!?]+\s*$")
_ASKS = re.compile(r"(?:how|what|when|where|which|who|why|can|could|should|do|does|did)\b", re.IGNORECASE)
_TIMES: Final = frozenset({"day", "week", "month", "year"})
_WORDS = re.compile(r"[^\W\d_]+")
_LEAD = re.compile(
    r"(?:(?:oh|ah|er|um|no+|nope|sorry|oops|whoops|wait|hang on|actually|correction|my mistake|(?:or )?rather|"
    r"i mean|i meant|i said|i should have said|make (?:that|it)|(?:that |it )?should (?:be|have been)|"
    r"change (?:that|it) to)\b[\s,:;.!-]*)+(?:(?:it|that)(?:'s| is| was)\s+)?",
    re.IGNORECASE,
)
_TAIL = re.compile(
    r"[\s,]+(?:(?:and )?not|instead of|rather than)\s+\S.*$|[\s,]+(?:sorry|i mean|i meant|actually|i should say)"
    r"[.! ]*$",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Filling:
    """What fills the open blank, and what else the line said."""

    text: str
    rest: tuple[str, ...] = ()


def filling(text: str, blank: Blank, follows: Next, *, asks: bool) -> Filling:
    """What a line fills a blank with.

    Args:
        asks: whether the line is a question, which is no answer unless its words are those of one.

    Raises:
        HouseholdError: nothing in it does; the hint says what would.
    """
    first, *others = parts(text) or [text]
    rest = tuple(others)
    try:
        whole = blank.read(text)
    except HouseholdError as error:
        return _loosely(text, first, rest, blank, error, asks=asks)
    if not rest:
        return Filling(text)
    if blank.free:
        told = any(sign.isdigit() for sign in rest[0])  # "by the fence, near the shed" is one name
        return Filling(first, rest) if told and follows(first, rest[0]) else Filling(text)
    try:
        return Filling(first, rest) if blank.read(first) == whole else Filling(text)
    except HouseholdError:
        return Filling(text)


def _loosely(
    text: str, first: str, rest: tuple[str, ...], blank: Blank, error: HouseholdError, *, asks: bool
) -> Filling:
    near = blank.meant(text) if blank.meant is not None and not asks else None
    if near is not None:
        return Filling(near)
    if rest:
        try:
            blank.read(first)
        except HouseholdError:
            near = blank.near_to(first)
            if near is not None:
                return Filling(near, rest)
        else:
            return Filling(first, rest)
    raise error


def seen(text: str) -> str:
    """A line without signs that cannot be seen, such as those that turn the direction of writing."""
    return "".join(sign for sign in text if unicodedata.category(sign) != "Cf").strip()


def parts(text: str) -> list[str]:
    """A line cut where commas and stops part it."""
    return [part.strip() for part in _PARTS.split(text) if part and part.strip()]


def opening_parts(text: str) -> list[str]:
    """The parts of a line that opens a sheet, and what stands behind a "for" in them: "how much straw for 3 hens"."""
    cut = parts(text)
    return [*cut, *(behind for part in cut if (behind := part.rpartition(" for ")[2]) != part)]


def fits(text: str, blank: Blank, *, near: bool = True) -> str | None:
    """What a blank can be filled with from words said before it was asked; None if they speak of something else.

    Args:
        near: whether words that only come near to an option will do where none were foreseen.
    """
    if blank.free or not text or _ASKS.match(text):
        return None
    try:
        if blank.options:
            if text.strip().isdigit():
                return None
            if near or blank.near:
                found = blank.near_to(text)
                if found is not None:
                    return found
            if not near:
                return None
        elif blank.loose and not _speaks_of(text, blank):
            return None
        blank.read(text)
    except HouseholdError:
        return None
    return text


def _speaks_of(text: str, blank: Blank) -> bool:
    """Whether a number is said of what is asked: "20 weeks", where weeks are asked for."""
    asked = {singular(word) for word in _WORDS.findall(blank.ask.casefold())}
    said = {singular(word) for word in _WORDS.findall(text.casefold())}
    return bool(_TIMES & asked and _TIMES & said)


def corrected(text: str) -> str | None:
    """What a line puts in the place of something: "no, 8 m2", "8 m2, not 6"; None if it does not say so."""
    lead = _LEAD.match(text)
    bare = text[lead.end() :] if lead is not None else text
    cut = _TAIL.sub("", bare).strip()
    if not cut or (lead is None and (cut == bare.strip() or not any(sign.isdigit() for sign in cut))):
        return None
    return cut
