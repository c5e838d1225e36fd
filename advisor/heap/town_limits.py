"""How big a heap some towns allow: published codes as examples, for the sums; the code of one's own town is what binds.

The figures stand in rules/figures.toml (`town-...`), each with the code it was read in.
"""

from __future__ import annotations

import math

from advisor.heap.ranges import Figures, figure
from advisor.units import CUBIC_FOOT_L, FOOT_M

#: One code counts lots in steps of 10,000 square feet.
LOT_STEP_M2 = 10_000 * FOOT_M**2


def by_lot_litres(lot_m2: float, figures: Figures) -> float:
    """What a code allows that gives so much for the first step of a lot and as much again for each whole one more.

    Source: a municipal code on compost piles: 150 ft3 to a lot, and 150 more for each further 10,000 ft2. Parts of a
    step are not counted: one reading of it, and the stricter.

    Raises:
        ValueError: a lot of no size.
    """
    if not lot_m2 > 0:
        raise ValueError("a lot has some area")
    # A lot of just two steps is not one for the rounding of floats.
    further = max(0, math.floor((lot_m2 - LOT_STEP_M2) / LOT_STEP_M2 + 1e-9))
    return figure(figures, "town-volume-by-lot-litres").typical * (1 + further)


def strictest_litres(figures: Figures) -> float:
    """The least volume of those codes that name one for any lot."""
    return figure(figures, "town-volume-litres").low


def side_for_litres(litres: float) -> float:
    """The side of a cube that holds so much, in metres. Raises ValueError for less than nothing."""
    if litres < 0:
        raise ValueError("a volume is not below zero")
    return float((litres / 1000) ** (1 / 3))


def cubic_feet(litres: float) -> float:
    """Litres in cubic feet, as such codes write them."""
    return litres / CUBIC_FOOT_L
