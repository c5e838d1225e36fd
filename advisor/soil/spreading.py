"""From beds to compost and back: depth, volume, weight, nutrients, and the raw stuff and heaps it takes.

Litres = square metres x centimetres x 10. Nutrients in kg, phosphorus and potassium as the oxides that sacks print.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, Literal

from advisor.blend.shapes import Range
from advisor.heap.ranges import Figures, Spread, exactly, figure, over, scaled, times
from advisor.records import dataclass

LITRES_PER_M2_CM: Final = 10.0

#: How the shares of nitrogen of the second and third year are meant: of what was spread, or of what is left of it.
#: Sources print 15, 8 and 4 % and do not say which. Of 1000: 150, 80, 40 by the first, 150, 68, 31 by the second.
Shares = Literal["of-original", "of-remainder"]

YEARS: Final = (
    "compost-nitrogen-first-year-pct",
    "compost-nitrogen-second-year-pct",
    "compost-nitrogen-third-year-pct",
)


@dataclass(frozen=True, slots=True)
class Dressing:
    """Compost on a bed: area in m2, depth in cm, volume in litres, weight and what it brings in kg.

    `dry_kg_m2` is dry matter to the square metre.
    """

    area_m2: float
    depth_cm: float
    litres: float
    kg: Range
    nitrogen_kg: Range
    phosphate_kg: Range
    potash_kg: Range
    dry_kg_m2: Range


def volume_litres(area_m2: float, depth_cm: float) -> float:
    """Volume of a layer. Raises ValueError for an area or depth below zero."""
    if area_m2 < 0 or depth_cm < 0:
        raise ValueError("an area and a depth are not below zero")
    return area_m2 * depth_cm * LITRES_PER_M2_CM


def depth_cm(litres: float, area_m2: float) -> float:
    """Depth at which so much covers an area. Raises ValueError for a volume below zero or no area."""
    if litres < 0 or not area_m2 > 0:
        raise ValueError("needs a volume, and an area to spread it on")
    return litres / area_m2 / LITRES_PER_M2_CM


def dressing(area_m2: float, deep_cm: float, figures: Figures) -> Dressing:
    """What a layer of finished compost weighs and brings.

    Raises:
        ValueError: no area, or a depth below zero.
    """
    if not area_m2 > 0:
        raise ValueError("a bed has some area")
    litres = volume_litres(area_m2, deep_cm)
    kg = scaled(figure(figures, "compost-kg-per-m3"), litres / 1000)
    tonnes = scaled(kg, 0.001)
    dry = times(kg, scaled(figure(figures, "compost-dry-matter-pct"), 0.01))
    return Dressing(
        area_m2,
        deep_cm,
        litres,
        kg,
        times(tonnes, figure(figures, "compost-nitrogen-kg-per-t")),
        times(tonnes, figure(figures, "compost-phosphate-kg-per-t")),
        times(tonnes, figure(figures, "compost-potash-kg-per-t")),
        scaled(dry, 1 / area_m2),
    )


def depth_of_weight_cm(kg: float, area_m2: float, figures: Figures) -> Range:
    """How deep so much compost by weight lies on an area. Raises ValueError for no weight or no area."""
    if not (kg > 0 and area_m2 > 0):
        raise ValueError("needs a weight, and an area to spread it on")
    return over(exactly(kg * 100 / area_m2), figure(figures, "compost-kg-per-m3"))


def share_of_soil_kg(share_pct: float, area_m2: float, deep_cm: float, figures: Figures) -> Range:
    """The weight that makes so many % of the soil of a bed down to a depth, as rates of charcoal are given.

    Raises:
        ValueError: a share below zero, no area or no depth.
    """
    if share_pct < 0 or not (area_m2 > 0 and deep_cm > 0):
        raise ValueError("needs a share, an area and a depth")
    return scaled(figure(figures, "garden-soil-kg-per-m3"), area_m2 * deep_cm / 100 * share_pct / 100)


def nitrogen_by_year(total_kg: Spread, figures: Figures, shares: Shares = "of-original") -> tuple[Range, Range, Range]:
    """Nitrogen that crops may take up in the first, second and third year after one dressing, in kg."""
    first, second, third = (figure(figures, name) for name in YEARS)
    return released(total_kg, (first, second, third), shares)


def released(total: Spread, pcts: tuple[Spread, Spread, Spread], shares: Shares) -> tuple[Range, Range, Range]:
    """So many % in each of three years, of the whole or of what the years before have left."""
    parts: list[Range] = []
    left = exactly(1.0)
    for pct in pcts:
        share = Range(pct.low / 100, pct.typical / 100, pct.high / 100)
        taken = share if shares == "of-original" else _product(left, share)
        left = Range(left.low * (1 - share.low), left.typical * (1 - share.typical), left.high * (1 - share.high))
        parts.append(times(total, taken))
    first, second, third = parts
    return first, second, third


def _product(one: Range, other: Range) -> Range:
    """Ends multiplied end by end: what is left hangs on the same shares, so it is no independent spread."""
    return Range(one.low * other.low, one.typical * other.typical, one.high * other.high)


def next_crop(made: Dressing, figures: Figures) -> tuple[Range, Range]:
    """Phosphate and potash within reach of the next crop, in kg."""
    phosphate = figure(figures, "compost-phosphate-next-crop-pct").typical / 100
    potash = figure(figures, "compost-potash-next-crop-pct").typical / 100
    return scaled(made.phosphate_kg, phosphate), scaled(made.potash_kg, potash)


def phosphate_balance(phosphate_kg: float, area_m2: float, figures: Figures) -> float:
    """How many times what a year's vegetables carry off a dressing brings of phosphate.

    Raises:
        ValueError: no area.
    """
    if not area_m2 > 0:
        raise ValueError("a bed has some area")
    return phosphate_kg * 1000 / area_m2 / figure(figures, "crop-phosphate-removal-g-per-m2").typical


def organic_matter_gain_pct(deep_cm: float, worked_in_cm: float, figures: Figures) -> Range:
    """Organic matter that a dressing adds at first to the soil it is worked into, in % of the soil's weight.

    About half of it decays in two or three years (general extension figures, from memory).

    Raises:
        ValueError: worked in no deeper than nothing.
    """
    if not worked_in_cm > 0 or deep_cm < 0:
        raise ValueError("it is worked in to some depth")
    compost = scaled(figure(figures, "compost-kg-per-m3"), deep_cm / 100)
    dry = times(compost, scaled(figure(figures, "compost-dry-matter-pct"), 0.01))
    organic = times(dry, scaled(figure(figures, "compost-organic-matter-of-dry-pct"), 0.01))
    soil = scaled(figure(figures, "garden-soil-kg-per-m3"), worked_in_cm / 100)
    return scaled(over(organic, soil), 100)


def years_of_ceiling(made: Dressing, figures: Figures) -> Range:
    """How many years of the German allowance for biowaste compost on farmland one dressing uses up."""
    three_years = figure(figures, "dry-matter-ceiling-kg-per-m2")
    return scaled(made.dry_kg_m2, 3 / three_years.typical)


# ---------------------------------------------------------------- backwards: beds, finished, raw, heaps


@dataclass(frozen=True, slots=True)
class Gathering:
    """What has to be brought together for so much finished compost, in litres; heaps are whole ones."""

    finished_litres: float
    unscreened_litres: Range
    raw_litres: Range
    heap_litres: float
    heaps: int


def gathering(
    finished_litres: float, shrinks_to_pct: Spread, heap_litres: float, figures: Figures, *, screened: bool = False
) -> Gathering:
    """From the compost wanted to the raw stuff and the number of heaps.

    Args:
        finished_litres: as it goes on the beds.
        shrinks_to_pct: % of the starting volume left, as methods.toml has it.
        heap_litres: what one heap holds when it is built.
        screened: only what goes through a screen is used.

    Raises:
        ValueError: less than nothing wanted, or heaps of no size.
    """
    if finished_litres < 0 or not heap_litres > 0:
        raise ValueError("needs a volume, and heaps of some size")
    fine = scaled(figure(figures, "screened-fine-pct"), 0.01) if screened else exactly(1.0)
    unscreened = over(exactly(finished_litres), fine)
    raw = over(unscreened, scaled(shrinks_to_pct, 0.01))
    # Off by less than a thousandth of a heap is the arithmetic of floats, not another heap to build.
    heaps = math.ceil(raw.typical / heap_litres - 1e-3)
    return Gathering(finished_litres, unscreened, raw, heap_litres, heaps)


def from_heaps(raw_litres: Spread, shrinks_to_pct: Spread, figures: Figures, *, screened: bool = False) -> Range:
    """The other way: the compost that so much raw stuff gives, in litres."""
    fine = scaled(figure(figures, "screened-fine-pct"), 0.01) if screened else exactly(1.0)
    return times(raw_litres, scaled(shrinks_to_pct, 0.01), fine)


# ---------------------------------------------------------------- sharing out


@dataclass(frozen=True, slots=True)
class Want:
    """A bed that wants so deep a layer. The lower `rank`, the sooner it is served."""

    name: str
    area_m2: float
    depth_cm: float
    rank: int


@dataclass(frozen=True, slots=True)
class Served:
    """What a bed gets of what it wants, in litres."""

    want: Want
    litres: float
    wanted_litres: float

    @property
    def depth_cm(self) -> float:
        return depth_cm(self.litres, self.want.area_m2)


def share_out(wants: Sequence[Want], litres: float) -> tuple[Served, ...]:
    """Serve the beds by rank, each in full while there is any; beds of one rank share what is left evenly by area.

    The answer keeps the order of `wants`.

    Raises:
        ValueError: less than nothing to share, or a bed without area.
    """
    if litres < 0 or any(not want.area_m2 > 0 for want in wants):
        raise ValueError("needs a volume, and beds of some area")
    given: dict[int, float] = {}
    left = litres
    for rank in sorted({want.rank for want in wants}):
        of_rank = [place for place, want in enumerate(wants) if want.rank == rank]
        asked = {place: volume_litres(wants[place].area_m2, wants[place].depth_cm) for place in of_rank}
        total = math.fsum(asked.values())
        share = 1.0 if total <= left else left / total
        for place in of_rank:
            given[place] = asked[place] * share
        left = max(0.0, left - total)
    return tuple(
        Served(want, given[place], volume_litres(want.area_m2, want.depth_cm)) for place, want in enumerate(wants)
    )


def mix_parts(total_litres: float, share_pct: Spread) -> tuple[Range, Range]:
    """Compost and the rest in a potting or bed mix, in litres. Raises ValueError for no volume or a share over 100."""
    if not total_litres > 0 or share_pct.high > 100:
        raise ValueError("needs a volume, and a share of it")
    compost = scaled(share_pct, total_litres / 100)
    return compost, Range(total_litres - compost.high, total_litres - compost.typical, total_litres - compost.low)
