"""When something was: days, weekdays, months and spans of time, as dates before today.

Written out here and not left to a library: those tried read "may", "sat" and bare numbers as dates.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from contextlib import suppress
from datetime import date, timedelta

from advisor.hearing.cutting import Word
from advisor.hearing.finding import Finder
from advisor.household.days import FIRST_YEAR, MONTHS, date_at, month_number
from advisor.household.measuring import DAYS
from advisor.records import dataclass

#: The days of a week, from Monday on.
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_SHORT_DAYS = {day[:3]: number for number, day in enumerate(WEEKDAYS)} | {"tues": 1, "thurs": 3, "thur": 3}
#: Days of one, and how far off "about a month ago" may be, as a share.
_UNITS = {unit: DAYS[(unit,)] for unit in ("day", "week", "fortnight", "month", "year")} | {"hour": 0.0, "minute": 0.0}
_VAGUE = {"couple": 2.0, "few": 3.0, "several": 4.0, "a": 1.0, "an": 1.0, "one": 1.0, "half": 0.5}
#: Which month a season begins in, north of the equator; south of it, half a year on.
_SEASONS = {"spring": 3, "summer": 6, "autumn": 9, "fall": 9, "winter": 12}
#: Days cut short that are words of their own: "the sun", "I sat".
_OTHER_WORDS = frozenset({"sat", "sun", "wed", "mon"})
_NIGHTS = frozenset({"night", "evening", "weekend", "week", "month", "year"})
_BEHIND = frozenset({"ago", "since", "back", "now", "earlier", "old"})
_BEFORE = frozenset({"for", "since", "these", "past", "last", "in"})


@dataclass(frozen=True, slots=True)
class When:
    """A day, as it was said, or the first and the last that it may be.

    Attributes:
        first, last: the days it may be; the same if it is one day.
        said: the words.
        start, end: its words in the line.
        since: whether it lasts from then on.
    """

    first: date
    last: date
    said: str
    start: int
    end: int
    since: bool = False


def times(finder: Finder, today: date) -> tuple[When, ...]:
    """Every time that a line tells, none later than today."""
    words = finder.line.words
    found: list[When] = []
    at = 0
    while at < len(words):
        hit = next(iter(_at(finder, at, today)), None)
        if hit is None:
            at += 1
            continue
        first, last, end = hit
        since = at > 0 and words[at - 1].form == "since"
        found.append(When(first, last, finder.line.said(at, end), at, end, since))
        at = end
    return tuple(found)


def _at(finder: Finder, at: int, today: date) -> Iterator[tuple[date, date, int]]:
    words = finder.line.words
    yield from _named_day(words, at, today)
    yield from _ago(finder, at, today)
    yield from _weekday(words, at, today)
    yield from _month(finder, at, today)
    yield from _of_this_month(words, at, today)
    yield from _season(words, at, today)


def _form(words: Sequence[Word], at: int) -> str:
    return words[at].form if 0 <= at < len(words) else ""


def _named_day(words: Sequence[Word], at: int, today: date) -> Iterator[tuple[date, date, int]]:
    form, following = _form(words, at), _form(words, at + 1)
    if form in ("today", "tonight") or (
        form == "this" and following in ("morning", "afternoon", "evening", "am", "pm")
    ):
        yield today, today, at + (1 if form != "this" else 2)
    elif form == "just" and following == "now":
        yield today, today, at + 2
    elif form == "day" and following == "before" and _form(words, at + 2) == "yesterday":
        yield today - timedelta(2), today - timedelta(2), at + 3
    elif form == "yesterday":
        yield today - timedelta(1), today - timedelta(1), at + 1
    elif form == "last" and following in _NIGHTS:
        yield *_last(following, today), at + 2
    elif form == "night" and following == "before" and _form(words, at + 2) == "last":
        yield today - timedelta(2), today - timedelta(2), at + 3
    elif form == "the" and following == "weekend" and _form(words, at - 1) in ("at", "over", "on"):
        yield *_last("weekend", today), at + 2
    elif form == "other" and following == "day":
        yield today - timedelta(6), today - timedelta(2), at + 2


def _last(what: str, today: date) -> tuple[date, date]:
    if what in ("night", "evening"):
        return today - timedelta(1), today - timedelta(1)
    if what == "weekend":
        sunday = today - timedelta(today.weekday() + 1)
        return sunday - timedelta(1), sunday
    if what == "week":
        monday = today - timedelta(today.weekday() + 7)
        return monday, monday + timedelta(6)
    if what == "month":
        end = today.replace(day=1) - timedelta(1)
        return end.replace(day=1), end
    return date(today.year - 1, 1, 1), date(today.year - 1, 12, 31)


def _ago(finder: Finder, at: int, today: date) -> Iterator[tuple[date, date, int]]:
    """ "three weeks ago", "a fortnight since", "6 weeks old", "a couple of days back"."""
    words = finder.line.words
    count, place = 0.0, at
    if at in finder.numbers:
        count, place = finder.numbers[at]
    elif _form(words, at) in _VAGUE and not _form(words, at - 1).isdigit():
        count, place = _VAGUE[_form(words, at)], at + 1
        if _form(words, place) in ("couple", "few", "half"):
            count, place = _VAGUE[_form(words, place)], place + 1
    if _form(words, place) in ("of", "a", "an"):
        place += 1
    unit = words[place].lemma if place < len(words) else ""
    if place == at or unit not in _UNITS:
        return
    behind = _form(words, place + 1)
    if behind not in _BEHIND and _form(words, at - 1) not in _BEFORE:
        return
    days = count * _UNITS[unit]
    slack = timedelta(round(0.15 * days)) if unit in ("month", "year") or count != int(count) else timedelta(0)
    middle = today - timedelta(round(min(days, 36500)))
    yield middle - slack, min(today, middle + slack), place + (2 if behind in _BEHIND else 1)


def _weekday(words: Sequence[Word], at: int, today: date) -> Iterator[tuple[date, date, int]]:
    start = at
    if _form(words, at) in ("on", "last", "since"):
        at += 1
    form = _form(words, at).rstrip("s") if _form(words, at) not in ("tues", "thurs") else _form(words, at)
    number = WEEKDAYS.index(form) if form in WEEKDAYS else _SHORT_DAYS.get(form, -1)
    if number < 0 or (form in _OTHER_WORDS and start == at and not _begins_entry(words, at)):
        return
    day = today - timedelta((today.weekday() - number - 1) % 7 + 1)  # of today one says "today"
    if _form(words, at + 1) == "week":  # "Tuesday week": a week before that
        day, at = day - timedelta(7), at + 1
    yield day, day, at + 1


def _begins_entry(words: Sequence[Word], at: int) -> bool:
    """Whether a word is the day of an entry: first in a line with a colon or comma, or with a figure: "Sun: ..."."""
    before = words[at - 1] if at else None
    leads = before is None or before.mark or before.form in ("heap", "bin", "pile", "tumbler")
    if leads and re.fullmatch(r"\d{2,3}", _form(words, at + 1)) and _other_day(words, at):
        return True  # "Mon 55, Tue 58"
    colon = len(words) > 1 and words[1].end - words[1].start == 1  # which is read as "is"
    return at == 0 and colon and _form(words, 1) in (":", ",", "is")


def _other_day(words: Sequence[Word], at: int) -> bool:
    """Whether another day of the week stands in a line, before a figure as well."""
    days = {*_SHORT_DAYS, *WEEKDAYS}
    return any(
        words[other].form in days and re.fullmatch(r"\d{2,3}", _form(words, other + 1))
        for other in range(len(words))
        if other != at
    )


def _of_this_month(words: Sequence[Word], at: int, today: date) -> Iterator[tuple[date, date, int]]:
    """ "on the 14th": the last such day of a month that has one."""
    numeral = re.fullmatch(r"(\d{1,2})(?:st|nd|rd|th)", _form(words, at + 1))
    lead = _form(words, at) == "the" and (_form(words, at - 1) in ("on", "since", "") or at == 0)
    if numeral is None or not lead or not 1 <= int(numeral[1]) <= 31:
        return
    following = _form(words, at + 2)
    if following.isalpha() and following not in ("and", "it", "i", "we"):
        return  # "the 3rd of May" is read as a whole, and "the 3rd turn" is no day
    first = today.replace(day=1)
    while True:
        with suppress(ValueError):
            day = first.replace(day=int(numeral[1]))
            if day <= today:
                yield day, day, at + 2
                return
        first = (first - timedelta(1)).replace(day=1)


def _month(finder: Finder, at: int, today: date) -> Iterator[tuple[date, date, int]]:
    """ "since May", "1 March", "March 1st 2025", "2026-03-01", "in early June"; "may" alone is no month."""
    words = finder.line.words
    told = date_at([word.form for word in words], at)
    if told is not None:
        year, month, day, end = told
        if year is None:
            yield *_latest(month, day, today), end
        elif year >= FIRST_YEAR and date(year, month, day) <= today:
            yield date(year, month, day), date(year, month, day), end
        return
    lead = _form(words, at - 1)
    if lead not in ("since", "in", "from", "early", "late", "mid", "last", "of", "on", "until", "by"):
        return
    month = month_number(_form(words, at))
    if month:
        yield *_latest(month, 0, today), at + 1


def _latest(month: int, day: int, today: date) -> tuple[date, date]:
    """The last such day or month that is not after today."""
    for year in (today.year, today.year - 1, today.year - 2, today.year - 3, today.year - 4):
        try:
            first = date(year, month, day or 1)
        except ValueError:  # 29 February
            continue
        if first <= today:
            last = first if day else (date(year + month // 12, month % 12 + 1, 1) - timedelta(1))
            return first, min(last, today)
    return today, today


def _season(words: Sequence[Word], at: int, today: date) -> Iterator[tuple[date, date, int]]:
    form = _form(words, at)
    if form in _SEASONS and _form(words, at - 1) in ("since", "last", "in", "this"):
        first, _ = _latest(_SEASONS[form], 1, today)
        yield first, min(today, first + timedelta(90)), at + 1


def day_text(day: date) -> str:
    """A day as people say it: "Sunday 29 November"."""
    return f"{WEEKDAYS[day.weekday()].capitalize()} {day.day} {MONTHS[day.month - 1]}"
