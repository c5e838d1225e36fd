"""What stands in for manure, as it is shown and handed on. `heapwright substitutes --schema` prints this."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from advisor.counsel.plan import Line, Shape, Spread
from advisor.units import Units

Reach = Literal["on-hand", "near-home", "for-the-asking", "bought"]


class Stead(Shape):
    """So much of one material in manure's stead."""

    material: str
    name: str
    count: float
    measure: str
    litres: float
    kilograms: float
    nitrogen_kg: float
    reach: Reach
    most_of_heap_pct: float | None = Field(description="the largest share of a heap it may safely be, by volume")
    line: Line


class Option(Shape):
    """One way to replace it."""

    name: str = Field(description="such as A")
    line: Line
    met: bool = Field(description="nitrogen and C:N both within a tenth of what the manure has")
    parts: tuple[Stead, ...]
    nitrogen_kg: float
    carbon_nitrogen: float
    litres: float
    water_litres: float = Field(description="litres of water the manure brings and this does not")
    makes_up: tuple[Line, ...] = Field(description="what manure brings besides nitrogen, and how to make that up")
    risks: tuple[Line, ...]
    shares: tuple[Line, ...] = Field(description="the share of the heap each may safely be")
    prepare: tuple[Line, ...]


class Substitutes(Shape):
    """What stands in for the manure asked about."""

    units: Units
    season: str
    asked: Line
    nitrogen_kg: Spread
    carbon_nitrogen: float
    options: tuple[Option, ...]
    cautions: tuple[Line, ...]
    stays_out: tuple[Line, ...]

    def lines(self) -> tuple[Line, ...]:
        """Every line that can be asked why, in the order of the page."""
        found = [self.asked, *(line for line in self.cautions if line.id.startswith("g"))]
        for one in self.options:
            found += [one.line, *(part.line for part in one.parts), *one.makes_up, *one.risks, *one.shares]
            found += one.prepare
        found += [line for line in self.cautions if not line.id.startswith("g")]
        return (*found, *self.stays_out)
