"""What is told of a check, read by its guide: numbers, lengths, volumes and words, into SI units.

Lengths come out in millimetres, volumes in litres, temperatures in °C, everything else as told.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Final

from advisor.errors import HouseholdError
from advisor.household.dimensions import read_volume
from advisor.knowledge.hints import hint
from advisor.knowledge.soil_shapes import Guide, GuideInput
from advisor.units import FOOT_M, INCH_M

Values = Mapping[str, tuple[float | str, ...]]

_MM: Final[Mapping[str, float]] = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "in": INCH_M * 1000,
    "inch": INCH_M * 1000,
    "inches": INCH_M * 1000,
    '"': INCH_M * 1000,
    "ft": FOOT_M * 1000,
    "foot": FOOT_M * 1000,
    "feet": FOOT_M * 1000,
}
_MEASURED = re.compile(r"(?P<number>\d+(?:\.\d+)?|\.\d+)\s*(?P<unit>[A-Za-z\"]+)?")
_NUMBER = re.compile(r"-?(?:\d+(?:\.\d+)?|\.\d+)")
_NAMED = re.compile(r"([a-z_]+)\s*=\s*")

_DEGREES = re.compile(r"(?P<number>-?\d+(?:\.\d+)?)\s*°?\s*(?P<unit>[CFcf]\b)?")

#: No heap is hotter, in °C; a bigger figure is in Fahrenheit.
_HOTTEST: Final = 99.0

#: No reading of a garden is bigger.
_MOST: Final = 1e6


def read_check_text(text: str, guides: Mapping[str, Guide], where: str) -> tuple[str, dict[str, str]]:
    """ "ring width=6 in water=444 ml minutes=12.5 14" into the guide's id and what is told by name.

    Raises:
        HouseholdError: no such check, or words that belong to no name.
    """
    kind, _, rest = text.strip().partition(" ")
    if kind not in guides:
        raise HouseholdError(f"there is no check '{kind}'", where=where, hint=hint(kind, guides))
    parts = _NAMED.split(rest.strip())
    if parts[0].strip(" ,;"):
        inputs = " ".join(f"{name}=..." for name in guides[kind].inputs)
        raise HouseholdError(f"'{parts[0].strip()}' belongs to nothing", where=where, hint=f"write {kind} {inputs}")
    names, values = parts[1::2], parts[2::2]
    return kind, {name: value.strip(" ,;") for name, value in zip(names, values, strict=True)}


def read_values(told: Mapping[str, object], guide: Guide, where: str) -> Values:
    """What is told of a check, by the names of its inputs; what has a default and was not told takes it.

    Args:
        told: texts, numbers, or lists of them.

    Raises:
        HouseholdError: a name the guide has not, something it needs that is missing, or a value that cannot be read.
    """
    for name in told:
        if name not in guide.inputs:
            raise HouseholdError(f"{guide.name} asks for no '{name}'", where=where, hint=hint(name, guide.inputs))
    found: dict[str, tuple[float | str, ...]] = {}
    for name, asked in guide.inputs.items():
        value = told.get(name, asked.default)
        values = () if value in ("", None) else _values(value, asked, f"{where}, {name}")
        if not values:
            if not asked.optional:
                raise HouseholdError(f"{guide.name} needs '{name}'", where=where, hint=asked.ask)
            continue
        if len(values) > 1 and not asked.many:
            raise HouseholdError("one value is asked for here", where=f"{where}, {name}", hint=asked.ask)
        found[name] = values
    return found


def _values(value: object, asked: GuideInput, where: str) -> tuple[float | str, ...]:
    if isinstance(value, list | tuple):
        return tuple(each for item in value for each in _values(item, asked, where))
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise HouseholdError(f"'{value}' is neither a number nor a text", where=where, hint=asked.ask)
    text = str(value)
    if asked.kind == "words":
        return _words(text, asked, where)
    if asked.kind == "volume":
        return (read_volume(text, where),)
    if asked.kind == "length":
        return _lengths(text, asked.unit, where)
    if asked.kind == "temperature":
        return _temperatures(text, where)
    return _numbers(text, asked, where)


def _words(text: str, asked: GuideInput, where: str) -> tuple[str, ...]:
    words = [word for word in re.split(r"[,;\s]+", text.strip().lower()) if word]
    for word in words:
        if word not in asked.words:
            raise HouseholdError(f"'{word}' is none of the words here", where=where, hint=hint(word, asked.words))
    return tuple(words)


def _numbers(text: str, asked: GuideInput, where: str) -> tuple[float, ...]:
    rest = _NUMBER.sub(" ", text)
    stray = [word for word in re.split(r"[,;\s%]+", rest) if word and word.lower() != asked.unit.lower()]
    numbers = tuple(float(number) for number in _NUMBER.findall(text))
    if stray or not numbers:
        raise HouseholdError(f"'{text}' is no number", where=where, hint=asked.ask)
    return tuple(_bounded(number, where) for number in numbers)


def _lengths(text: str, unit: str, where: str) -> tuple[float, ...]:
    found: list[tuple[float, str]] = []
    rest = text
    for match in _MEASURED.finditer(text):
        told = (match["unit"] or "").lower()
        if told and told not in _MM:
            raise HouseholdError(f"'{match[0]}' is no length", where=where, hint="write it as in '15 cm' or '6 in'")
        found.append((float(match["number"]), told))
        rest = rest.replace(match[0], " ", 1)
    if not found or rest.strip(" ,;\t"):
        raise HouseholdError(f"'{text}' is no length", where=where, hint="write it as in '15 cm' or '6 in'")
    return tuple(_bounded(number * _MM[own], where) for number, own in _with_units(found, unit))


def _temperatures(text: str, where: str) -> tuple[float, ...]:
    """Degrees, each "58", "58 C" or "136 F"; a unit goes for those before it that have none."""
    found: list[tuple[float, str]] = []
    rest = text
    for match in _DEGREES.finditer(text):
        found.append((float(match["number"]), (match["unit"] or "").upper()))
        rest = rest.replace(match[0], " ", 1)
    if not found or rest.strip(" ,;\t"):
        raise HouseholdError(f"'{text}' is no temperature", where=where, hint="write it as in '58' or '136 F'")
    degrees = []
    for number, unit in _with_units(found, "C"):
        celsius = (number - 32) / 1.8 if unit == "F" else number
        if not -40 <= celsius <= _HOTTEST:
            hint_f = f"write '{number:g} F' if it is in Fahrenheit" if unit == "C" else "look at the thermometer again"
            raise HouseholdError(f"no heap is at {number:g} °{unit}", where=where, hint=hint_f)
        degrees.append(celsius)
    return tuple(degrees)


def _with_units(found: Sequence[tuple[float, str]], unit: str) -> list[tuple[float, str]]:
    """A length without a unit has that of the next one that has, as in "10, 15 cm"; else the guide's own."""
    told: list[tuple[float, str]] = []
    current = next((own for _, own in reversed(found) if own), unit)
    for number, own in reversed(found):
        current = own or current
        told.append((number, current))
    return told[::-1]


def _bounded(number: float, where: str) -> float:
    if not abs(number) <= _MOST:
        raise HouseholdError(f"{number:g} is out of all bounds", where=where)
    return number
