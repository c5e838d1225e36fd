"""Units by all their names, what each is worth, and figures told in them: the one table of units of the program.

Words in keys are in small letters, without accents, and in the singular.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final, Literal

from advisor import units
from advisor.errors import HouseholdError
from advisor.household.tokens import Token, longest, shown, skip_hyphen, tokenize
from advisor.records import dataclass

Key = tuple[str, ...]

#: What a figure measures; "number" is a count or a share.
Kind = Literal["number", "length", "area", "volume", "mass", "time", "temperature"]


def phrases(listed: str) -> frozenset[Key]:
    """Phrases from a list with commas."""
    return frozenset(tuple(phrase.split()) for phrase in listed.split(","))


def _named(table: Mapping[str, float]) -> dict[Key, float]:
    return {phrase: worth for listed, worth in table.items() for phrase in phrases(listed)}


LITRES: Final = _named(
    {
        "l, ltr, litre, liter": 1.0,
        "ml, millilitre, milliliter, cc, cm3": 0.001,
        "cl, centilitre, centiliter": 0.01,
        "dl, decilitre, deciliter": 0.1,
        "hl, hectolitre, hectoliter": 100.0,
        "dm3, cubic decimetre, cubic decimeter": 1.0,
        "m3, cubic metre, cubic meter, cu m, cbm, cubic m": 1000.0,
        "gal, gallon, us gallon, us gal": units.GALLON_L,
        "imperial gallon, uk gallon, imp gal, imperial gal": units.IMPERIAL_GALLON_L,
        "qt, quart, us quart": units.QUART_L,
        "pt, pint, us pint": units.PINT_L,
        "imperial pint, uk pint": units.IMPERIAL_GALLON_L / 8,
        "fl oz, fluid ounce": units.FLUID_OUNCE_L,
        "ft3, cubic foot, cu ft, cuft, cubic ft": units.CUBIC_FOOT_L,
        "yd3, cubic yard, cu yd, cuyd, yard, yd, cubic yd": units.CUBIC_YARD_L,
    }
)
KILOGRAMS: Final = _named(
    {
        "kg, kilo, kilogram, kilogramme": 1.0,
        "g, gram, gramme, gm, gr": 0.001,
        "lb, pound": units.POUND_KG,
        "oz, ounce": units.OUNCE_KG,
        "tonne, t, metric ton, metric tonne": 1000.0,
        "short ton, us ton": units.SHORT_TON_KG,
        "long ton, imperial ton, uk ton": units.LONG_TON_KG,
    }
)
METRES: Final = _named(
    {
        "m, metre, meter, mtr": 1.0,
        "cm, centimetre, centimeter": 0.01,
        "mm, millimetre, millimeter": 0.001,
        "km, kilometre, kilometer": 1000.0,
        "ft, foot, ', ′, ’": units.FOOT_M,
        'in, inch, ", ″, ”': units.INCH_M,
        "yd, yard": units.YARD_M,
        "mile": 1760 * units.YARD_M,
        "pace, step, stride": 0.75,  # our own estimate of a stride
    }
)
SQUARE_METRES: Final = _named(
    {
        "m2, square metre, square meter, sq m, sqm, square m, sq metre, sq meter": 1.0,
        "ft2, square foot, sq ft, sqft, square ft, sq foot": units.FOOT_M**2,
        "yd2, square yard, sq yd, sq yard": units.YARD_M**2,
        "acre, ac": 4840 * units.YARD_M**2,
        "ha, hectare": 10_000.0,
    }
)
#: Of a month and a year: the calendar's mean.
DAYS: Final = _named(
    {
        "s, sec, second": 1 / 86_400,
        "min, minute": 1 / 1440,
        "h, hr, hour": 1 / 24,
        "d, day": 1.0,
        "wk, week": 7.0,
        "fortnight": 14.0,
        "mo, mth, month": 365.25 / 12,
        "yr, year": 365.25,
    }
)
#: Degrees of a scale in one of Celsius.
_CELSIUS, _FAHRENHEIT = 1.0, 5 / 9
DEGREES: Final = _named(
    {
        "c, ° c, celsius, centigrade, degree c, degree celsius, degree centigrade": _CELSIUS,
        "f, ° f, fahrenheit, degree f, degree fahrenheit": _FAHRENHEIT,
    }
)
_BARE_DEGREES: Final = dict.fromkeys(phrases("°, degree"), True)
_SHARES: Final = _named({"%, percent, per cent, pct": 1.0})
#: A cup that is told as a measure of water is the measuring cup.
_CUPS: Final = _named({"cup, measuring cup, us cup": units.CUP_L})

_TABLES: Final[Mapping[Kind, Mapping[Key, float]]] = {
    "number": _SHARES,
    "length": METRES,
    "area": SQUARE_METRES,
    "volume": {**LITRES, **_CUPS},
    "mass": KILOGRAMS,
    "time": DAYS,
    "temperature": DEGREES,
}
_MOST_WORDS = 2
_PARTING: Final = frozenset({",", ";", "and", "&", "then"})
#: No reading of a garden is bigger.
MOST: Final = 1e6

#: The units in which bare figures are read in the United States where a metric one is asked for.
US_UNITS: Final[Mapping[str, str]] = {
    "mm": "in",
    "cm": "in",
    "m": "ft",
    "°C": "°F",
    "m2": "sq ft",
    "L": "gal",
    "kg": "lb",
}


@dataclass(frozen=True, slots=True)
class Measured:
    """A figure as it was told.

    Attributes:
        unit: its worth in m, m2, L, kg, days or degrees Celsius; None if none was said.
        shy: whether its word, such as "a", "no" or "some", is a figure only beside what it counts.
    """

    value: float
    unit: float | None
    shy: bool = False


def unit_at(tokens: Sequence[Token], at: int, kind: Kind) -> tuple[float, int] | None:
    """The unit of a kind that begins at a token, with the place after it and after the stop of "ft."."""
    found = longest(tokens, skip_hyphen(tokens, at), _TABLES[kind], _MOST_WORDS)
    if found is None:
        return None
    end = found[1]
    stop = end < len(tokens) and tokens[end].key == "." and tokens[end].start == tokens[end - 1].end
    return found[0], end + 1 if stop else end


def figure_at(tokens: Sequence[Token], at: int, kind: Kind) -> tuple[Measured, int] | None:
    """The figure that begins at a token, in figures or words, with the place after it: "a week and a half", "58 °C"."""
    from advisor.household.counts import count_at, more_at
    from advisor.household.words import PART_LINKS

    counted = count_at(tokens, at)
    if counted is None or counted[0].mass:
        return None
    count, end = counted
    value = -count.value if count.negative else count.value
    behind = end
    while (count.part or count.vague) and behind < len(tokens) and tokens[behind].key in PART_LINKS:
        behind += 1
    unit = unit_at(tokens, behind, kind)
    if unit is not None:
        more = more_at(tokens, unit[1])
        value, end = (value + more[0], more[1]) if more is not None else (value, unit[1])
        return Measured(value, unit[0]), end
    if kind == "temperature" and (sign := longest(tokens, end, _BARE_DEGREES, 1)) is not None:
        end = sign[1]
    return Measured(value, None, shy=count.article or count.vague or (count.none and tokens[at].kind == "word")), end


def figures_told(text: str, kind: Kind) -> tuple[Measured, ...] | None:
    """Every figure of a list, in order: "10, 15 cm", "five and 7", "5 ft 6 in"; None if any of it is no figure.

    A figure without a unit has that of the next one that has, as in "10, 15 cm".
    """
    tokens = tokenize(text)
    found: list[Measured] = []
    at, ended = 0, False
    while at < len(tokens):
        if tokens[at].key in _PARTING and found:
            at, ended = at + 1, True
            continue
        figure = figure_at(tokens, at, kind)
        if figure is None or figure[0].shy:
            return None
        one, at = figure
        inches = kind == "length" and found and not ended and found[-1].unit == units.FOOT_M
        if inches and one.unit == units.INCH_M:
            found[-1] = Measured(found[-1].value + one.value / 12, units.FOOT_M)
        else:
            found.append(one)
        ended = False
    following: float | None = None
    told: list[Measured] = []
    for one in reversed(found):
        following = one.unit or following
        told.append(Measured(one.value, following))
    return tuple(reversed(told)) or None


def read_figures(text: str, kind: Kind, unit: str, where: str, hint: str) -> tuple[float, ...]:
    """Figures in metres, square metres, litres, kilograms, days or degrees Celsius; a number as it is.

    Args:
        text: one figure, or several parted by commas, blanks or "and".
        unit: that of a bare figure, by one of its names; empty if a bare figure will not do.
        where: where it was told.
        hint: how it could be written.

    Raises:
        HouseholdError: it is none, or a bare figure where a unit is needed, or out of all bounds.
    """
    found = figures_told(text, kind)
    own_unit = unit_at(tokenize(unit), 0, kind)
    worth = own_unit[0] if own_unit is not None else None
    if found is None or (kind != "number" and worth is None and any(one.unit is None for one in found)):
        raise HouseholdError(f"'{shown(text)}' is no {kind}", where=where, hint=hint)
    figures = []
    for one in found:
        own = one.unit if one.unit is not None else worth
        shifted = one.value - 32 if own == _FAHRENHEIT and kind == "temperature" else one.value
        figure = shifted * own if own is not None and kind != "number" else one.value
        if not abs(figure) <= MOST:
            raise HouseholdError(f"{figure:g} is out of all bounds", where=where)
        figures.append(figure)
    return tuple(figures)


def has_unit(text: str, kind: Kind) -> bool:
    """Whether the last figure of a text was told with a unit, or the text is no figure at all."""
    found = figures_told(text, kind)
    return found is None or found[-1].unit is not None
