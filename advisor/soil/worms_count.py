"""Earthworms counted in blocks of soil, and their casts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from advisor.knowledge.soil_shapes import Band
from advisor.records import dataclass
from advisor.soil.scales import Scales, scale
from advisor.units import FOOT_M

#: Side of the block that the classes are for, in cm.
BLOCK_SIDE_CM: Final = 20.0


@dataclass(frozen=True, slots=True)
class WormCount:
    """Worms to the square metre, to the block of 20 by 20 cm and to the square foot, with the class of each mark.

    The two marks disagree by a factor of three: the block's is for moist spring or autumn soil of farms in the United
    Kingdom, the square foot's for soils of the United States at large.
    """

    per_m2: float
    per_block: float
    per_ft2: float
    band: Band
    us_band: Band


def worm_count(counts: Sequence[float], scales: Scales, side_cm: float = BLOCK_SIDE_CM) -> WormCount:
    """The mean of several blocks of one size.

    Args:
        counts: worms in each block, nought or more; at least one.
        side_cm: side of the square block, above 0.

    Raises:
        ValueError: no block, a count below zero, or a side of nought.
    """
    if not counts or any(count < 0 for count in counts) or not side_cm > 0:
        raise ValueError("count the worms of at least one block")
    per_m2 = math.fsum(counts) / len(counts) / (side_cm / 100) ** 2
    per_block = round(per_m2 * (BLOCK_SIDE_CM / 100) ** 2, 9)
    per_ft2 = round(per_m2 * FOOT_M**2, 9)
    return WormCount(
        per_m2,
        per_block,
        per_ft2,
        scale(scales, "worms-per-block").of(per_block),
        scale(scales, "worms-per-square-foot").of(per_ft2),
    )


def casts(count: float, scales: Scales, side_cm: float = 50.0) -> Band:
    """The class of casts counted on a square, 50 by 50 cm unless told. Raises ValueError as `worm_count`."""
    if count < 0 or not side_cm > 0:
        raise ValueError("count the casts on a square")
    return scale(scales, "worm-casts").of(round(count * (50.0 / side_cm) ** 2, 9))
