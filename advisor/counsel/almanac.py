"""A year's plan, as it is shown and handed on. `heapwright year --schema` prints this as JSON Schema."""

from __future__ import annotations

from pydantic import Field

from advisor.counsel.plan import Line, Shape
from advisor.units import Units


class Amount(Shape):
    """So much of a material."""

    material: str
    litres: float


class Month(Shape):
    """A month of it. Amounts are of the whole month, levels those at its end, in loose litres."""

    name: str
    batch: int = Field(description="the batch that is fed, from 1")
    comes: tuple[Amount, ...]
    goes_in: tuple[Amount, ...]
    put_by: tuple[Amount, ...]
    fetched: tuple[Amount, ...]
    lost: tuple[Amount, ...]
    water_litres: float
    store_litres: float
    heap_litres: float
    within: bool = Field(description="its loads have browns enough of their own")
    line: Line


class Week(Shape):
    """A week of it."""

    number: int
    month: str
    goes_in: tuple[Amount, ...]
    lost: tuple[Amount, ...]
    store_litres: float
    heap_litres: float


class Kind(Shape):
    """A material of the year, with the measure it is counted in."""

    material: str
    name: str
    measure: str
    measure_litres: float
    keeps: bool
    fetched: bool = Field(description="it does not come in, and is fetched if need be")


class BatchLine(Shape):
    """A batch: what goes in, what it comes to, and when it may be used."""

    number: int
    fed_from: str
    fed_to: str
    litres: float
    carbon_nitrogen: float
    moisture_pct: float
    finished_litres: float
    within: bool = Field(description="every window is met")
    line: Line


class Almanac(Shape):
    """The whole year."""

    household: str
    units: Units
    begins: int = Field(description="the month, 1 to 12, with whose first day the year begins")
    start: str = Field(default="", description="ISO date on which the first heap is begun, if it was told")
    method: str
    container_litres: float
    storage_litres: float
    bays: int
    balanced: bool = Field(description="every batch right comes before using up what spoils")
    possible: bool = Field(description="some of what spoils can go into a batch that is right")
    kinds: tuple[Kind, ...]
    comes: tuple[Line, ...]
    rests_on: tuple[Line, ...] = Field(description="the room, the container and the windows")
    put_by: tuple[Line, ...]
    batches: tuple[BatchLine, ...]
    months: tuple[Month, ...]
    weeks: tuple[Week, ...]
    short: tuple[Line, ...] = Field(description="what is to be fetched, and what is not right")
    left_over: tuple[Line, ...] = Field(description="what is left out, and what to do with it")
    stays_out: tuple[Line, ...]
    cautions: tuple[Line, ...]

    def lines(self) -> tuple[Line, ...]:
        """Every line that can be asked why, in the order of the page."""
        return (
            *(line for line in self.cautions if line.grave),
            *self.comes,
            *self.rests_on,
            *self.put_by,
            *(batch.line for batch in self.batches),
            *(month.line for month in self.months),
            *self.short,
            *self.left_over,
            *self.stays_out,
            *(line for line in self.cautions if not line.grave),
        )
