"""The slake test: whether crumbs hold together in water. Classes 0 to 6 of the Soil Quality Test Kit Guide (memory)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, Literal

from advisor.records import dataclass

#: Crumbs in a full test, minutes in water, and dips after that; read in a reproduction of the guide.
CRUMBS: Final = 16
SOAK_SECONDS: Final = 300.0
DIPS: Final = 5

Hold = Literal["weak", "middling", "strong"]


@dataclass(frozen=True, slots=True)
class Crumb:
    """What became of one crumb.

    `half_lost_seconds` is when half of it had fallen away in the five minutes, None if it had not; `left_pct` is what
    lay on the sieve after the dips, None if it never came to them. A crumb that cannot be lifted is `too_soft`.
    """

    half_lost_seconds: float | None = None
    left_pct: float | None = None
    too_soft: bool = False


@dataclass(frozen=True, slots=True)
class Slake:
    """Mean class of the crumbs, and what it comes to."""

    mean: float
    hold: Hold


def crumb_class(crumb: Crumb) -> int:
    """The class of one crumb.

    Raises:
        ValueError: neither when it fell apart nor what was left is told, or a figure out of bounds.
    """
    if crumb.too_soft:
        return 0
    if crumb.half_lost_seconds is not None:
        return _by_time(crumb.half_lost_seconds)
    if crumb.left_pct is None:
        raise ValueError("say when half the crumb was gone, or how much was left after the dips")
    if not 0 <= crumb.left_pct <= 100:
        raise ValueError(f"{crumb.left_pct:g} % of a crumb cannot be left")
    for limit, number in ((10, 3), (25, 4), (75, 5)):
        if crumb.left_pct < limit:
            return number
    return 6


def _by_time(seconds: float) -> int:
    if not 0 <= seconds <= SOAK_SECONDS:
        raise ValueError("crumbs are watched for five minutes, 300 seconds")
    return 1 if seconds < 5 else 2 if seconds <= 30 else 3


def slake(crumbs: Sequence[Crumb]) -> Slake:
    """The mean class. What it is called is ours: up to 3 weak, below 5 middling, 5 and more strong.

    Raises:
        ValueError: no crumb, or one that `crumb_class` refuses.
    """
    if not crumbs:
        raise ValueError("dip at least one crumb; sixteen make a test")
    mean = math.fsum(crumb_class(crumb) for crumb in crumbs) / len(crumbs)
    return Slake(mean, "weak" if mean <= 3 else "middling" if mean < 5 else "strong")
