"""The infiltration ring: how deep the water poured in stands, and how fast it goes.

The kit of the US soil service pours 444 mL into a ring of 6 in for an inch of water. A ring of exactly 6.00 in inside
would need 463 mL: 444 mL fits one of 5.87 in. So the depth is reckoned here from the ring's own inner width.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from advisor.knowledge.soil_shapes import Band
from advisor.records import dataclass
from advisor.soil.scales import Scales, scale
from advisor.units import INCH_M

MM_PER_INCH: Final = INCH_M * 1000

#: What the kit pours into its ring, in litres.
KIT_LITRES: Final = 0.444


@dataclass(frozen=True, slots=True)
class Fill:
    """One filling of the ring: minutes until it was gone, or until it was watched no longer with `left_mm` standing."""

    minutes: float
    left_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Infiltration:
    """Rates in mm/h: of each filling, and the one that counts (the last); with its class."""

    depth_mm: float
    rates_mm_h: tuple[float, ...]
    band: Band

    @property
    def rate_mm_h(self) -> float:
        return self.rates_mm_h[-1]

    @property
    def rate_in_h(self) -> float:
        return self.rate_mm_h / MM_PER_INCH

    @property
    def dry_start(self) -> bool:
        """Only one filling: dry ground drinks the first faster than it would go on."""
        return len(self.rates_mm_h) == 1


def depth_mm(litres: float, inner_mm: float) -> float:
    """How deep so much water stands in a ring. Raises ValueError for a volume or width of nought or less."""
    if not (litres > 0 and inner_mm > 0):
        raise ValueError("a ring has a width, and some water goes into it")
    return litres * 1e6 / (math.pi * inner_mm**2 / 4)


def litres_for(deep_mm: float, inner_mm: float) -> float:
    """The water that stands so deep in a ring. Raises ValueError for a depth or width of nought or less."""
    if not (deep_mm > 0 and inner_mm > 0):
        raise ValueError("a ring has a width, and the water a depth")
    return deep_mm * math.pi * inner_mm**2 / 4 / 1e6


def infiltration(deep_mm: float, fills: Sequence[Fill], scales: Scales) -> Infiltration:
    """The rate of each filling, and the class of the last.

    The kit's guide takes the second filling for the rate: the first wets the ground. With more, the last is taken.

    Args:
        deep_mm: depth poured at each filling, above 0.
        fills: in order, at least one.

    Raises:
        ValueError: no filling, a time of nought, or more left than was poured.
    """
    if not fills:
        raise ValueError("time at least one filling of the ring")
    rates = []
    for fill in fills:
        if not fill.minutes > 0:
            raise ValueError("a filling takes some time")
        if not 0 <= fill.left_mm <= deep_mm:
            raise ValueError(f"{fill.left_mm:g} mm left of {deep_mm:g} mm poured")
        rates.append((deep_mm - fill.left_mm) * 60 / fill.minutes)
    return Infiltration(deep_mm, tuple(rates), scale(scales, "ring-rate").of(round(rates[-1] / MM_PER_INCH, 9)))
