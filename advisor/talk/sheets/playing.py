"""What a sheet asks, says and keeps, and playing it through."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterator, Mapping, Sequence
from typing import Any

from advisor.errors import HouseholdError
from advisor.household.tokens import shown
from advisor.records import dataclass
from advisor.soil_counsel.ground import BedTold, CheckTold, MonthDay
from advisor.talk.replies import Option, Reply

#: What is meant, and other words for it.
Near = Mapping[str, Sequence[str]]

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
        also: other words for each of the options, in their order.
        other: reads what picks no option; None if nothing else will do.
        foreseen: whether other words than the options' own were thought of.
        free: whether any words will do, as for a name.
        loose: whether any words with a number in them will do.
    """

    ask: str
    why: str
    read: Read
    options: tuple[Option, ...] = ()
    many: bool = False
    heard: Callable[[Any], str] | None = None
    needed: bool = False
    also: tuple[tuple[str, ...], ...] = ()
    other: Read | None = None
    foreseen: bool = False
    free: bool = False
    loose: bool = False


@dataclass(frozen=True, slots=True)
class Say:
    """Something to say. What takes long to work out is worked out only if it has not been said already."""

    make: Callable[[], Sequence[Reply]]


def telling(*replies: Reply) -> Say:
    """Something to say that is worked out already."""
    return Say(lambda: replies)


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
        tails: what was to be said and kept before the first blank, and behind each answer, in their order.
        filled: the blanks that have an answer.
        blank: what is asked now; None at the end.
    """

    tails: tuple[tuple[Say | Keep, ...], ...] = ((),)
    filled: tuple[Blank, ...] = ()
    blank: Blank | None = None

    def new(self, since: int | None = None) -> Iterator[Say | Keep]:
        """What was to be said and kept behind the last answer, or from the answer of that number on, from 0."""
        for tail in self.tails[-1:] if since is None else self.tails[since + 1 :]:
            yield from tail


def played(script: Script, answers: Sequence[str]) -> Played:
    """Play a script through. An empty answer is one that is not known.

    Raises:
        HouseholdError: an answer cannot be read; none that was taken once.
    """
    tails: list[list[Say | Keep]] = [[]]
    filled: list[Blank] = []
    waiting = list(answers)
    sent: Any = None
    blank: Blank | None = None
    while blank is None:
        try:
            step = script.send(sent)
        except StopIteration:
            break
        sent = None
        if not isinstance(step, Blank):
            tails[-1].append(step)
        elif not waiting:
            blank = step
        else:
            said = waiting.pop(0)
            sent = step.read(said) if said else None
            filled.append(step)
            tails.append([])
    return Played(tuple(map(tuple, tails)), tuple(filled), blank)


# ---------------------------------------------------------------- blanks that several sheets have


def choice(
    ask: str,
    why: str,
    words: dict[str, str],
    *,
    many: bool = False,
    also: Read | None = None,
    near: Near | None = None,
    needed: bool = False,
) -> Blank:
    """One of some words, or several; `also` reads what is none of them.

    Args:
        words: what is meant, and how it is said.
        near: other words for it, which need not be exact.
    """
    options = tuple(Option(text[:1].upper() + text[1:], text, value) for value, text in words.items())
    others = tuple((value.replace("-", " "), *(near or {}).get(value, ())) for value in words)

    def read(said: str) -> Any:
        found = _options_of(said, words)
        if found and (many or len(found) == 1):
            return found if many else found[0]
        if also is not None:
            return also(said)
        raise none_of_these(said)

    return Blank(ask, why, read, options, many, None, needed, others, also, near is not None)


def _options_of(said: str, words: Mapping[str, str]) -> tuple[str, ...]:
    """The options that a text names one after another in their own words, parted by commas; none if it holds more."""
    by_length = sorted(((bared(text), value) for value, text in words.items()), key=lambda pair: -len(pair[0]))
    rest = bared(said)
    found: list[str] = []
    while rest:
        match = next(((text, value) for text, value in by_length if rest.startswith(text)), None)
        if match is None:
            return ()
        found.append(match[1])
        rest = rest[len(match[0]) :].lstrip(" ,")
    return tuple(dict.fromkeys(found))


def none_of_these(said: str) -> HouseholdError:
    """What there is to say of words that name no option."""
    return HouseholdError(f"“{shown(said)}” is none of these", hint="pick a number, or say “I don't know”")


def bared(text: str) -> str:
    """Words as they are compared: small letters, single spaces, no stops at the ends."""
    return " ".join(text.casefold().replace("’", "'").strip(" .!?,").split())


def yes_or_no(ask: str, why: str, *, yes: str = "yes", no: str = "no") -> Blank:
    """Yes or no; the script is sent "yes" or "no"."""
    return choice(ask, why, {"yes": yes, "no": no})


def figure(
    ask: str,
    why: str,
    read: Callable[[str], Any],
    *,
    heard: Callable[[Any], str] | None = None,
    needed: bool = False,
    free: bool = False,
    loose: bool = False,
) -> Blank:
    """Something typed, without options to pick from; `free` and `loose` as in Blank."""
    return Blank(ask, why, read, heard=heard, needed=needed, free=free, loose=loose)
