"""What a line does to a sheet: it fills the open blank, says more than that, or puts right what was said before."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from contextlib import suppress
from typing import Final

from advisor.errors import HouseholdError
from advisor.hearing.forms import QUESTIONS
from advisor.hearing.shapes import Heard
from advisor.hearing.spoken_of import COMMANDS
from advisor.household.tokens import shown, singular
from advisor.records import dataclass
from advisor.talk.sheets.playing import Blank, none_of_these

#: Whether what would be asked next takes some words, if the open blank is filled with others.
Next = Callable[[str, str], bool]

#: How some words are read beside a blank.
Hears = Callable[[str, Blank], Heard]

_PARTS = re.compile(r"\s*[;\n]\s*|,\s+|(?<=[^\d\s])[.!?]+\s+|[.!?]+\s*$")
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

#: What a line may be that is no answer to a form.
_OTHER_MATTERS: Final = QUESTIONS | COMMANDS | {"trouble", "danger"}
#: So many words or more may be another matter than the one that is asked about.
LEAST_TO_LEAVE = 3


@dataclass(frozen=True, slots=True)
class Filling:
    """What fills the open blank, and what else the line said. Nothing fills a blank that is not known."""

    text: str
    rest: tuple[str, ...] = ()


def answer_of(text: str, blank: Blank, heard: Heard) -> str:
    """The words that fill a blank: those of the options that are picked, or what was said; empty if it is not known.

    Raises:
        HouseholdError: nothing in it does; the hint says what would.
    """
    if not blank.options:
        if heard.unknown and not any(sign.isdigit() for sign in text):
            return ""
        blank.read(text)
        return text
    numbers = heard.options
    if not heard.named and blank.other is not None:
        with suppress(HouseholdError):
            blank.other(text)
            return text
    if len(numbers) > 1 and not blank.many:
        either = " or ".join(f"“{blank.options[number - 1].say}”" for number in numbers)
        raise HouseholdError(f"“{shown(text)}” may be {either}", hint="pick a number")
    if not numbers and not heard.unknown:
        if blank.other is not None:
            blank.other(text)
        raise none_of_these(text)
    return ", ".join(blank.options[number - 1].say for number in numbers if number <= len(blank.options))


def filling(text: str, blank: Blank, follows: Next, hears: Hears) -> Filling:
    """What a line fills a blank with. A question is no answer unless its words are those of one.

    Raises:
        HouseholdError: nothing in it does; the hint says what would.
    """
    first, *others = parts(text) or [text]
    rest = tuple(others)
    heard = hears(text, blank)
    if _asks(heard) and not heard.named and not (not blank.options and _reads(text, blank)):
        raise none_of_these(text)
    try:
        whole = answer_of(text, blank, heard)
    except HouseholdError:
        if not rest:
            raise
        return Filling(answer_of(first, blank, hears(first, blank)), rest)
    if not rest or heard.named:
        return Filling(whole)
    if blank.free:
        told = any(sign.isdigit() for sign in rest[0])  # "by the fence, near the shed" is one name
        return Filling(first, rest) if told and follows(first, rest[0]) else Filling(whole)
    with suppress(HouseholdError):
        begun = answer_of(first, blank, hears(first, blank))
        if begun and whole and blank.read(begun) == blank.read(whole):
            return Filling(begun, rest)
    return Filling(whole)


def _asks(heard: Heard) -> bool:
    return any(piece.asks for piece in heard.pieces)


def _reads(text: str, blank: Blank) -> bool:
    with suppress(HouseholdError):
        blank.read(text)
        return True
    return False


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


def fits(text: str, blank: Blank, hears: Hears, *, near: bool = True) -> str | None:
    """What a blank can be filled with from words said before it was asked; None if they speak of something else.

    Args:
        near: whether words that only come near to an option will do where none were foreseen.
    """
    bare_number = text.strip().isdigit()
    if blank.free or not text or (bare_number and (blank.options or not near)):
        return None
    if (blank.options and not (near or blank.foreseen)) or (blank.loose and not _speaks_of(text, blank)):
        return None
    heard = hears(text, blank)
    if _asks(heard) or (heard.options and not heard.sure):
        return None
    with suppress(HouseholdError):
        return answer_of(text, blank, heard) or None
    return None


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


def is_another_matter(heard: Heard, blank: Blank) -> bool:
    """Whether a line is a trouble, a question or a command and no answer to a blank."""
    first = heard.acts[0] if heard.acts else ""
    wrong = first in _OTHER_MATTERS or "trouble" in heard.acts
    if heard.options or not wrong or len(heard.text.split()) < LEAST_TO_LEAVE:
        return False
    return blank.free or not reads(heard, blank)


def reads(heard: Heard, blank: Blank) -> bool:
    """Whether a line fills a blank."""
    try:
        return bool(answer_of(heard.text, blank, heard))
    except HouseholdError:
        return False


def numbered(number: str, blank: Blank) -> str | None:
    """What a bare number puts in the place of an answer: an option by its place, or a figure."""
    if blank.options:
        return blank.options[int(number) - 1].say if 1 <= int(number) <= len(blank.options) else None
    if blank.free:
        return None
    try:
        blank.read(number)
    except HouseholdError:
        return None
    return number
