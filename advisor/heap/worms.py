"""A worm bin for the scraps there are, and the scraps a bin can take."""

from __future__ import annotations

from advisor.blend.shapes import Range
from advisor.heap.ranges import Figures, Spread, exactly, figure, over, plain, scaled, times
from advisor.records import dataclass

DAYS_PER_WEEK = 7


@dataclass(frozen=True, slots=True)
class WormBin:
    """What it takes to start a worm bin. `bedding_litres` is damp and loose, and settles in the bin."""

    worms_kg: Range
    worms: Range  # how many that is
    litres: Range
    area_m2: Range
    depth_m: Range
    bedding_litres: Range


def worm_bin(weekly_kg: Spread, figures: Figures) -> WormBin:
    """A bin for so many kg of scraps a week.

    Worms are a multiple of the scraps of one day; volume and area a multiple of those of a week. Sources size
    a bin by one or the other, so both are given.

    Raises:
        ValueError: there is nothing to feed.
    """
    if not weekly_kg.typical > 0:
        raise ValueError("there is nothing to feed worms with")
    worms_kg = times(scaled(weekly_kg, 1 / DAYS_PER_WEEK), figure(figures, "worms-per-daily-scraps"))
    return WormBin(
        worms_kg=worms_kg,
        worms=times(worms_kg, figure(figures, "worms-per-kg")),
        litres=times(weekly_kg, figure(figures, "worm-bin-litres-per-weekly-kg")),
        area_m2=times(weekly_kg, figure(figures, "worm-bin-m2-per-weekly-kg")),
        depth_m=plain(figure(figures, "worm-bin-depth-m")),
        bedding_litres=times(worms_kg, figure(figures, "worm-bedding-litres-per-kg-worms")),
    )


@dataclass(frozen=True, slots=True)
class HomeBin:
    """The worm bin that a home can hold, and the share of the scraps that it takes, above 0 and up to 1."""

    bin: WormBin
    share: float


def home_bin(weekly_kg: Spread, figures: Figures) -> HomeBin:
    """A bin for so many kg of scraps a week, or the largest that a home can hold, with the share of them it takes.

    Raises:
        ValueError: there is nothing to feed.
    """
    wanted = worm_bin(weekly_kg, figures)
    share = min(1.0, figure(figures, "worm-bin-home-m2").high / wanted.area_m2.typical)
    return HomeBin(wanted if share == 1.0 else worm_bin(scaled(weekly_kg, share), figures), share)


def kg_a_week(bin_litres: float, figures: Figures) -> Range:
    """Kg of scraps a week that a settled bin of so many litres can take."""
    return over(exactly(bin_litres), figure(figures, "worm-bin-litres-per-weekly-kg"))


def kg_a_week_for(worms_kg: float, figures: Figures) -> Range:
    """Kg of scraps a week for so many kg of worms."""
    return scaled(over(exactly(worms_kg), figure(figures, "worms-per-daily-scraps")), DAYS_PER_WEEK)


def share_taken(weekly_kg: Spread, bin_litres: float, figures: Figures) -> Range:
    """Share of the scraps that a bin of so many litres can take, from 0 to 1.

    Raises:
        ValueError: there may be no scraps at all.
    """
    share = over(kg_a_week(bin_litres, figures), weekly_kg)
    return Range(min(1.0, share.low), min(1.0, share.typical), min(1.0, share.high))
