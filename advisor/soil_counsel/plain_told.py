"""Days of the year, depths and areas as people tell them for beds."""

from __future__ import annotations

import re
from typing import Final

from advisor.errors import HouseholdError
from advisor.household.dimensions import read_room
from advisor.household.measuring import figures_told
from advisor.household.shapes import Room
from advisor.soil.green_manures import season_of

MonthDay = tuple[int, int]

MONTHS: Final = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip

#: No bed is smaller than a flower pot, in m2.
LEAST_M2: Final = 0.01

#: No dressing is deeper, in cm: it would be a heap.
DEEPEST_CM: Final = 50.0


def month_day(text: object, where: str) -> MonthDay:
    """A day of the year, "04-20", "20 April" or "Apr 20". Raises HouseholdError."""
    bare = str(text).strip().lower()
    match = re.fullmatch(r"(?P<month>\d{1,2})-(?P<day>\d{1,2})", bare)
    match = match or re.fullmatch(
        r"(?P<day>\d{1,2})\.? (?P<month>[a-z]{3,9})|(?P<m>[a-z]{3,9})\.? (?P<d>\d{1,2})", bare
    )
    if match is None:
        hint = "write month and day, as in '04-20'; where it never freezes say --frost-free, or frost_free = true"
        raise HouseholdError(f"'{text}' is no day of the year", where=where, hint=hint)
    parts = match.groupdict()
    found = (_month(parts["month"] or parts["m"], text, where), int(parts["day"] or parts["d"]))
    try:
        season_of(2027, found, (12, 31) if found != (12, 31) else (12, 30))
    except ValueError as error:
        raise HouseholdError(str(error), where=where, hint="write month and day, as in '04-20'") from None
    return found


def _month(word: str, text: object, where: str) -> int:
    if word.isdigit():
        return int(word)
    months = [name for name in MONTHS if name.lower().startswith(word)]
    if len(months) != 1:
        raise HouseholdError(
            f"'{text}' is no day of the year", where=where, hint="write it as in '04-20' or '20 April'"
        )
    return MONTHS.index(months[0]) + 1


def length_cm(text: object, where: str) -> float:
    """A depth, "2 cm" or "0.5 in". Raises HouseholdError."""
    told = figures_told(str(text), "length") or ()
    if len(told) != 1 or told[0].unit is None:
        raise HouseholdError(f"'{text}' is no depth", where=where, hint="write it as in '2 cm' or '0.5 in'")
    deep = told[0].value * round(told[0].unit * 100, 9)  # so that a depth in cm stays what it was
    if deep > DEEPEST_CM:
        raise HouseholdError(
            f"'{text}' is a heap and no dressing", where=where, hint=f"no more than {DEEPEST_CM:g} cm, or 20 in"
        )
    return deep


def area_m2(text: object, where: str) -> float:
    """An area, "1.2 x 6 m", "8 m2", "1/4 acre" or "0.1 ha". Raises HouseholdError."""
    hint = "write it as in '1.2 x 6 m', '8 m2', '4 x 20 ft' or '1/4 acre'"
    try:
        room = read_room(str(text), where)
    except HouseholdError as error:
        raise HouseholdError(f"'{text}' is no area", where=where, hint=hint) from error
    area = room.length_m * room.width_m if isinstance(room, Room) else room
    if not LEAST_M2 <= area <= 1e6:
        raise HouseholdError(f"'{text}' is no area for a bed", where=where, hint=hint)
    return area
