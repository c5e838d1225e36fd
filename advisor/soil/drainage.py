"""How water leaves a hole: the percolation hole, and the plain 18 in hole."""

from __future__ import annotations

from advisor.knowledge.soil_shapes import Band
from advisor.records import dataclass
from advisor.soil.infiltration import MM_PER_INCH
from advisor.soil.scales import Scales, scale


@dataclass(frozen=True, slots=True)
class Percolation:
    """The rate in a soaked hole, and its class."""

    rate_mm_h: float
    band: Band

    @property
    def rate_in_h(self) -> float:
        return self.rate_mm_h / MM_PER_INCH


def percolation(fell_mm: float, hours: float, scales: Scales) -> Percolation:
    """A hole 12 in wide and deep, soaked overnight and filled again.

    Raises:
        ValueError: a fall below zero, or no time.
    """
    if fell_mm < 0 or not hours > 0:
        raise ValueError("say how far the water fell, and in what time")
    rate = fell_mm / hours
    return Percolation(rate, scale(scales, "percolation").of(round(rate / MM_PER_INCH, 9)))


def hole(hours: float, scales: Scales) -> Band:
    """The class of a hole 18 in deep that was empty after so many hours. Raises ValueError for less than nought."""
    if hours < 0:
        raise ValueError("a hole empties in some time")
    return scale(scales, "hole-hours").of(hours)
