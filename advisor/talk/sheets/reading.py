"""Words of answers that several sheets read: days, volumes, areas, names."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from itertools import pairwise

from advisor.errors import HouseholdError
from advisor.household.amounts import read_phrase
from advisor.household.dimensions import read_volume
from advisor.household.tokens import shown
from advisor.soil_counsel.ground import MonthDay, month_day
from advisor.talk.sheets.world import World

_LONGEST_NAME = 60
_DATES = ("%Y-%m-%d", "%d %B %Y", "%d %b %Y", "%B %d %Y", "%b %d %Y", "%d.%m.%Y")
_DAYS = ("%d %B %Y", "%d %b %Y", "%B %d %Y", "%b %d %Y")
_LEAP = 2028  # any year with a 29th of February
_ORDINAL = re.compile(r"(?<=\d)(?:st|nd|rd|th)\b", re.IGNORECASE)
_OF = re.compile(r"\b(?:of|the|about|around|on)\b", re.IGNORECASE)
_AGO = re.compile(r"(?:a|an|one|(?P<count>\d{1,3}|two|three|four|five|six|ten)) (?P<unit>day|week|month|year)s? ago")
_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_LAST = re.compile(rf"(?:last |this )?(?P<what>{'|'.join(_WEEKDAYS)})|last (?P<unit>week|month|year)")
_SPELLED = {
    "none": 0.0,
    "no": 0.0,
    "never": 0.0,
    "a": 1.0,
    "an": 1.0,
    "one": 1.0,
    "two": 2.0,
    "couple": 2.0,
    "three": 3.0,
    "four": 4.0,
    "five": 5.0,
    "six": 6.0,
    "seven": 7.0,
    "eight": 8.0,
    "nine": 9.0,
    "ten": 10.0,
    "eleven": 11.0,
    "twelve": 12.0,
    "dozen": 12.0,
    "fifteen": 15.0,
    "sixteen": 16.0,
    "eighteen": 18.0,
    "twenty": 20.0,
    "thirty": 30.0,
    "forty": 40.0,
    "fifty": 50.0,
}
_SHY = frozenset({"a", "an", "no", "none", "never"})
_WORDS = re.compile(r"[^\W\d_]+")
_HALF = re.compile(r"\bhalf (?:a|an)\b|\b(?P<whole>an?|one)? ?(?P<unit>day|week|month|year)s? and a half\b")
_SPAN = re.compile(r"\b(day|week|month|year)s?\b")
_DAYS_OF = {"day": 1, "week": 7, "month": 30, "year": 365}
_LASTS = {"day": 1.0, "week": 7.0, "month": 365.25 / 12, "year": 365.25}


def day_said(text: str, today: date) -> date:
    """A day that has been: "today", "yesterday", "3 weeks ago", "2026-04-01", "1 April", "April 1 2025".

    Raises:
        HouseholdError: it is none, or is still to come.
    """
    bare = _plain(text)
    if bare in ("today", "now", "just now", "this morning"):
        return today
    if bare == "yesterday":
        return today - timedelta(days=1)
    since = _LAST.fullmatch(bare)
    if since is not None:
        return today - timedelta(days=_days_since(since["what"], since["unit"], today))
    ago = _AGO.fullmatch(bare)
    if ago is not None:
        told = ago["count"] or "1"
        count = int(told) if told.isdigit() else int(_SPELLED.get(told, 1))
        return today - timedelta(days=count * _DAYS_OF[ago["unit"]])
    found = _parsed(bare, _DATES)
    if found is None:
        found = _parsed(f"{bare} {today.year}", _DAYS)
        if found is not None and found > today:
            found = _parsed(f"{bare} {today.year - 1}", _DAYS)
    if found is None:
        raise HouseholdError(f"“{shown(text)}” is no day", hint="say today, or write it as in 2026-04-01 or 1 April")
    if found > today:
        raise HouseholdError(f"{found.isoformat()} is still to come", hint="say the day on which it was done")
    return found


def _days_since(weekday: str | None, unit: str | None, today: date) -> int:
    """How long ago the last day of a name was, at least one day; or the last week, month or year."""
    if weekday is None:
        return _DAYS_OF[unit or "week"]
    return (today.weekday() - _WEEKDAYS.index(weekday) - 1) % 7 + 1


def spelled_out(text: str) -> str:
    """The same with numbers in words written in figures: "five, seven and 2" is "5, 7 and 2"."""
    return _WORDS.sub(lambda word: _figures(word[0]), text)


def _figures(word: str) -> str:
    number = _SPELLED.get(word.casefold())
    return f"{number:g}" if number is not None and word.casefold() not in _SHY | {"couple", "dozen"} else word


def frost_said(text: str) -> MonthDay:
    """A day of the year: "20 April", "April 20", "04-20".

    Raises:
        HouseholdError: it is none.
    """
    bare = _plain(text)
    found = _parsed(f"{bare} {_LEAP}", _DAYS)
    if found is not None:
        return month_day(f"{found.month}-{found.day}", "the frost")
    if re.fullmatch(r"\d{1,2}-\d{1,2}", bare) is None:
        raise HouseholdError(
            f"“{shown(text)}” is no day of the year", hint="as in 20 April, or 04-20 for month and day"
        )
    return month_day(bare, "the frost")


def _plain(text: str) -> str:
    return " ".join(_OF.sub(" ", _ORDINAL.sub("", text.replace(",", " "))).split()).strip(" .").lower()


def _parsed(text: str, shapes: tuple[str, ...]) -> date | None:
    for shape in shapes:
        try:
            return datetime.strptime(text, shape).date()
        except ValueError:
            continue
    return None


def volume_said(text: str, world: World) -> float:
    """A volume in litres: "400 L", "half a cubic metre", "6 barrows", "about 3 buckets".

    Raises:
        HouseholdError: it is none.
    """
    try:
        return read_volume(text, "")
    except HouseholdError:
        phrase = read_phrase(text, world.knowledge)
        quantity = phrase.quantity
        if quantity is None or quantity.measure not in (*world.knowledge.measures, "L"):
            raise HouseholdError(f"“{shown(text)}” is no volume", hint="as in 400 L, 6 barrows or 1 m3") from None
        if quantity.measure == "L":
            return quantity.count
        own = world.household.measures.get(quantity.measure)
        each = own.litres if own is not None else world.knowledge.measures[quantity.measure].litres.typical
        return quantity.count * each


def number_said(text: str, low: float, high: float, what: str) -> float:
    """A number within bounds, alone or with words about it: "about 3", "3 weeks".

    Where `what` is "weeks" or "years", a time in another unit comes out in that: "2 months" are 8.7 weeks.

    Raises:
        HouseholdError: there is none, or it is out of bounds.
    """
    bare = " ".join(text.casefold().split())
    found = [float(number.replace(",", ".")) for number in re.findall(r"\d+(?:[.,]\d+)?", bare)]
    half = _HALF.search(bare)
    if not found and half is not None:
        found = [1.5 if half["unit"] else 0.5]
    if not found:
        found = _spelled(bare, what)
    if len(found) != 1:
        raise HouseholdError(f"“{shown(text)}” is no number", hint=f"{what}, {low:g} to {high:g}")
    number = found[0] * _times(bare, what)
    if not low <= number <= high:
        raise HouseholdError(f"{number:g} cannot be", hint=f"{what}, {low:g} to {high:g}")
    return number


def _spelled(bare: str, what: str) -> list[float]:
    """Numbers in words; "a" and "no" are numbers only before what is counted, or alone."""
    words = _WORDS.findall(bare)
    counted = {*_LASTS, *(word.removesuffix("s") for word in what.split())}
    found = [
        _SPELLED[word]
        for word, after in pairwise([*words, ""])
        if word in _SPELLED
        and (word not in _SHY or len(words) == 1 or after.removesuffix("s") in counted)
        and not (word in _SHY and after in _SPELLED)
    ]
    return list(dict.fromkeys(found))


def _times(bare: str, what: str) -> float:
    """How many of what is asked for the unit of time that was said comes to."""
    own = what.removesuffix("s")
    said = {unit for unit in _SPAN.findall(bare) if unit in _LASTS}
    if own not in _LASTS or own in said or len(said) != 1:
        return 1.0
    return _LASTS[said.pop()] / _LASTS[own]


def name_said(text: str) -> str:
    """A name, in one line and not too long.

    Raises:
        HouseholdError: there is nothing of it.
    """
    name = " ".join(text.split()).strip("\"'“”‘’.,;:!? ")[:_LONGEST_NAME].strip()
    if not name:
        raise HouseholdError("that is no name", hint="any word will do, such as “by the fence”")
    return name
