"""Lengths, areas and volumes in a line: "1.2 x 1.2", "4 by 6 feet", "a metre and a half square", "300 litres"."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Final

from advisor import units
from advisor.household import words
from advisor.household.counts import count_at, more_at, value_at
from advisor.household.measuring import unit_at
from advisor.household.shapes import Room
from advisor.household.tokens import Token, longest, singular, skip_hyphen
from advisor.records import dataclass

_TIMES = frozenset({"x", "by", "times", *words.TIMES})
_SIDES: Final[Mapping[str, str]] = {
    **dict.fromkeys(("long", "length", "deep", "depth"), "length"),
    **dict.fromkeys(("wide", "width", "across", "broad"), "width"),
    **dict.fromkeys(("high", "height", "tall", "headroom"), "height"),
}
_JOINERS = frozenset({"and", ",", "by", "x", "with"})
_BARE_CENTIMETRES = 30.0  # two bare numbers from here up are centimetres: nobody's heap has such room in metres
_LEAST_M, _MOST_M = 0.05, 1000.0


@dataclass(frozen=True, slots=True)
class Length:
    """So many of a unit of length; `unit` is its worth in metres, or nothing for a bare number."""

    value: float
    unit: float | None
    end: int

    def metres(self, otherwise: float = 1.0) -> float:
        """The length, a bare number counted in another unit."""
        return self.value * (self.unit if self.unit is not None else otherwise)


def length_at(tokens: Sequence[Token], at: int) -> Length | None:
    """The length that begins at a token: "1.2 m", "5 ft 6", "a metre and a half", "about 2", "3'"."""
    counted = count_at(tokens, at) if at < len(tokens) else None
    if counted is None:
        return None
    count, end = counted
    if count.none or count.negative or count.mass or not math.isfinite(count.value):
        return None
    found = unit_at(tokens, end, "length")
    if found is None:
        return None if count.article or count.vague else Length(count.value, None, end)
    unit, end = found
    more = more_at(tokens, end)
    if more is not None:
        return Length(count.value + more[0], unit, more[1])
    inches = value_at(tokens, end) if unit == units.FOOT_M else None
    if inches is not None and inches[0].value < 12:
        behind = unit_at(tokens, inches[1], "length")
        if behind is not None and behind[0] == units.INCH_M:
            return Length(count.value + inches[0].value / 12, unit, behind[1])
    return Length(count.value, unit, end)


def area_at(tokens: Sequence[Token], at: int) -> tuple[float, int, bool] | None:
    """An area in square metres, the place after it, and whether it was told as land: "2 m2", "half an acre"."""
    counted = count_at(tokens, at) if at < len(tokens) else None
    if counted is None:
        return None
    count, end = counted
    if count.none or count.negative or not math.isfinite(count.value):
        return None
    while end < len(tokens) and count.part and tokens[end].key in words.PART_LINKS:
        end += 1
    unit = unit_at(tokens, end, "area")
    if unit is None:
        return None
    land = singular(tokens[unit[1] - 1].key) in ("acre", "ha", "hectare")
    return count.value * unit[0], unit[1], land


def litres_at(tokens: Sequence[Token], at: int) -> tuple[float, int] | None:
    """An exact volume in litres, and the place after it: "300 litres", "80 gal", "half a cubic metre"."""
    counted = count_at(tokens, at) if at < len(tokens) else None
    if counted is None:
        return None
    count, end = counted
    while end < len(tokens) and count.part and tokens[end].key in words.PART_LINKS:
        end += 1
    found = longest(tokens, skip_hyphen(tokens, end), words.EXACT, 2)
    if found is None or count.none or count.negative:
        return None
    (dimension, (_, worth, _)), end = found
    litres = count.value * worth
    return (litres, end) if dimension == "L" and math.isfinite(litres) else None


def room_at(tokens: Sequence[Token], at: int) -> tuple[Room, int, bool] | None:
    """A ground plan, the place after it, and whether units or decimals show that it is one.

    "1.2 x 1.2 m", "4 by 6 feet and 5 high", "2 m square", "3 m long and 2 m wide".
    """
    first = length_at(tokens, at)
    if first is None:
        return None
    if first.unit is not None and first.end < len(tokens) and tokens[first.end].key == "square":
        side = first.metres()
        return (Room(_tidy(side), _tidy(side)), first.end + 1, True) if _sane(side) else None
    return _multiplied(tokens, first) or _sided(tokens, first)


def _multiplied(tokens: Sequence[Token], first: Length) -> tuple[Room, int, bool] | None:
    sides = [first]
    while len(sides) < 3 and sides[-1].end < len(tokens) and tokens[sides[-1].end].key in _TIMES:
        another = length_at(tokens, sides[-1].end + 1)
        if another is None:
            break
        sides.append(another)
    if len(sides) < 2:
        return None
    unit = next((side.unit for side in reversed(sides) if side.unit is not None), None)
    shown = unit is not None or any(not side.value.is_integer() for side in sides)
    if unit is None:
        unit = 0.01 if all(side.value >= _BARE_CENTIMETRES for side in sides) else 1.0
    end = sides[-1].end
    metres = [_tidy(side.metres(unit)) for side in sides]
    if len(metres) < 3:
        height, end = _height(tokens, end, unit)
        metres += [height] if height is not None else []
    if not all(_sane(side) for side in metres):
        return None
    return Room(metres[0], metres[1], metres[2] if len(metres) > 2 else None), end, shown


def _height(tokens: Sequence[Token], at: int, unit: float) -> tuple[float | None, int]:
    """ "and 2 m high" behind a ground plan."""
    behind = at + 1 if at < len(tokens) and tokens[at].key in _JOINERS else at
    more = length_at(tokens, behind)
    if more is not None and more.end < len(tokens) and _SIDES.get(tokens[more.end].key) == "height":
        return _tidy(more.metres(unit)), more.end + 1
    return None, at


def _sided(tokens: Sequence[Token], first: Length) -> tuple[Room, int, bool] | None:
    """ "3 m long and 2 m wide"."""
    sides: dict[str, float] = {}
    unit = first.unit or 1.0
    side: Length | None = first
    end = first.end
    while side is not None and side.end < len(tokens) and tokens[side.end].key in _SIDES:
        name = _SIDES[tokens[side.end].key]
        if name in sides:
            break
        sides[name] = _tidy(side.metres(unit))
        end = behind = side.end + 1
        while behind < len(tokens) and tokens[behind].key in _JOINERS:
            behind += 1
        side = length_at(tokens, behind)
    if not {"length", "width"} <= set(sides) or not all(_sane(value) for value in sides.values()):
        return None
    return Room(sides["length"], sides["width"], sides.get("height")), end, True


def _tidy(metres: float) -> float:
    """To the tenth of a millimetre."""
    return round(metres, 4)


def _sane(metres: float) -> bool:
    return math.isfinite(metres) and _LEAST_M <= metres <= _MOST_M
