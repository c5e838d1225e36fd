"""Ranges multiplied, divided and added, and the constants of rules/figures.toml looked up by name.

There are two algebras of ranges. What a mix comes to is drawn (advisor/blend/spread.py, and advisor/heat/draws.py for
its heat): its range holds 8 times out of 10. Everything else is worked out here from the low, typical and high of
tables: independent figures by quadrature, those that rise and fall together end by end (`alike`). Such a range means
what low and high mean in the tables it comes from, which seldom say how often they hold; nothing here makes it 8 times
out of 10.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Protocol

from advisor.blend.shapes import Range
from advisor.errors import RuleBaseError
from advisor.knowledge.shapes import Figure

Figures = Mapping[str, Figure]


class Spread(Protocol):
    """Anything with a low, a typical and a high value: a Range, or a Figure of the rule base."""

    @property
    def low(self) -> float: ...
    @property
    def typical(self) -> float: ...
    @property
    def high(self) -> float: ...


def figure(figures: Figures, name: str) -> Figure:
    """The constant of that name.

    Raises:
        RuleBaseError: rules/figures.toml has none.
    """
    try:
        return figures[name]
    except KeyError:
        raise RuleBaseError((f"rules/figures.toml: no [{name}], which the arithmetic of the heap needs",)) from None


def exactly(value: float) -> Range:
    """A range of one value."""
    return Range(value, value, value)


def plain(spread: Spread) -> Range:
    """A spread without its sources."""
    return Range(spread.low, spread.typical, spread.high)


def scaled(spread: Spread, factor: float) -> Range:
    """A spread times a plain number, which must not be negative."""
    return Range(spread.low * factor, spread.typical * factor, spread.high * factor)


def times(first: Spread, *others: Spread) -> Range:
    """The product of spreads that have nothing to do with one another.

    Typical values multiply. Deviations, taken as ratios to the typical value, add in quadrature, since
    independent figures are seldom all low or all high at once (the usual propagation of relative errors, on
    logarithms so that nothing falls below zero). With one factor that spreads the result is exact.
    """
    parts = (first, *others)
    typical = math.prod(part.typical for part in parts)
    if typical == 0:
        return Range(0.0, 0.0, math.prod(part.high for part in parts))
    down = math.hypot(*(_log(part.typical, part.low) for part in parts))
    up = math.hypot(*(_log(part.high, part.typical) for part in parts))
    return Range(typical * math.exp(-down), typical, typical * math.exp(up))


def summed(*parts: Spread) -> Range:
    """The sum of spreads that have nothing to do with one another: their deviations add in quadrature."""
    typical = math.fsum(part.typical for part in parts)
    down = math.hypot(*(part.typical - part.low for part in parts))
    up = math.hypot(*(part.high - part.typical for part in parts))
    return Range(typical - down, typical, typical + up)


def over(dividend: Spread, divisor: Spread) -> Range:
    """The quotient of two independent spreads, by the rule of `times`.

    Raises:
        ValueError: the divisor may be nought.
    """
    if divisor.low <= 0:
        raise ValueError("cannot divide by what may be nought")
    return times(dividend, Range(1 / divisor.high, 1 / divisor.typical, 1 / divisor.low))


def alike(dividend: Spread, divisor: Spread) -> Range:
    """The quotient of two spreads that rise and fall together, such as the kg and litres of the same scraps.

    Raises:
        ValueError: the divisor may be nought.
    """
    if divisor.low <= 0:
        raise ValueError("cannot divide by what may be nought")
    typical = dividend.typical / divisor.typical
    ends = (dividend.low / divisor.low, typical, dividend.high / divisor.high)
    return Range(min(ends), typical, max(ends))


def _log(greater: float, lesser: float) -> float:
    return math.inf if lesser == 0 else math.log(greater / lesser)
