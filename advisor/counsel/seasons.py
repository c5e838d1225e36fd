"""Months and seasons of the year, north of the equator."""

from __future__ import annotations

from typing import Final

MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
SEASONS: Final = ("winter", "spring", "summer", "autumn")


def season_of(month: int) -> str:
    """The season that a month, 1 to 12, belongs to north of the equator: winter is December to February.

    Source: definition (the meteorological seasons). South of the equator say the season itself.

    >>> season_of(12), season_of(3), season_of(8), season_of(11)
    ('winter', 'spring', 'summer', 'autumn')
    """
    return SEASONS[month % 12 // 3]
