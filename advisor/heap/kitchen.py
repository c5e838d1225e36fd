"""What a kitchen comes to in a year: buckets and tubs in turn, what is left of the scraps, and a tub of comfrey."""

from __future__ import annotations

import math

from advisor.blend.shapes import Range
from advisor.heap.bucket import DAYS_PER_WEEK, DAYS_PER_YEAR, Bucket, Finish
from advisor.heap.ranges import Figures, Spread, figure, over, scaled, summed, times
from advisor.heap.solids import LITRES_PER_M3
from advisor.records import dataclass

WEEKS_PER_YEAR = DAYS_PER_YEAR / DAYS_PER_WEEK


@dataclass(frozen=True, slots=True)
class Tubs:
    """The tubs of soil in which buckets are finished by turns. Weights are of one tub, soil and ferment together."""

    number: int
    soil_litres: Range  # in each
    kg: Range  # of each


@dataclass(frozen=True, slots=True)
class ComfreyTub:
    """One plant in a tub: litres of the tub, its surface in m2, and kg of leaf in a year."""

    litres: float
    area_m2: float
    kg_a_year: Range


def tubs(filled: Bucket, done: Finish, soil_kg_m3: Spread, figures: Figures) -> Tubs:
    """Tubs in turn, so that one is done when the next bucket is ready to be emptied.

    A bucket comes every `fill_days`, and lies in soil for `ferment-tub-weeks`: so many tubs, rounded up.

    Args:
        filled: the buckets, as `bucket` gives them.
        done: the finishing of one of them, as `finish` gives it.
        soil_kg_m3: of the soil in the tub.
        figures: of the rule base.
    """
    weeks = figure(figures, "ferment-tub-weeks").typical
    number = math.ceil(weeks * DAYS_PER_WEEK / filled.fill_days.typical - 1e-9)
    soil_kg = times(done.soil_litres, scaled(soil_kg_m3, 1 / LITRES_PER_M3))
    return Tubs(max(1, number), done.soil_litres, summed(soil_kg, filled.kg))


def finished_a_year(weekly_litres: Spread, shrinks_to_pct: Spread) -> Range:
    """Litres that so many loose litres a week leave in a year, by the share of the volume that is left."""
    return scaled(times(weekly_litres, shrinks_to_pct), WEEKS_PER_YEAR / 100)


def mass_lost_pct(weekly_kg: Spread, finished_kg: Spread) -> Range:
    """% of the mass that is lost in a year, from what went in and what is left.

    Both ends are taken with the typical of the other, since the two rise and fall together.
    """
    went_in = weekly_kg.typical * WEEKS_PER_YEAR
    left = (finished_kg.high, finished_kg.typical, finished_kg.low)
    low, typical, high = (max(0.0, 100 * (1 - each / went_in)) for each in left)
    return Range(low, typical, high)


def comfrey_tub(figures: Figures) -> ComfreyTub:
    """One plant of comfrey in a tub: the yield of as much open ground as the tub has surface, and a share of that."""
    litres = figure(figures, "comfrey-tub-litres")
    area = scaled(over(litres, figure(figures, "comfrey-tub-depth-m")), 1 / LITRES_PER_M3)
    share = scaled(figure(figures, "comfrey-tub-yield-pct"), 1 / 100)
    return ComfreyTub(litres.typical, area.typical, times(area, figure(figures, "comfrey-kg-per-m2-year"), share))
