"""Seeds as judges of compost: the germination index, growth against a control, radish pots, weed seeds."""

from __future__ import annotations

import math
from collections.abc import Sequence

from advisor.knowledge.soil_shapes import Band
from advisor.records import dataclass
from advisor.soil.scales import Scales, scale


@dataclass(frozen=True, slots=True)
class Dish:
    """Seeds sown and sprouted, and the mean length of the roots of those that sprouted, in mm."""

    sown: int
    sprouted: int
    root_mm: float

    def __post_init__(self) -> None:
        if not 0 <= self.sprouted <= self.sown or self.sown == 0:
            raise ValueError(f"{self.sprouted} of {self.sown} seeds cannot have sprouted")
        if not self.root_mm >= 0:
            raise ValueError("roots are not shorter than nought")

    @property
    def share(self) -> float:
        return self.sprouted / self.sown


@dataclass(frozen=True, slots=True)
class Germination:
    """A figure in % and its class."""

    pct: float
    band: Band


def dish(sown: int, roots_mm: Sequence[float]) -> Dish:
    """A dish from the root of each seed that sprouted. Raises ValueError for more roots than seeds."""
    mean = math.fsum(roots_mm) / len(roots_mm) if roots_mm else 0.0
    return Dish(sown, len(roots_mm), mean)


def germination_index(sample: Dish, control: Dish, scales: Scales) -> Germination:
    """GI = (share sprouted / share in the control) x (mean root / mean root in the control) x 100.

    With as many seeds in both dishes the shares are as the counts, which is how it is printed (cress test of 1981).

    Raises:
        ValueError: nothing grew in the control, so it says nothing.
    """
    _alive(control)
    pct = 100 * (sample.share / control.share) * (sample.root_mm / control.root_mm)
    return Germination(pct, scale(scales, "germination-index").of(round(pct, 9)))


def relative_growth(sample: Dish, control: Dish, scales: Scales) -> Germination:
    """Sprouting or growth against the control, whichever is worse (group B of the maturity index).

    Raises:
        ValueError: as `germination_index`.
    """
    _alive(control)
    pct = 100 * min(sample.share / control.share, sample.root_mm / control.root_mm)
    return Germination(pct, scale(scales, "relative-growth").of(round(pct, 9)))


def radish(sown: int, grown: int, scales: Scales) -> Germination:
    """Radishes in pots of the compost: three quarters or more sprout and grow, and it is ready.

    Raises:
        ValueError: more grown than sown, or none sown.
    """
    pct = 100 * Dish(sown, grown, 0.0).share
    return Germination(pct, scale(scales, "radish-pots").of(pct))


def weed_seeds(seedlings: int, litres: float, scales: Scales) -> tuple[float, Band]:
    """Seedlings to the litre, from compost spread 1 cm thick and kept moist for 15 days, and the class.

    Raises:
        ValueError: fewer than none, or no compost.
    """
    if seedlings < 0 or not litres > 0:
        raise ValueError("count the seedlings of some litres")
    per_litre = seedlings / litres
    return per_litre, scale(scales, "weed-seeds").of(round(per_litre, 9))


def _alive(control: Dish) -> None:
    if control.sprouted == 0 or not control.root_mm > 0:
        raise ValueError("nothing grew in the control: the seed is dead, or the water is bad")
