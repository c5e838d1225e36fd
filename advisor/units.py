"""Exact units, and figures written for people in metric or United States units.

Everything inside the program is in litres, kilograms, metres and degrees Celsius. This module knows what a
unit is worth and how many digits a gardener can use; it knows nothing of compost.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Final, Literal

Units = Literal["metric", "us"]

#: What the units are worth. Source: definitions of the international yard and pound (1959), the US gallon of
#: 231 cubic inches and the imperial gallon (1985), as in NIST Handbook 44, Appendix C (from memory; the tests
#: compare them with scipy.constants).
INCH_M: Final = 0.0254
FOOT_M: Final = 0.3048
YARD_M: Final = 0.9144
POUND_KG: Final = 0.45359237
OUNCE_KG: Final = POUND_KG / 16
SHORT_TON_KG: Final = 2000 * POUND_KG
LONG_TON_KG: Final = 2240 * POUND_KG
GALLON_L: Final = 231 * (INCH_M * 10) ** 3
QUART_L: Final = GALLON_L / 4
PINT_L: Final = GALLON_L / 8
CUP_L: Final = GALLON_L / 16
FLUID_OUNCE_L: Final = GALLON_L / 128
IMPERIAL_GALLON_L: Final = 4.54609
CUBIC_FOOT_L: Final = (FOOT_M * 10) ** 3
CUBIC_YARD_L: Final = (YARD_M * 10) ** 3


def volume_text(litres: float, units: Units) -> str:
    """A volume, to about two digits: "23 L", "1.2 m³", "6 gal", "1.5 yd³".

    Args:
        litres: zero or more.
        units: whose units to write it in.
    """
    if units == "metric":
        if 0 < litres < 0.995:
            return _joined(_two_digits(litres * 1000), "ml")
        rounded = _two_digits(litres)
        return _joined(_two_digits(litres / 1000), "m³") if rounded >= 1000 else _joined(rounded, "L")
    if litres >= 0.7 * CUBIC_YARD_L:
        return _joined(_tenths(litres / CUBIC_YARD_L), "yd³")
    if litres >= 0.95 * GALLON_L or litres == 0:
        return _joined(_gallons(litres / GALLON_L), "gal")
    if litres >= 0.95 * QUART_L:
        return _joined(_halves(litres / QUART_L), "qt")
    if litres >= 0.45 * CUP_L:
        return _counted(_halves(litres / CUP_L), "cup")
    return _joined(_tenths(litres / FLUID_OUNCE_L), "fl oz")


def mass_text(kg: float, units: Units) -> str:
    """A weight, to about two digits: "450 g", "12 kg", "1.2 t", "0.7 oz", "26 lb", "1.5 tons" (short tons).

    Args:
        kg: zero or more.
        units: whose units to write it in.
    """
    if units == "metric":
        if 0 < kg < 0.995:
            return _joined(_two_digits(kg * 1000), "g")
        rounded = _two_digits(kg)
        return _joined(_two_digits(kg / 1000), "t") if rounded >= 1000 else _joined(rounded, "kg")
    if kg >= 0.95 * SHORT_TON_KG:
        return _counted(_tenths(kg / SHORT_TON_KG), "ton")
    if kg >= 0.95 * POUND_KG or kg == 0:
        return _joined(_tenths(kg / POUND_KG), "lb")
    return _joined(_tenths(kg / OUNCE_KG), "oz")


def length_text(metres: float, units: Units) -> str:
    """A length: "6 mm", "15 cm", "1.2 m"; or inches below a yard ("6 in") and feet to the half above ("4.5 ft").

    Args:
        metres: zero or more.
        units: whose units to write it in.
    """
    if units == "metric":
        if 0 < metres < 0.00995:
            return _joined(_two_digits(metres * 1000), "mm")
        return _joined(_two_digits(metres * 100), "cm") if 0 < metres < 0.995 else _joined(_two_digits(metres), "m")
    inches = metres / INCH_M
    if 0 < inches < 35.5:
        return _joined(_inches(inches), "in")
    return _joined(_feet(metres / FOOT_M), "ft")


def temperature_text(celsius: float, units: Units) -> str:
    """A temperature (not a difference of two): "55 °C" or "131 °F"."""
    return _joined(round(celsius if units == "metric" else _fahrenheit(celsius)), "°C" if units == "metric" else "°F")


def area_text(square_metres: float, units: Units) -> str:
    """An area, to about two digits: "1.4 m²" or "15 ft²"."""
    return _joined(*_area(square_metres, units))


def figure_text(value: float) -> str:
    """A bare figure without trailing noughts or a power of ten: 2.0 is "2", 1200.0 is "1200"."""
    return f"{value:.10f}".rstrip("0").rstrip(".") if abs(value) < 1e15 else f"{value:.0f}"


# ---------------------------------------------------------------- templates of notices

_BRACES = re.compile(r"\{([^{}]*)\}")
_FIELD = re.compile(r"[a-z][a-z0-9_]*")
_LITERAL = re.compile(r"(?P<low>-?\d+(?:\.\d+)?)(?:-(?P<high>\d+(?:\.\d+)?))? ?(?P<unit>[A-Za-z]+[23]?)")

#: Units that may stand in a template: what each measures, its worth in L, kg, m, °C or m2, how it is printed.
_TEMPLATE_UNITS: Final[Mapping[str, tuple[str, float, str]]] = {
    "ml": ("volume", 0.001, "ml"),
    "L": ("volume", 1.0, "L"),
    "m3": ("volume", 1000.0, "m³"),
    "g": ("mass", 0.001, "g"),
    "kg": ("mass", 1.0, "kg"),
    "t": ("mass", 1000.0, "t"),
    "mm": ("length", 0.001, "mm"),
    "cm": ("length", 0.01, "cm"),
    "m": ("length", 1.0, "m"),
    "C": ("temperature", 1.0, "°C"),
    "m2": ("area", 1.0, "m²"),
}


def fill(template: str, figures: Mapping[str, str], units: Units) -> str:
    """Fill the words of a notice.

    `{water}` is replaced by the ready text of that name. `{15 cm}`, `{10-20 cm}`, `{55 C}`, `{1 m}`,
    `{0.76 m3}`, `{20 L}`, `{20 g}` and `{5 kg}` are quantities written out: in metric they stay as they stand,
    for the United States they are converted and rounded to what a gardener can measure.

    Args:
        template: the words, with braces.
        figures: the ready texts by name.
        units: whose units to show quantities in.

    Raises:
        KeyError: a field has no text; the key is the field's name.
        ValueError: what is in braces is neither a field nor a quantity in a known unit.
    """
    _check_braces(template)

    def shown(match: re.Match[str]) -> str:
        inside = match[1].strip()
        return figures[inside] if _FIELD.fullmatch(inside) else _literal_text(inside, units)

    return _BRACES.sub(shown, template)


def fields(template: str) -> tuple[str, ...]:
    """The named fields of a template in order, each once; quantities written out are not fields.

    Raises:
        ValueError: what is in braces is neither a field nor a quantity in a known unit.
    """
    _check_braces(template)
    inside = [match[1].strip() for match in _BRACES.finditer(template)]
    named = [text for text in inside if _FIELD.fullmatch(text)]
    for text in inside:
        if text not in named:
            _literal_text(text, "us")
    return tuple(dict.fromkeys(named))


def _check_braces(template: str) -> None:
    bare = _BRACES.sub("", template)
    if "{" in bare or "}" in bare:
        raise ValueError(f"a brace without its partner in {template!r}")


def _literal_text(inside: str, units: Units) -> str:
    match = _LITERAL.fullmatch(inside)
    if match is None or match["unit"] not in _TEMPLATE_UNITS:
        known = ", ".join(_TEMPLATE_UNITS)
        raise ValueError(f"'{{{inside}}}' is neither a field nor a quantity (units: {known})")
    kind, worth, sign = _TEMPLATE_UNITS[match["unit"]]
    ends = [match["low"]] if match["high"] is None else [match["low"], match["high"]]
    if units == "metric":
        return _joined("–".join(ends), sign)
    values = [float(end) * worth for end in ends]
    parts = [_us_parts(kind, value, values[-1]) for value in values]
    figures = dict.fromkeys(figure for figure, _ in parts)
    return _joined("–".join(figures), parts[-1][1])


def _us_parts(kind: str, value: float, widest: float) -> tuple[str, str]:
    """Figure and unit of one end of a range; both ends are written in the unit that suits the wider end."""
    if kind == "temperature":
        return str(round(_fahrenheit(value))), "°F"
    if kind == "area":
        figure, sign = _area(value, "us")
        return figure_text(figure), sign
    text = {"volume": volume_text, "mass": mass_text, "length": length_text}[kind]
    sign = text(widest, "us").split(" ", 1)[1]
    own = text(value, "us")
    if own.split(" ", 1)[1] == sign:
        return own.split(" ", 1)[0], sign
    return figure_text(_halves(value / _US_WORTH[sign]) or _tenths(value / _US_WORTH[sign])), sign


_US_WORTH: Final[Mapping[str, float]] = {
    "fl oz": FLUID_OUNCE_L,
    "cup": CUP_L,
    "cups": CUP_L,
    "qt": QUART_L,
    "gal": GALLON_L,
    "yd³": CUBIC_YARD_L,
    "oz": OUNCE_KG,
    "lb": POUND_KG,
    "ton": SHORT_TON_KG,
    "tons": SHORT_TON_KG,
    "in": INCH_M,
    "ft": FOOT_M,
}


# ---------------------------------------------------------------- rounding


def _fahrenheit(celsius: float) -> float:
    return celsius * 9 / 5 + 32


def _area(square_metres: float, units: Units) -> tuple[float, str]:
    worth, sign = (1.0, "m²") if units == "metric" else (FOOT_M**2, "ft²")
    return _two_digits(square_metres / worth), sign


def _two_digits(value: float) -> float:
    if value == 0:
        return 0.0
    return round(value, 1 - math.floor(math.log10(abs(value))))


def _tenths(value: float) -> float:
    """Two digits, but no more than one behind the point from a tenth upwards: 0.99 is 1, 0.71 is 0.7."""
    return round(value, 1) if 0.1 <= value < 10 else _two_digits(value)


def _halves(value: float) -> float:
    return round(value * 2) / 2


def _gallons(gallons: float) -> float:
    if gallons < 3:
        return _halves(gallons)
    return round(gallons) if gallons < 100 else _two_digits(gallons)


def _inches(inches: float) -> float:
    if inches < 0.75:
        return _tenths(inches)
    return _halves(inches) if inches < 2.75 else round(inches)


def _feet(feet: float) -> float:
    """To the half foot, but a third of a foot is not worth it: 1 m is 3 ft, 1.2 m 4 ft, 1.37 m 4.5 ft."""
    if feet >= 10:
        return round(feet)
    whole = math.floor(feet)
    over = feet - whole
    return whole + (0.0 if over < 0.32 else 0.5 if over < 0.68 else 1.0)


def _joined(figure: float | str, sign: str) -> str:
    return f"{figure if isinstance(figure, str) else figure_text(figure)} {sign}"


def _counted(figure: float, noun: str) -> str:
    return _joined(figure, noun if figure <= 1 else f"{noun}s")
