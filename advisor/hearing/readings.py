"""Figures that are signs: temperatures, moisture in per cent, acidity."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.finding import Finder
from advisor.hearing.shapes import Fact
from advisor.hearing.stance import Taken, stance

_CELSIUS = frozenset({"c", "°c", "celsius", "centigrade", "celcius"})
_FAHRENHEIT = frozenset({"f", "°f", "fahrenheit", "farenheit", "fahrenheight"})
_DEGREES = frozenset({"degree", "degrees", "deg", "°", "º"})
#: Above this, in a heap, a bare figure is read as Fahrenheit: nothing living is hotter than 80 °C or so.
_BARE_CELSIUS_MOST = 95.0
_LEAST_BARE = 10.0


def temperatures(finder: Finder, taken: Sequence[Taken]) -> Iterator[Fact]:
    """Temperatures of the stuff, in °C. A bare figure counts where a thermometer or degrees are spoken of."""
    line = finder.line
    for clause in line.clauses:
        spoken = _of_heat(finder, clause)
        for at, (figure, end) in finder.numbers.items():
            if not clause.start <= at < clause.end or _is_no_reading(finder, at, end, clause):
                continue
            unit, behind = _unit(finder, end, clause.end)
            if not unit and not (spoken and _LEAST_BARE <= figure <= 180):
                continue
            celsius = _celsius(figure, unit)
            if not -40 <= celsius <= 120:
                continue
            how = stance(finder, at, behind, clause, taken)
            yield Fact(
                "sign.degrees",
                f"{celsius:.0f}",
                how.name,
                line.said(at, behind),
                "",
                how.because,
                "",
                line.words[at].start,
                line.words[behind - 1].end,
            )


def _celsius(figure: float, unit: str) -> float:
    if unit == "f" or (unit != "c" and figure > _BARE_CELSIUS_MOST):
        return (figure - 32) * 5 / 9
    return figure


def _unit(finder: Finder, end: int, last: int) -> tuple[str, int]:
    """The unit behind a figure, "c", "f" or "degrees", and the place behind it; empty if there is none."""
    words = finder.line.words
    unit = ""
    while end < last:
        form = words[end].form
        if form in _CELSIUS:
            return "c", end + 1
        if form in _FAHRENHEIT:
            return "f", end + 1
        if form not in _DEGREES:
            break
        unit, end = "degrees", end + 1
    return unit, end


def _of_heat(finder: Finder, clause: Clause) -> bool:
    return any(finder.things("thermometer", at) for at in range(clause.start, clause.end))


def _is_no_reading(finder: Finder, at: int, end: int, clause: Clause) -> bool:
    """Whether the figure counts or measures something else: a length, a time, an amount, a part of the day."""
    words = finder.line.words
    if end < clause.end and finder.things("unit", end):
        return True
    if at > clause.start and words[at - 1].form in ("/", ":", "x", "£", "$"):
        return True
    return end < clause.end and words[end].form in ("/", ":", "x", "%")
