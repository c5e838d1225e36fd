"""Sizes as people write them: "1.2 x 1.2 m" of ground, "300 L" of bin."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from advisor.errors import HouseholdError
from advisor.household import words
from advisor.household.counts import value_at
from advisor.household.shapes import Room
from advisor.household.tokens import Token, longest, shown, singular, skip_hyphen, tokenize
from advisor.units import FOOT_M, INCH_M, YARD_M

#: The longest side of a room that is believed, in metres.
LONGEST_SIDE_M: Final = 1000.0

_METRES: Final = {
    "m": 1.0,
    "metre": 1.0,
    "meter": 1.0,
    "cm": 0.01,
    "centimetre": 0.01,
    "centimeter": 0.01,
    "mm": 0.001,
    "ft": FOOT_M,
    "foot": FOOT_M,
    "'": FOOT_M,
    "′": FOOT_M,
    "in": INCH_M,
    "inch": INCH_M,
    '"': INCH_M,
    "″": INCH_M,
    "yd": YARD_M,
    "yard": YARD_M,
}
_AREAS: Final = {
    ("m2",): 1.0,
    ("sqm",): 1.0,
    ("sq", "m"): 1.0,
    ("square", "metre"): 1.0,
    ("square", "meter"): 1.0,
    ("ft2",): FOOT_M**2,
    ("sq", "ft"): FOOT_M**2,
    ("square", "foot"): FOOT_M**2,
    ("yd2",): YARD_M**2,
    ("square", "yard"): YARD_M**2,
}
_BY: Final = words.TIMES | {"by"}
_ROOM_HINT: Final = "write it as in '1.2 x 1.2 m', '1.2 x 1.2 x 1 m' with the height, '4 x 6 ft', '3 m2' or 'none'"


def read_room(text: str, where: str) -> Room | float:
    """Free ground: a room of so many metres each way, or an area in square metres.

    A side without a unit has that of the side after it, and metres if none has one. "none" is a room of no size.

    Raises:
        HouseholdError: it is no size, or not one that can be; the error says where it was told.
    """
    tokens = tokenize(text)
    if [token.key for token in tokens] in (["none"], ["0"]):
        return Room(0.0, 0.0)
    area = _area(tokens)
    if area is not None:
        return area
    sides = _sides(tokens)
    if sides is None or len(sides) not in (2, 3):
        raise HouseholdError(f"'{shown(text)}' is not a room", where=where, hint=_ROOM_HINT)
    if not all(0 < side <= LONGEST_SIDE_M for side in sides):
        hint = f"each side lies between 0 and {LONGEST_SIDE_M:g} m; 'none' if there is no ground at all"
        raise HouseholdError(f"'{shown(text)}' cannot be a room", where=where, hint=hint)
    return Room(sides[0], sides[1], sides[2] if len(sides) == 3 else None)


def read_volume(text: str, where: str) -> float:
    """A volume in litres, told in an exact unit: "300 L", "80 gal", "1.2 m3".

    Raises:
        HouseholdError: it is no volume; the error says where it was told.
    """
    tokens = tokenize(text)
    number = value_at(tokens, 0)
    unit = longest(tokens, skip_hyphen(tokens, number[1]), words.EXACT, 2) if number is not None else None
    if number is None or unit is None or unit[1] != len(tokens):
        raise HouseholdError(f"'{shown(text)}' is not a volume", where=where, hint="write it as in '300 L' or '80 gal'")
    dimension, worth = unit[0]
    if dimension != "L":
        hint = "write how much room there is, as in '300 L' or '80 gal'"
        raise HouseholdError(f"'{shown(text)}' is a weight, not a volume", where=where, hint=hint)
    return number[0].value * worth[1]


def _area(tokens: Sequence[Token]) -> float | None:
    number = value_at(tokens, 0)
    unit = longest(tokens, skip_hyphen(tokens, number[1]), _AREAS, 2) if number is not None else None
    if number is None or unit is None or unit[1] != len(tokens):
        return None
    return number[0].value * unit[0]


def _sides(tokens: Sequence[Token]) -> list[float] | None:
    """The sides in metres, or nothing if the tokens are not sides all through."""
    told: list[tuple[float, float | None]] = []
    at = 0
    while True:
        number = value_at(tokens, at)
        if number is None:
            return None
        value, at = number[0].value, skip_hyphen(tokens, number[1])
        sign = tokens[at].key if at < len(tokens) else ""
        unit = _METRES.get(sign, _METRES.get(singular(sign)))
        if unit is not None:
            at += 1
        told.append((value, unit))
        if at == len(tokens):
            break
        if tokens[at].key not in _BY:
            return None
        at += 1
    sides: list[float] = []
    following = 1.0
    for value, unit in reversed(told):
        following = following if unit is None else unit
        sides.append(value * following)
    return sides[::-1]
