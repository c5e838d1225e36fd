"""What charts show: plain frozen values, taken from an answer and drawn by whoever shows it.

Each carries its title, and `words`: one line that says what is to be seen, for whoever does not see the picture.
Figures are in the units that the answer was asked for in, or in those that the field names.
"""

from __future__ import annotations

from datetime import date
from typing import Literal

from advisor.records import dataclass
from advisor.soil.trend import Direction
from advisor.units import Units

Doing = Literal["check", "spread", "sow", "cut", "wait", "plant", "cover"]


@dataclass(frozen=True, slots=True)
class Mark:
    """One result on one day."""

    on: date
    value: float


@dataclass(frozen=True, slots=True)
class Band:
    """A class of a published scale: what it says, and where it ends, in the unit of the chart; None for the last."""

    say: str
    until: float | None


@dataclass(frozen=True, slots=True)
class TrendChart:
    """A check of a bed over the years.

    `marks` are in order of their days, one at the least; `per_year` is the median slope, None where there is no trend
    yet; `bands` are the classes of the published scale from the least value up, none if the check has no scale.
    """

    title: str
    words: str
    unit: str
    marks: tuple[Mark, ...]
    per_year: float | None
    direction: Direction
    bands: tuple[Band, ...] = ()


@dataclass(frozen=True, slots=True)
class Soil:
    """Shares of a mineral soil in %, together 100, its class, and what it is called.

    `name` is its bed or the day, or both; empty if there is no other. An earlier one is not the latest of its bed.
    """

    sand_pct: float
    silt_pct: float
    clay_pct: float
    texture: str
    name: str = ""
    earlier: bool = False


@dataclass(frozen=True, slots=True)
class TextureChart:
    """Soils in the triangle of textures."""

    title: str
    words: str
    soils: tuple[Soil, ...]


@dataclass(frozen=True, slots=True)
class YearWeek:
    """A week of a year's plan: its month, the batch that is fed, what lies where at its end, and what went in."""

    month: str
    batch: int
    store_litres: float
    heap_litres: float
    load_litres: float


@dataclass(frozen=True, slots=True)
class YearChart:
    """A year by the week: in store, in the heap, and what goes in."""

    title: str
    words: str
    weeks: tuple[YearWeek, ...]
    store_room_litres: float
    heap_room_litres: float
    units: Units


@dataclass(frozen=True, slots=True)
class Stretch:
    """Something to do between two days, both included."""

    what: Doing
    opens: date
    closes: date


@dataclass(frozen=True, slots=True)
class BedSeason:
    """What is to do on one bed in one season, in order."""

    bed: str
    stretches: tuple[Stretch, ...]


@dataclass(frozen=True, slots=True)
class SeasonsChart:
    """A calendar of the beds through one season, between its frosts if there are any; seasons are counted from 1."""

    title: str
    words: str
    year: int
    last_frost: date | None
    first_frost: date | None
    beds: tuple[BedSeason, ...]


@dataclass(frozen=True, slots=True)
class HeatReading:
    """A reading of the core: days since building, and °C."""

    day: float
    celsius: float


@dataclass(frozen=True, slots=True)
class HeatLimit:
    """A temperature that a rule names, and what for."""

    celsius: float
    say: str


@dataclass(frozen=True, slots=True)
class HeatBand:
    """What a heat is foreseen to be on a day, in °C."""

    day: float
    low: float
    typical: float
    high: float


@dataclass(frozen=True, slots=True)
class HeatChart:
    """The heat of a heap by days since it was built; `turnings` are days as well. Readings, a band, or both."""

    title: str
    words: str
    readings: tuple[HeatReading, ...]
    turnings: tuple[float, ...]
    limits: tuple[HeatLimit, ...]
    units: Units
    band: tuple[HeatBand, ...] = ()


Chart = TrendChart | TextureChart | YearChart | SeasonsChart | HeatChart
