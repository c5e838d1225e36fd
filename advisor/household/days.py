"""Days of the calendar as people tell them, within the years that a plan can reach."""

from __future__ import annotations

from contextlib import suppress
from datetime import date, datetime
from typing import Final

from advisor.errors import HouseholdError
from advisor.safe_text import one_line

#: Years a garden may be planned for: far from both ends of the calendar, so that months can be added and taken away.
FIRST_YEAR: Final = 1900
LAST_YEAR: Final = 2200


def calendar_day(value: object, where: str, example: str = "2025-10-04") -> date:
    """A day from TOML or from words such as "2025-10-04".

    Raises:
        HouseholdError: it is no day, or one in a year before 1900 or after 2200; one line with `where`.
    """
    told = value
    if isinstance(told, str):
        with suppress(ValueError):
            told = date.fromisoformat(told)
    if isinstance(told, datetime) or not isinstance(told, date):
        shown = one_line(str(value), 60)
        raise HouseholdError(f"'{shown}' is not a date", where=where, hint=f"write it as in {example}")
    if not FIRST_YEAR <= told.year <= LAST_YEAR:
        hint = f"the years go from {FIRST_YEAR} to {LAST_YEAR}"
        raise HouseholdError(f"{told.isoformat()} is too far from today", where=where, hint=hint)
    return told
