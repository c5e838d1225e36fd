"""A mix as it was told, and what it comes to. `heapwright blend --schema` prints this."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from advisor.counsel.plan import Gauge, Line, Shape, Spread
from advisor.units import Units

#: What something is added for.
Towards = Literal["carbon-nitrogen", "moisture"]


class MixPart(Shape):
    """One material of the mix, as much as was told."""

    material: str
    name: str
    litres: float = Field(description="as tipped")
    kilograms: float
    volume_pct: float = Field(description="share of the volume")
    weight_pct: float = Field(description="share of the weight, without water")
    own_figures: bool = Field(description="whether figures of the household's own were used")
    line: Line


class Addition(Shape):
    """How much of something more brings the mix to a goal, and what the mix then comes to."""

    material: str
    name: str
    goal: Towards
    possible: bool
    litres: float = 0.0
    kilograms: float = 0.0
    carbon_nitrogen: float | None = Field(default=None, description="of the mix with it; null where not possible")
    moisture_pct: float | None = Field(default=None, description="of the mix with it and the water")
    air_space_pct: float | None = None
    water_litres: float = Field(default=0.0, description="to add with it for the moisture aimed at")
    best: bool = Field(default=False, description="the one to choose of several")
    line: Line


class OwnMix(Shape):
    """A mix as told: what is in it, what it comes to, what would bring it to a goal."""

    units: Units
    parts: tuple[MixPart, ...]
    verdict: Line
    gauges: tuple[Gauge, ...]
    weight_kg: Spread | None = Field(description="with the water; null where only parts were told")
    water_litres: float = Field(description="to add for the moisture aimed at")
    water: Line
    additions: tuple[Addition, ...] = ()
    filled: tuple[Line, ...] = Field(default=(), description="the mix in a container of so many litres")
    notes: tuple[Line, ...] = Field(default=(), description="what was taken for granted, and figures to check")

    def lines(self) -> tuple[Line, ...]:
        """Every line that can be asked why, in the order of the page."""
        return (
            self.verdict,
            *(part.line for part in self.parts),
            *(gauge.line for gauge in self.gauges),
            self.water,
            *(addition.line for addition in self.additions),
            *self.filled,
            *self.notes,
        )


class SampleSum(Shape):
    """What a scale, an oven and a bucket tell of one sample."""

    units: Units
    moisture_pct: float | None = None
    density_kg_m3: float | None = None
    said: tuple[Line, ...]

    def lines(self) -> tuple[Line, ...]:
        """Every line that can be asked why."""
        return self.said
