"""The answers about soil and finished compost, as they are shown, saved and handed on. Frozen, like a plan.

Figures are in litres, kilograms, metres and days; `text` says the same for people, in the units they asked for.
"""

from __future__ import annotations

from datetime import date
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from advisor.counsel.plan import Line, Spread
from advisor.soil.trend import Direction

Use = Literal["seeds", "pots", "beds", "mulch"]


class Shape(BaseModel):
    model_config = ConfigDict(defer_build=True, frozen=True, extra="forbid")


class Part(Shape):
    """Lines under a heading. A grave part is shown first and never left out."""

    title: str
    lines: tuple[Line, ...]
    grave: bool = False
    care: bool = Field(default=False, description="cautions, such as stand apart on paper")


class Answer(Shape):
    """What all answers share."""

    name: str
    units: Literal["metric", "us"]
    parts: tuple[Part, ...]

    def lines(self) -> tuple[Line, ...]:
        """Every line that can be asked why, in the order of the page."""
        return tuple(line for part in self.parts for line in part.lines)


class CheckResult(Shape):
    """A check as read: a figure if it has one, its class, and the line that says so."""

    check: str = Field(description="id of the guide, such as ring")
    bed: str
    on: date | None
    value: float | None
    unit: str
    word: str = Field(description="the class of the published scale; empty if it has none")
    line: Line


class TextureFound(Shape):
    """Shares of the mineral soil in %, and the class."""

    bed: str
    sand_pct: float
    silt_pct: float
    clay_pct: float
    name: str
    on: date | None = None


class BandShown(Shape):
    """A class of the published scale of a check: where it ends, in the unit of the trend; None for the last."""

    word: str
    say: str
    until: float | None


class MarkShown(Shape):
    """One result on one day."""

    on: date
    value: float


class TrendFound(Shape):
    """How a check of a bed goes over the years."""

    bed: str
    tracked: str
    about: str
    unit: str
    direction: Direction
    per_year: float
    marks: tuple[MarkShown, ...]
    bands: tuple[BandShown, ...] = Field(default=(), description="from the least value up; none without a scale")
    line: Line


class SoilAnswer(Answer):
    """What the checks of the beds say, and what to do."""

    results: tuple[CheckResult, ...]
    textures: tuple[TextureFound, ...] = ()
    trends: tuple[TrendFound, ...] = ()
    found: dict[str, tuple[str, ...]] = Field(description="by bed, words of soil.found")
    dressing: dict[str, Literal["full", "thin", "none"]] = Field(description="by bed, how compost is held back")


class HeatFound(Shape):
    """What the readings show of one published rule."""

    rule: str
    celsius: float
    not_above_celsius: float | None
    sanitises: bool
    reached: bool
    lacks: tuple[str, ...]
    line: Line


class HeatLog(Shape):
    """Readings of the core as told: days since building and °C, in the order of the days; days of turning."""

    days: tuple[float, ...]
    celsius: tuple[float, ...]
    turned: tuple[float, ...]


class ReadyAnswer(Answer):
    """What compost is ready for, and what to do meanwhile."""

    fit: tuple[Use, ...] = Field(description="what it may go to; empty: not yet")
    results: tuple[CheckResult, ...]
    heat: tuple[HeatFound, ...] = ()
    logs: tuple[HeatLog, ...] = Field(default=(), description="one for each log of the heat")
    harvest: dict[str, date] = Field(default_factory=dict, description="first harvests after raw manure")


class BedDressed(Shape):
    """What one bed wants and gets."""

    bed: str
    area_m2: float
    wanted_litres: float
    litres: float
    depth_cm: float
    kilograms: Spread
    nitrogen_kg: Spread
    phosphate_kg: Spread
    potash_kg: Spread
    nitrogen_by_year_kg: tuple[Spread, Spread, Spread]
    line: Line


class ToGather(Shape):
    """A brown and greens for the raw stuff, in litres as gathered; `green_litres` is of each green."""

    brown: str
    greens: tuple[str, ...]
    brown_litres: Spread
    green_litres: Spread
    water_litres: float


class SpreadAnswer(Answer):
    """How much, where; and what has to be gathered for it."""

    beds: tuple[BedDressed, ...]
    finished_litres: float
    wanted_litres: float
    raw_litres: Spread | None = None
    heaps: int | None = None
    gather: tuple[ToGather, ...] = Field(default=(), description="one recipe, or another: never all of them")


class TaskFound(Shape):
    """Something to do on a bed in a window of days."""

    what: Literal["check", "spread", "sow", "cut", "wait", "plant", "cover"]
    opens: date
    closes: date
    litres: float = 0.0
    depth_cm: float = 0.0
    seed_grams: dict[str, Spread] = Field(default_factory=dict)
    plants: Spread | None = Field(default=None, description="to be set out, of a living mulch that is not sown")
    family: str = ""
    between: str = Field(default="", description="a living mulch between the rows, or straw; empty for anything else")
    say: str = Field(description="what to do, without its bed and its days")
    line: Line


class YearFound(Shape):
    """One season of one bed."""

    bed: str
    year: int = Field(description="counted from 1")
    step: int
    tasks: tuple[TaskFound, ...]


class FrostFree(Shape):
    """The last frost of a season's spring, and the first of its autumn."""

    last_frost: date
    first_frost: date


class SeasonsAnswer(Answer):
    """The calendar of the seasons."""

    years: tuple[YearFound, ...] = Field(description="empty where the frosts are not known, and so no days")
    frost_free: tuple[FrostFree, ...] = Field(default=(), description="of each season, in order")
