"""The heat of a heap foreseen. `heapwright heat --schema` prints this. Temperatures in °C, days from 0."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from advisor.counsel.plan import Line, Shape, Spread
from advisor.units import Units


class HeatDay(Shape):
    """The heat on a day: 8 heaps in 10 lie between low and high."""

    day: float
    low: float
    typical: float
    high: float
    air: float


class HeatChange(Shape):
    """What one change does to the peak."""

    change: str
    peak_c: float
    differs_k: float
    hot_days: float = Field(description="days at 55 °C or more then, in the middle of the draws")
    line: Line


class HeatRead(Shape):
    """A reading beside the band of its day."""

    day: float
    celsius: float
    standing: Literal["hotter", "as-foreseen", "colder", "cold", "spent"]


class HeatAnswer(Shape):
    """How hot a heap may get, and when; readings beside that, if there are any."""

    units: Units
    litres: float = Field(description="of the heap as it lies after the first days")
    peak_c: Spread = Field(description="the peak that is told first")
    in_front: Literal["balance", "thumb", "both"] = Field(
        description="the heat balance, the rules of thumb, or the mean of both: what has been nearest at this size"
    )
    balance_peak_c: Spread
    thumb_peak_c: Spread
    peak_day: Spread
    warm_days: Spread = Field(description="days at 40 °C or more")
    hot_days: Spread = Field(description="days at 55 °C or more")
    turnings: tuple[float, ...] = Field(description="days on which to turn it")
    days: tuple[HeatDay, ...]
    readings: tuple[HeatRead, ...] = ()
    hours_hot: float | None = Field(default=None, description="hours at 55 °C by the readings; null without any")
    verdict: Line
    course: tuple[Line, ...]
    turning: tuple[Line, ...]
    changes: tuple[HeatChange, ...] = ()
    read: tuple[Line, ...] = ()
    doubts: tuple[Line, ...] = ()
    cautions: tuple[Line, ...] = ()

    def lines(self) -> tuple[Line, ...]:
        """Every line that can be asked why, in the order of the page."""
        return (
            self.verdict,
            *self.read,
            *self.course,
            *self.turning,
            *(one.line for one in self.changes),
            *self.doubts,
            *self.cautions,
        )
