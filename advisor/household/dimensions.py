"""Sizes as people write them: "1.2 x 1.2 m" of ground, "300 L" of bin."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from advisor.errors import HouseholdError
from advisor.household import words
from advisor.household.counts import value_at
from advisor.household.measuring import figures_told, unit_at
from advisor.household.shapes import OwnMeasure, Room
from advisor.household.tokens import Token, shown, skip_hyphen, tokenize
from advisor.knowledge.base import Knowledge

#: The longest side of a room that is believed, in metres.
LONGEST_SIDE_M: Final = 1000.0

_FIGURES: Final = frozenset({*words.ONES, *words.TENS, *words.PARTS, *words.MULTIPLES, *words.ARTICLES} - {"a"})
_NO_SIZES: Final[Mapping[str, OwnMeasure]] = {}
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
    area = figures_told(text, "area") or ()
    if len(area) == 1 and area[0].unit is not None:
        return area[0].value * area[0].unit
    sides = _sides(tokens)
    if sides is None or len(sides) not in (2, 3):
        raise HouseholdError(f"'{shown(text)}' is not a room", where=where, hint=_ROOM_HINT)
    if not all(0 < side <= LONGEST_SIDE_M for side in sides):
        hint = f"each side lies between 0 and {LONGEST_SIDE_M:g} m; 'none' if there is no ground at all"
        raise HouseholdError(f"'{shown(text)}' cannot be a room", where=where, hint=hint)
    return Room(sides[0], sides[1], sides[2] if len(sides) == 3 else None)


def read_volume(
    text: str, where: str, knowledge: Knowledge | None = None, own: Mapping[str, OwnMeasure] = _NO_SIZES
) -> float:
    """A volume in litres: "300 L", "80 gal", "half a cubic metre", "2 cups"; with the rule base "6 barrows" as well.

    Args:
        own: the sizes of measures of one's own.

    Raises:
        HouseholdError: it is no volume; the error says where it was told.
    """
    told = figures_told(text, "volume") or ()
    if len(told) == 1 and told[0].unit is not None:
        return told[0].value * told[0].unit
    hint = "write it as in '300 L' or '80 gal'"
    quantity = None
    if knowledge is not None:
        from advisor.household.amounts import read_phrase

        hint = "as in 400 L, 6 barrows or 1 m3"
        phrase = read_phrase(text, knowledge)
        odd = any(sign.isdigit() for sign in phrase.name)  # "1e300 L" is not 300 L of "1e"
        quantity = None if odd else phrase.quantity
    if knowledge is None or quantity is None or quantity.measure not in (*knowledge.measures, "L"):
        if figures_told(text, "mass"):
            hint = "write how much room there is, as in '300 L' or '80 gal'"
            raise HouseholdError(f"'{shown(text)}' is a weight, not a volume", where=where, hint=hint)
        raise HouseholdError(f"'{shown(text)}' is not a volume", where=where, hint=hint)
    if quantity.measure == "L":
        if not any(token.kind == "number" or token.key in _FIGURES for token in tokenize(text)):
            raise HouseholdError(f"'{shown(text)}' is not a volume", where=where, hint=hint)  # "much", "a little"
        return quantity.count
    size = own.get(quantity.measure)
    return quantity.count * (size.litres if size is not None else knowledge.measures[quantity.measure].litres.typical)


def _sides(tokens: Sequence[Token]) -> list[float] | None:
    """The sides in metres, or nothing if the tokens are not sides all through."""
    told: list[tuple[float, float | None]] = []
    at = 0
    while True:
        number = value_at(tokens, at)
        if number is None:
            return None
        value, at = number[0].value, skip_hyphen(tokens, number[1])
        unit = unit_at(tokens, at, "length")
        if unit is not None:
            at = unit[1]
        told.append((value, unit[0] if unit is not None else None))
        if at == len(tokens):
            break
        if tokens[at].key not in _BY:
            return None
        at += 1
    sides: list[float] = []
    following = 1.0
    for value, worth in reversed(told):
        following = following if worth is None else worth
        sides.append(value * following)
    return sides[::-1]
