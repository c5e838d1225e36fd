"""Days of the calendar as people tell them, within the years that a plan can reach."""

from __future__ import annotations

import re
from collections.abc import Sequence
from contextlib import suppress
from datetime import date, datetime
from typing import Final

from advisor.errors import HouseholdError
from advisor.household.tokens import tokenize
from advisor.safe_text import one_line

#: Month and day.
MonthDay = tuple[int, int]

MONTHS: Final = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
#: Years a garden may be planned for: far from both ends of the calendar, so that months can be added and taken away.
FIRST_YEAR: Final = 1900
LAST_YEAR: Final = 2200

_LEAST_LETTERS = 3
_COMMON_YEAR = 2027
_ORDINAL = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?")
_ENDINGS: Final = frozenset({"st", "nd", "rd", "th"})
#: Days that stand for a part of a month. Our own estimate.
_PARTS: Final = {"early": 5, "beginning": 5, "start": 5, "mid": 15, "middle": 15, "late": 25, "end": 25}
_PASSED_OVER: Final = frozenset({"on", "the", "of", "about", "around", "usually", "in", ",", ".", "-"})


def month_number(word: str) -> int:
    """The number of a month, 1 to 12, by its name or at least the first three letters of it; 0 if it is none."""
    bare = word.casefold().rstrip(".")
    if len(bare) < _LEAST_LETTERS:
        return 0
    return next((number for number, name in enumerate(MONTHS, 1) if name.casefold().startswith(bare)), 0)


def date_at(words: Sequence[str], at: int) -> tuple[int | None, int, int, int] | None:
    """A day that begins at a word: its year if it was said, its month and day, and the place after it.

    Reads "1 April", "the 1st of April 2026" from the figure on, "Apr 1st, 2026", "2026-04-01" and "1.4.2026".

    Args:
        words: in small letters, with marks as words of their own.
    """
    found = _in_figures(words, at) or _in_words(words, at)
    if found is None:
        return None
    year, month, day, end = found
    with suppress(ValueError):
        date(year or 2028, month, day)  # a year with a 29th of February
        return year, month, day, end
    return None


def _in_figures(words: Sequence[str], at: int) -> tuple[int | None, int, int, int] | None:
    told = list(words[at : at + 5])
    if len(told) == 5 and told[1] == told[3] == "-" and all(part.isdigit() for part in told[::2]) and len(told[0]) == 4:
        return int(told[0]), int(told[2]), int(told[4]), at + 5
    german = re.fullmatch(r"(\d{1,2})\.(\d{1,2})\.(\d{4})", "".join(told))
    if german is not None and told[0] != german[0]:
        return int(german[3]), int(german[2]), int(german[1]), at + 5
    whole = re.fullmatch(r"(\d{1,2})\.(\d{1,2})\.(\d{4})", words[at]) if at < len(words) else None
    return (int(whole[3]), int(whole[2]), int(whole[1]), at + 1) if whole is not None else None


def _in_words(words: Sequence[str], at: int) -> tuple[int | None, int, int, int] | None:
    day, place = _day(words, at)
    if day:
        place += place < len(words) and words[place] == "of"
    month = month_number(words[place]) if place < len(words) else 0
    if not month:
        return None
    end = place + 1
    end += end < len(words) and words[end] == "."
    if not day:
        behind = end + (end < len(words) and words[end] == "the")
        day, end = _day(words, behind)
    if not day:
        return None
    comma = end + (end < len(words) and words[end] == ",")
    if comma < len(words) and re.fullmatch(r"(?:19|20|21)\d\d", words[comma]):
        return int(words[comma]), month, day, comma + 1
    return None, month, day, end


def _day(words: Sequence[str], at: int) -> tuple[int, int]:
    """A day of a month and the place after it; 0 if there is none."""
    match = _ORDINAL.fullmatch(words[at]) if at < len(words) else None
    if match is None or not 1 <= int(match[1]) <= 31:
        return 0, at
    end = at + 1
    if end < len(words) and (words[end] in _ENDINGS or words[end] == "."):
        end += 1
    return int(match[1]), end


def month_day(text: object, where: str) -> MonthDay:
    """A day of the year: "20 April", "April 20th", "mid April"; in figures month and day, "04-20".

    Raises:
        HouseholdError: it is none.
    """
    words = [token.key for token in tokenize(str(text).strip())]
    figures = re.fullmatch(r"(\d{1,2})-(\d{1,2})", "".join(words))
    found = (int(figures[1]), int(figures[2])) if figures is not None else _day_of_year(words)
    hint = "write it as in 20 April, or 04-20 for month and day; where it never freezes, say so"
    if found is not None:
        with suppress(ValueError):
            date(_COMMON_YEAR, *found)
            return found
    raise HouseholdError(f"'{one_line(str(text), 60)}' is no day of the year", where=where, hint=hint)


def _day_of_year(words: Sequence[str]) -> MonthDay | None:
    for at in range(len(words)):
        told = date_at(words, at)
        if told is not None:
            rest = {*words[:at], *words[told[3] :]}
            return (told[1], told[2]) if rest <= _PASSED_OVER else None
    months = [month_number(word) for word in words if month_number(word)]
    parts = [_PARTS[word] for word in words if word in _PARTS]
    rest = {word for word in words if word not in _PARTS and not month_number(word)}
    return (months[0], parts[0]) if len(months) == len(parts) == 1 and rest <= _PASSED_OVER else None


def calendar_day(value: object, where: str, example: str = "2025-10-04") -> date:
    """A day from TOML or from words with its year, such as "2025-10-04" or "4 October 2025".

    Raises:
        HouseholdError: it is no day, or one in a year before 1900 or after 2200; one line with `where`.
    """
    told = value
    if isinstance(told, str):
        words = [token.key for token in tokenize(told.strip())]
        found = date_at(words, 0)
        if found is not None and found[0] is not None and found[3] == len(words):
            told = date(found[0], found[1], found[2])
    if isinstance(told, datetime) or not isinstance(told, date):
        shown = one_line(str(value), 60)
        raise HouseholdError(f"'{shown}' is not a date", where=where, hint=f"write it as in {example}")
    if not FIRST_YEAR <= told.year <= LAST_YEAR:
        hint = f"the years go from {FIRST_YEAR} to {LAST_YEAR}"
        raise HouseholdError(f"{told.isoformat()} is too far from today", where=where, hint=hint)
    return told
