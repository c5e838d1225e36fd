"""Days of the year, depths and areas as people tell them for beds."""

from __future__ import annotations

from typing import Final

from advisor.errors import HouseholdError
from advisor.household.dimensions import read_room
from advisor.household.measuring import figures_told
from advisor.household.shapes import Room

#: No bed is smaller than a flower pot, in m2.
LEAST_M2: Final = 0.01

#: No dressing is deeper, in cm: it would be a heap.
DEEPEST_CM: Final = 50.0


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
