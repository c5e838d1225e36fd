"""What the arithmetic works on: plain frozen values, already in one set of units."""

from __future__ import annotations

from advisor.records import dataclass


@dataclass(frozen=True, slots=True)
class Composition:
    """A material at one point of its spread.

    Units: nitrogen, carbon and ash in % of dry mass; moisture in % of wet mass; density in kg/m3 as piled.
    """

    nitrogen_pct: float
    carbon_pct: float
    moisture_pct: float
    density_kg_m3: float
    ash_pct: float = 0.0


@dataclass(frozen=True, slots=True)
class Part:
    """So much of a material, by wet mass in kg."""

    composition: Composition
    kg: float


@dataclass(frozen=True, slots=True)
class Range:
    """A figure with what it may plausibly be; see spread.py for what low and high mean."""

    low: float
    typical: float
    high: float


@dataclass(frozen=True, slots=True)
class Window:
    """Where a figure should lie, and where in there to aim."""

    low: float
    aim: float
    high: float

    def holds(self, value: float) -> bool:
        """Whether a value lies in the window, edges included."""
        return self.low <= value <= self.high
