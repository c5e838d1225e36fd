"""What is told of a check, read by its guide: numbers, lengths, volumes and words, into SI units.

Lengths come out in millimetres, volumes in litres, temperatures in °C, everything else as told.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from advisor.errors import HouseholdError
from advisor.household.dimensions import read_volume
from advisor.household.measuring import US_UNITS, figures_told, has_unit, read_figures
from advisor.knowledge.hints import hint
from advisor.knowledge.soil_shapes import Guide, GuideInput
from advisor.units import Units

Values = Mapping[str, tuple[float | str, ...]]

_NAMED = re.compile(r"([a-z_]+)\s*=\s*")

#: No heap is hotter, in °C; a bigger figure is in Fahrenheit.
_HOTTEST: Final = 99.0

#: How each kind may be written, where a figure could not be read.
_HINTS: Final[Mapping[str, str]] = {
    "length": "write it as in '15 cm' or '6 in'",
    "temperature": "write it as in '58' or '136 F'",
}
#: Units of time that plain numbers are asked for in.
_TIMES: Final = frozenset({"s", "min", "h", "days"})


def read_check_text(
    text: str, guides: Mapping[str, Guide], where: str, units: Units = "metric"
) -> tuple[str, dict[str, str]]:
    """ "ring width=6 in water=444 ml minutes=12.5 14" into the guide's id and what is told by name.

    Args:
        units: the units of bare figures.

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
    told = {name: value.strip(" ,;") for name, value in zip(names, values, strict=True)}
    return kind, in_units(told, guides[kind], units)


def bare_unit(asked: GuideInput, units: Units) -> str:
    """The unit in which a bare figure is read, or the unit of a plain number."""
    measured = asked.kind in ("length", "temperature")
    return US_UNITS.get(asked.unit, asked.unit) if measured and units == "us" else asked.unit


def in_units(told: Mapping[str, str], guide: Guide, units: Units) -> dict[str, str]:
    """What is told of a check, each bare length and temperature with the unit in which it was meant."""
    found = dict(told)
    for name, text in told.items():
        asked = guide.inputs.get(name)
        if asked is None or asked.kind not in ("length", "temperature") or bare_unit(asked, units) == asked.unit:
            continue
        if not has_unit(text, asked.kind):
            found[name] = f"{text} {bare_unit(asked, units)}"
    return found


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


def _lengths(text: str, unit: str, where: str) -> tuple[float, ...]:
    return tuple(metres * 1000 for metres in read_figures(text, "length", unit, where, _HINTS["length"]))


def _temperatures(text: str, where: str) -> tuple[float, ...]:
    """Degrees, each "58", "58 C" or "136 F"; a unit goes for those before it that have none."""
    degrees = read_figures(text, "temperature", "°C", where, _HINTS["temperature"])
    for celsius in degrees:
        if not -40 <= celsius <= _HOTTEST:
            bare = not has_unit(text, "temperature")
            hint_f = f"write '{celsius:g} F' if it is in Fahrenheit" if bare else "look at the thermometer again"
            raise HouseholdError(f"no heap is at {celsius:g} °C", where=where, hint=hint_f)
    return degrees


def _numbers(text: str, asked: GuideInput, where: str) -> tuple[float, ...]:
    """Plain numbers; a time in another unit than the one asked for is turned into that."""
    unit = asked.unit if asked.unit in _TIMES else ""
    if unit and has_unit(text, "time") and figures_told(text, "time"):
        days = read_figures(text, "time", unit, where, asked.ask)
        one = read_figures(f"1 {unit}", "time", "", where, asked.ask)[0]
        return tuple(round(told / one, 9) for told in days)
    return read_figures(_without_unit(text, asked.unit), "number", "", where, asked.ask)


def _without_unit(text: str, unit: str) -> str:
    """A text without the unit that a guide names for plain numbers: "4 dS/m"."""
    return re.sub(rf"(?<=[\d\s]){re.escape(unit)}(?![^\W_])", " ", text, flags=re.IGNORECASE) if unit else text
