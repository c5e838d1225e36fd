"""What a household's kitchen comes to, as it is shown and handed on. `heapwright kitchen --schema` prints this."""

from __future__ import annotations

from pydantic import Field

from advisor.counsel.plan import Line, Shape, Spread
from advisor.units import Units


class Yield(Shape):
    """What is made in a year, and what it serves."""

    litres: Spread
    kilograms: Spread
    mass_lost_pct: Spread = Field(description="% of the wet mass of the scraps")
    pots: Spread = Field(description="pots of 5 L filled with a mix that holds the share that is good for it")
    pot_litres: float
    bed_m2: Spread = Field(description="bed that it dresses, a thin layer a year")
    lines: tuple[Line, ...]


class BucketWay(Shape):
    """The fermented bucket, and the soil that finishes it."""

    score: float
    possible: bool = Field(description="not ruled out by the rules, and something may go in")
    bucket_litres: float
    buckets: int = Field(description="in turn: one fills while others stand sealed")
    fill_days: Spread
    bran_kg_a_year: Spread
    tubs: int = Field(description="tubs of soil in turn; 0 where it goes into open ground")
    soil_litres: Spread = Field(description="for each bucket")
    tub_kg: Spread = Field(description="of one tub when full")
    lines: tuple[Line, ...]
    gives: Yield


class WormWay(Shape):
    """The worm bin."""

    score: float
    possible: bool
    area_m2: Spread
    worms_kg: Spread
    bedding_litres: Spread
    lines: tuple[Line, ...]
    gives: Yield


class Kitchen(Shape):
    """A kitchen's scraps, the ways that serve a place without a garden, and what each makes in a year."""

    household: str
    units: Units
    people: float | None = Field(description="null if the household's own scraps were taken")
    space: str
    weekly_litres: Spread
    weekly_kg: Spread
    scraps: tuple[Line, ...]
    choice: Line
    bucket: BucketWay
    worms: WormWay
    comfrey_kg_a_year: Spread | None = Field(description="null where nothing can grow outdoors")
    comfrey: tuple[Line, ...]
    cautions: tuple[Line, ...]

    def lines(self) -> tuple[Line, ...]:
        """Every line that can be asked why, in the order of the page."""
        grave = [line for line in self.cautions if line.grave]
        plain = [line for line in self.cautions if not line.grave]
        found = [*grave, *self.scraps, self.choice, *self.bucket.lines, *self.bucket.gives.lines]
        return (*found, *self.worms.lines, *self.worms.gives.lines, *self.comfrey, *plain)
