"""What a sheet asks, says and keeps, and playing it through."""

from __future__ import annotations

import re
from collections.abc import Callable, Generator, Sequence
from dataclasses import dataclass, field
from typing import Any

from advisor.errors import HouseholdError
from advisor.soil_counsel.ground import BedTold, CheckTold, MonthDay
from advisor.talk.replies import Option, Reply

#: Reads the words of an answer. Raises HouseholdError, with the hint that helps.
Read = Callable[[str], Any]


@dataclass(frozen=True, slots=True)
class Blank:
    """Something to be filled in.

    Attributes:
        ask: the question.
        why: what it settles.
        read: makes the answer of the words.
        options: to pick from; other words that `read` takes will do as well.
        many: whether several options may hold.
        heard: how the answer is said back; nothing for what stands on the screen anyway.
        needed: whether "I don't know" cannot be taken.
    """

    ask: str
    why: str
    read: Read
    options: tuple[Option, ...] = ()
    many: bool = False
    heard: Callable[[Any], str] | None = None
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Say:
    """Something to say. What takes long to work out is worked out only if it has not been said already."""

    make: Callable[[], Sequence[Reply]]


@dataclass(frozen=True, slots=True)
class KeepCheck:
    """A check of a bed to be kept in the diary, and how its figures were told."""

    bed: BedTold
    check: CheckTold
    told: dict[str, str]


@dataclass(frozen=True, slots=True)
class KeepBed:
    """A bed to be kept in the diary."""

    bed: BedTold


@dataclass(frozen=True, slots=True)
class KeepFrosts:
    """The frosts of the place for the diary: the last of spring and the first of autumn, or that it never freezes."""

    frosts: tuple[MonthDay, MonthDay] | None


Keep = KeepCheck | KeepBed | KeepFrosts

#: A script is sent what each blank was filled with, and None for what is not known.
Script = Generator["Blank | Say | Keep", Any, None]


@dataclass(frozen=True, slots=True)
class Played:
    """Where a sheet stands.

    Attributes:
        new: what was to be said and kept since the last answer, in its order.
        blank: what is asked now; None at the end.
    """

    new: tuple[Say | Keep, ...] = ()
    blank: Blank | None = None


@dataclass
class _Tail:
    new: list[Say | Keep] = field(default_factory=list)


def played(script: Script, answers: Sequence[str]) -> Played:
    """Play a script through. An empty answer is one that is not known.

    Raises:
        HouseholdError: an answer cannot be read; none that was taken once.
    """
    tail = _Tail()
    waiting = list(answers)
    sent: Any = None
    while True:
        try:
            step = script.send(sent)
        except StopIteration:
            return Played(tuple(tail.new))
        sent = None
        if not isinstance(step, Blank):
            tail.new.append(step)
            continue
        if not waiting:
            return Played(tuple(tail.new), step)
        said = waiting.pop(0)
        sent = step.read(said) if said else None
        tail = _Tail()


# ---------------------------------------------------------------- blanks that several sheets have


def choice(
    ask: str,
    why: str,
    words: dict[str, str],
    *,
    many: bool = False,
    also: Read | None = None,
    needed: bool = False,
) -> Blank:
    """One of some words, or several; `also` reads what is none of them.

    Args:
        words: what is meant, and how it is said.
    """
    options = tuple(Option(text[:1].upper() + text[1:], text, value) for value, text in words.items())

    def read(said: str) -> Any:
        if many:
            return _several(said, words)
        found = _word(said, words)
        if found is not None:
            return found
        if also is not None:
            return also(said)
        raise _none_of_these(said)

    return Blank(ask, why, read, options, many, needed=needed)


_NUMBERS = re.compile(r"\d{1,2}(?:[ ,;]+(?:and )?\d{1,2})*")


def _word(said: str, words: dict[str, str]) -> str | None:
    bare = bared(said)
    for value, text in words.items():
        if bare in (bared(text), bared(value), bared(value.replace("-", " "))):
            return value
    opening = [value for value, text in words.items() if bare and bared(text).startswith(bare)]
    if len(opening) == 1:
        return opening[0]
    short = {"y": "yes", "yeah": "yes", "yep": "yes", "sure": "yes", "n": "no", "nope": "no"}.get(bare, "")
    return short if short in words else None


def _several(said: str, words: dict[str, str]) -> tuple[str, ...]:
    rest = bared(said)
    whole = _word(said, words)
    if whole is not None:
        return (whole,)
    if _NUMBERS.fullmatch(rest):
        places = [int(number) for number in re.findall(r"\d+", rest)]
        if all(1 <= place <= len(words) for place in places):
            return tuple(dict.fromkeys(list(words)[place - 1] for place in places))
    found: list[str] = []
    by_length = sorted(((bared(text), value) for value, text in words.items()), key=lambda pair: -len(pair[0]))
    by_length += [(bared(value.replace("-", " ")), value) for value in words]
    while rest:
        match = next(((text, value) for text, value in by_length if rest.startswith(text)), None)
        if match is None:
            raise _none_of_these(said)
        found.append(match[1])
        rest = rest[len(match[0]) :].lstrip(" ,;.").removeprefix("and ").lstrip()
    return tuple(dict.fromkeys(found))


def bared(text: str) -> str:
    """Words as they are compared: small letters, single spaces, no stops at the ends."""
    return " ".join(text.casefold().replace("’", "'").strip(" .!?,").split())


def _none_of_these(said: str) -> HouseholdError:
    from advisor.household.tokens import shown

    return HouseholdError(f"“{shown(said)}” is none of these", hint="pick a number")


def yes_or_no(ask: str, why: str, *, yes: str = "yes", no: str = "no") -> Blank:
    """Yes or no; the script is sent "yes" or "no"."""
    return choice(ask, why, {"yes": yes, "no": no})


def figure(
    ask: str, why: str, read: Callable[[str], Any], *, heard: Callable[[Any], str] | None = None, needed: bool = False
) -> Blank:
    """Something typed, without options to pick from."""
    return Blank(ask, why, read, heard=heard, needed=needed)
