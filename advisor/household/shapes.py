"""A household as told: answers, what is on hand, and their own measures."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import field, replace
from datetime import date
from typing import Literal

from advisor.knowledge.conditions import Value
from advisor.records import dataclass

Per = Literal["once", "day", "week", "month"]

#: Exact units beside the household measures of measures.toml.
EXACT_UNITS = ("L", "kg")


@dataclass(frozen=True, slots=True)
class Quantity:
    """An amount as said. `measure` is an id of measures.toml, or "L" or "kg" for exact units already converted.

    `low` and `high` spread a vague count ("a couple", "3 or 4", "about 10"); they equal `count` when it was plain.
    """

    count: float
    low: float
    high: float
    measure: str
    per: Per = "once"
    packed: bool = False

    def times(self, factor: float) -> Quantity:
        """So many times as much."""
        return replace(self, count=self.count * factor, low=self.low * factor, high=self.high * factor)


@dataclass(frozen=True, slots=True)
class Holding:
    """A material on hand, or coming in.

    Attributes:
        said: the person's own words.
        beside: whether it lies beside a heap that stands, and did not go into it.
    """

    material: str
    quantity: Quantity
    said: str
    beside: bool = False


@dataclass(frozen=True, slots=True)
class Room:
    """Free ground in metres; height only where something overhead limits it."""

    length_m: float
    width_m: float
    height_m: float | None = None


@dataclass(frozen=True, slots=True)
class OwnMeasure:
    """A household's own size for a measure: "my bucket is 12 L"."""

    litres: float


@dataclass(frozen=True, slots=True)
class OwnFigures:
    """A person's own figures of a material; None where the tables are good enough.

    Units: nitrogen and ash in % of dry mass, moisture in % of wet mass, density in kg/m3 as piled.
    """

    nitrogen_pct: float | None = None
    carbon_nitrogen: float | None = None
    moisture_pct: float | None = None
    density_kg_m3: float | None = None
    ash_pct: float | None = None


@dataclass(frozen=True, slots=True)
class Arrival:
    """What comes in from one month to the end of another, 1 to 12; they may go round the turn of the year."""

    first: int
    last: int
    holding: Holding

    @property
    def all_year(self) -> bool:
        return (self.first, self.last) == (1, 12)

    def in_month(self, month: int) -> bool:
        """Whether it comes in that month, 1 to 12."""
        if self.first <= self.last:
            return self.first <= month <= self.last
        return month >= self.first or month <= self.last


@dataclass(frozen=True, slots=True)
class HouseholdYear:
    """What comes in through a year, and where it may be kept. `begins` is a month, 1 to 12."""

    arrivals: tuple[Arrival, ...] = ()
    begins: int | None = None
    storage_l: float | None = None
    bays: int = 1


@dataclass(frozen=True)
class Household:
    """Everything told so far.

    `answers` maps an attribute of facts.toml with origin "answer" (such as "place.space") to the value or values given;
    an attribute that is missing is unknown. `own` holds a person's own figures by the id of their material. `room`
    stands apart because it is told as length by width.
    """

    name: str
    holdings: tuple[Holding, ...] = ()
    answers: Mapping[str, tuple[Value, ...]] = field(default_factory=dict)
    room: Room | None = None
    measures: Mapping[str, OwnMeasure] = field(default_factory=dict)
    own: Mapping[str, OwnFigures] = field(default_factory=dict)
    start: date | None = None
    about: str = ""

    @property
    def ground(self) -> Room | None:
        """The room as told; an area alone is taken as a square."""
        area = self.answers.get("place.room", ())
        if self.room is not None or not area:
            return self.room
        side = math.sqrt(float(area[0]))
        return Room(side, side)

    year: HouseholdYear | None = None
