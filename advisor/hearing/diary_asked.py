"""What is asked of the diary itself: to show it, what was done in some days, to take its last entry back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, timedelta
from typing import Literal

from advisor.hearing.cutting import cut
from advisor.hearing.english import listed
from advisor.hearing.finding import Finder
from advisor.hearing.times import times
from advisor.hearing.vessels import VesselNamed, vessels_named
from advisor.hearing.vocabulary import vocabulary_for
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

_LONGEST = 14  # words; a longer line tells something else
_LATELY = 14  # days
#: Such a line may hold these besides the words that ask, the days and the vessel.
_BESIDE = listed(
    "please can could would will you i we me us let to with for of on in at about from the my our a an so far "
    "then just now all again during over since past last this that have had been be is was and compost heap heaps "
    "bin bins bed beds thing things garden want like see , . ? !"
)


@dataclass(frozen=True, slots=True)
class DiaryAsked:
    """A request to the diary.

    Attributes:
        what: "show" it, list what was "done" in some days, or take its "last" entry back.
        first, last: the days that are asked for; None if none are named.
        vessel: the name of the vessel that is asked for; empty if none is named.
        said: the days in words, as they were typed; empty if none are named.
        sure: whether the diary itself is named.
    """

    what: Literal["show", "done", "last"]
    first: date | None = None
    last: date | None = None
    vessel: str = ""
    said: str = ""
    sure: bool = False


def diary_asked(
    text: str, knowledge: Knowledge, today: date, vessels: Callable[[], Sequence[tuple[str, str]]]
) -> DiaryAsked | None:
    """What a line asks of the diary; nothing if it says something else.

    Args:
        vessels: gives names and kinds of the vessels there are; called only if the line may ask something.
    """
    words = vocabulary_for(knowledge)
    finder = Finder(cut(text, words.english), words, knowledge)
    line = finder.line.words
    if not 0 < len(line) <= _LONGEST:
        return None
    shows, done, takes = (_ends(finder, name) for name in ("diary-show", "diary-done", "diary-last"))
    found = takes or shows or done
    if not found:
        return None
    known = vessels()
    what: Literal["show", "done", "last"] = "last" if takes else ("show" if shows else "done")
    first, last, said, days = _days(finder, today)
    named = next((one for one in vessels_named(finder, known) if one.known or one.name), None)
    held = {*range(*found), *days, *_places(finder, named)}
    if any(word.form not in _BESIDE for at, word in enumerate(line) if at not in held):
        return None
    sure = bool(finder.where("diary-named"))
    if what == "done" and first is None and named is None and not sure:
        return None  # "what have I done?" asks for no list
    return DiaryAsked(what, first, last, _called(named, known), said, sure)


def _called(named: VesselNamed | None, known: Sequence[tuple[str, str]]) -> str:
    """The name of a vessel that there is."""
    if named is None:
        return ""
    return next((name for name, _ in known if name.casefold() == named.name.casefold()), "")


def _ends(finder: Finder, name: str) -> tuple[int, int] | None:
    """Where the first way of saying of a class begins and ends in a line; None if it holds none."""
    at = next(iter(finder.where(name)), None)
    return None if at is None else (at, max(finder.things(name, at)))


def _places(finder: Finder, named: VesselNamed | None) -> range:
    if named is None:
        return range(0)
    inside = [at for at, word in enumerate(finder.line.words) if named.start <= word.start < named.end]
    return range(inside[0], inside[-1] + 1) if inside else range(0)


def _days(finder: Finder, today: date) -> tuple[date | None, date | None, str, range]:
    """The days that a line names, their words as they were typed, and their places."""
    words = finder.line.words

    def typed(start: int, end: int) -> str:
        return finder.line.text[words[start].start : words[end - 1].end]

    for at, word in enumerate(words):
        if word.form in ("lately", "recently"):
            return today - timedelta(_LATELY), today, word.form, range(at, at + 1)
        span = f"{words[at - 1].form} {word.lemma}" if at else ""
        begins = {
            "this week": today - timedelta(today.weekday()),
            "this month": today.replace(day=1),
            "this year": today.replace(month=1, day=1),
        }.get(span)
        if begins is not None:
            return begins, today, typed(at - 1, at + 1), range(at - 1, at + 1)
    when = next(iter(times(finder, today)), None)
    if when is None:
        return None, None, "", range(0)
    before = [word.form for word in words[max(0, when.start - 2) : when.start + 1]]
    counted = any(at in finder.numbers for at in range(when.start, when.end))
    lasts = when.since or (counted and bool({"last", "past", "since"} & set(before)))  # "in the last 10 days"
    start = when.start
    while lasts and start and words[start - 1].form in ("the", "last", "past", "since"):
        start -= 1
    return when.first, today if lasts else when.last, typed(start, when.end), range(start, when.end)
