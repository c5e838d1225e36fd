"""The air over a heap: months' means as a smooth year, from which a day on is taken. °C."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from advisor.heat.air import Floats
from advisor.heat.balance import Weather
from advisor.heat.draws import Draws
from advisor.knowledge.heat_shapes import Climate

#: A season differs from the mean of many years by so many K at the most (common practice, no source).
_SEASON_K = 4.0
_DAYS, _MONTHS = 365.25, 12
_MONTH_DAYS = _DAYS / _MONTHS
_ZONE = "zone-"


def air_on(months: Sequence[float], month: float) -> float:
    """°C at a moment of the year in months, 0 the start of January, straight between the middles of months.

    >>> air_on([0, 10] * 6, 0.5), air_on([0, 10] * 6, 1.0)
    (0.0, 5.0)
    """
    place = (month - 0.5) % _MONTHS
    first = int(place)
    share = place - first
    return float(months[first] * (1 - share) + months[(first + 1) % _MONTHS] * share)


def weather(months: Sequence[float], start_month: float, draws: Draws) -> Weather:
    """The air from a moment of the year on, a shift for each draw, as seasons differ."""
    shift = draws.about(_SEASON_K, "the season")

    def air(day: float) -> Floats:
        result: Floats = air_on(months, start_month + day / _MONTH_DAYS) + shift
        return result

    return air


def steady(celsius: float, draws: Draws) -> Weather:
    """Air of one temperature, as indoors; draws differ as seasons do."""
    air = celsius + draws.about(_SEASON_K, "the season")
    return lambda _: air


def by_latitude(latitude: float, climates: Mapping[str, Climate]) -> tuple[float, ...]:
    """Monthly means at a latitude (south is negative), straight between the two nearest zonal means."""
    zones = sorted((one.latitude, one.months) for name, one in climates.items() if name.startswith(_ZONE))
    latitudes = [each for each, _ in zones]
    table = np.array([months for _, months in zones])
    return tuple(float(np.interp(latitude, latitudes, table[:, month])) for month in range(_MONTHS))
