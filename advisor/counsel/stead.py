"""What stands in for manure, as it is shown and handed on. `heapwright substitutes --schema` prints this."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from advisor.counsel.plan import Line, Shape, Spread
from advisor.units import Units

Reach = Literal["on-hand", "near-home", "for-the-asking", "bought"]
Food = Literal["phosphate", "potash"]


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


class Supply(Shape):
    """So much of something that would make up for phosphate or potash."""

    material: str
    name: str
    count: float
    measure: str
    litres: float
    kilograms: float
    brings_kg: float = Field(description="kg of P2O5 or of K2O")
    line: Line


class PlantFood(Shape):
    """Phosphate or potash: what the manure has, and what one way has. In kg of P2O5 or of K2O; null where not known."""

    food: Food
    manure_kg: Spread | None = Field(description="from the low, typical and high of the tables")
    brings_kg: float | None = Field(description="all of it; null if that of one material is not known")
    known_kg: float = Field(description="what those bring of which it is known")
    not_known: tuple[str, ...] = Field(description="materials of which no table says it")
    gap_kg: float | None = Field(description="what the manure has more; null if either is not known")
    supplies: tuple[Supply, ...] = Field(
        description="what would make it up: for potash one after another, for phosphate one or the other"
    )
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
    plant_food: tuple[PlantFood, ...] = Field(description="phosphate and potash, as figures")
    withheld: tuple[Line, ...] = Field(description="what would bring some, and must not lie beside this")
    risks: tuple[Line, ...]
    shares: tuple[Line, ...] = Field(description="the share of the heap each may safely be")
    prepare: tuple[Line, ...]

    def food_lines(self) -> tuple[Line, ...]:
        """The lines on phosphate and potash, each followed by what would make it up."""
        found = [line for one in self.plant_food for line in (one.line, *(each.line for each in one.supplies))]
        return (*found, *self.withheld)


class Substitutes(Shape):
    """What stands in for the manure asked about."""

    units: Units
    season: str
    asked: Line
    nitrogen_kg: Spread
    carbon_nitrogen: float
    options: tuple[Option, ...]
    mind: tuple[Line, ...] = Field(description="what to mind with what makes up for phosphate and potash")
    cautions: tuple[Line, ...]
    stays_out: tuple[Line, ...]

    def lines(self) -> tuple[Line, ...]:
        """Every line that can be asked why, in the order of the page."""
        found = [self.asked, *(line for line in self.cautions if line.grave)]
        for one in self.options:
            found += [one.line, *(part.line for part in one.parts), *one.makes_up, *one.food_lines()]
            found += [*one.risks, *one.shares, *one.prepare]
        found += [*self.mind, *(line for line in self.cautions if not line.grave)]
        return (*found, *self.stays_out)
