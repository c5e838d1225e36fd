"""Deep bedding: what animals give, what bed keeps them dry, how deep it grows, and the rows it makes in spring.

Dung and urine come from ASAE D384.1 (`asae-d384`, from memory), per tonne of live animal and day. Water and carbon are
balanced by the formulas of mix.py; what dries off from the bed is left out of the balance, which errs to the dry side.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from advisor.blend import mix
from advisor.blend.shapes import Composition, Part, Range
from advisor.heap.ranges import Figures, exactly, figure, over, plain, scaled, summed, times
from advisor.records import dataclass

DAYS_PER_WEEK = 7

#: Kinds of animals, by the name their figures begin with, and what people call them.
ANIMALS: Mapping[str, tuple[str, ...]] = {
    "hen": ("hen", "hens", "chicken", "chickens", "layer", "layers", "pullet", "pullets", "cockerel", "cockerels"),
    "duck": ("duck", "ducks"),
    "rabbit": ("rabbit", "rabbits"),
    "goat": ("goat", "goats"),
    "sheep": ("sheep", "ewe", "ewes", "ram", "rams"),
    "pig": ("pig", "pigs", "sow", "sows", "hog", "hogs"),
    "horse": ("horse", "horses", "mare", "mares", "cob", "cobs"),
    "pony": ("pony", "ponies", "donkey", "donkeys"),
    "cow": ("cow", "cows", "cattle", "steer", "steers", "heifer", "heifers", "house cow", "house cows"),
}


@dataclass(frozen=True, slots=True)
class Herd:
    """So many animals of a kind; `live_kg` is what one weighs, if that was said."""

    animal: str
    count: float
    live_kg: float | None = None


@dataclass(frozen=True, slots=True)
class Dung:
    """Dung and urine of a day, in kg: fresh, of solids, of carbon and of nitrogen."""

    fresh_kg: Range
    solids_kg: float
    carbon_kg: float
    nitrogen_kg: float

    def over(self, days: float) -> Part:
        """So many days of it as a part of a blend, at typical values."""
        wet = self.fresh_kg.typical
        composition = Composition(
            nitrogen_pct=100 * self.nitrogen_kg / self.solids_kg,
            carbon_pct=100 * self.carbon_kg / self.solids_kg,
            moisture_pct=100 * (1 - self.solids_kg / wet),
            density_kg_m3=1000.0,
        )
        return Part(composition, wet * days)


@dataclass(frozen=True, slots=True)
class Bedding:
    """A material to bed on: what it is, and how many kg there are; infinite if more can be fetched."""

    id: str
    composition: Composition
    kg: float


@dataclass(frozen=True, slots=True)
class Bed:
    """A season's bed.

    Attributes:
        used: kg of each bedding over the season, in the order offered.
        moisture_pct, carbon_nitrogen: of all that was laid down.
        kg_laid: dung and bedding together.
        litres_in_spring: the trodden pack.
        depth_m: on the floor it was told.
        dry_enough, rich_enough: whether the two goals are met.
    """

    used: tuple[tuple[str, float], ...]
    moisture_pct: float
    carbon_nitrogen: float
    kg_laid: float
    litres_in_spring: Range
    depth_m: Range
    dry_enough: bool
    rich_enough: bool


@dataclass(frozen=True, slots=True)
class Rows:
    """Rounded rows: how many, how long each is, and the ground they need with their aisles. Metres."""

    number: int
    length_m: float
    width_m: float
    height_m: float
    litres: float
    ground_length_m: float
    ground_width_m: float


def dung(herds: Sequence[Herd], figures: Figures, indoors: float = 1.0) -> Dung:
    """What the animals leave in the house in a day.

    Args:
        herds: the animals.
        figures: the constants of the trade.
        indoors: the share of the day that they are in, above 0 up to 1.

    Raises:
        ValueError: no animals, or a share that is none.

    Source: asae-d384. A 450 kg horse: 51 kg a tonne and day are 23 kg.
    """
    if not 0 < indoors <= 1:
        raise ValueError(f"a share of the day lies between 0 and 1, not {indoors:g}")
    if not herds or any(herd.count <= 0 for herd in herds):
        raise ValueError("there are no animals")
    dung = exactly(0.0)
    solids = carbon = nitrogen = 0.0
    per_carbon = figure(figures, "volatile-per-carbon").typical
    for herd in herds:
        live = _live(herd, figures)
        fresh = scaled(times(live, figure(figures, f"{herd.animal}-manure-kg-per-t-day")), indoors * herd.count / 1000)
        dung = summed(dung, fresh)
        tonnes = indoors * herd.count * live.typical / 1000
        solids += tonnes * figure(figures, f"{herd.animal}-solids-kg-per-t-day").typical
        carbon += tonnes * figure(figures, f"{herd.animal}-volatile-kg-per-t-day").typical / per_carbon
        nitrogen += tonnes * figure(figures, f"{herd.animal}-nitrogen-kg-per-t-day").typical
    return Dung(dung, solids, carbon, nitrogen)


def floor_m2(herds: Sequence[Herd], figures: Figures) -> float:
    """The floor that the animals want between them, in m2."""
    return math.fsum(herd.count * figure(figures, f"{herd.animal}-room-m2").typical for herd in herds)


def bed(
    daily: Dung,
    days: float,
    bedding: Sequence[Bedding],
    figures: Figures,
    *,
    floor: float,
    goal_cn: float,
) -> Bed:
    """How much bedding a season takes: what is offered first is used first, until the bed is dry and lean enough.

    Args:
        daily: what the animals leave in a day.
        days: the length of the season.
        bedding: what there is to bed on, in the order in which it is to be used.
        figures: the constants of the trade.
        floor: m2 that it lies on.
        goal_cn: C:N wanted of the whole bed.

    Raises:
        ValueError: a season of no days, or no floor.
    """
    if not days > 0 or not floor > 0:
        raise ValueError(f"{days:g} days on {floor:g} m2")
    goal_moisture = figure(figures, "pack-moisture-pct").typical
    parts = [daily.over(days)]
    used: list[tuple[str, float]] = []
    for offered in bedding:
        wanted = max(_to_dry(parts, offered, goal_moisture), _to_lean(parts, offered, goal_cn))
        kg = min(wanted, offered.kg)
        if kg > 1e-9:
            parts.append(Part(offered.composition, kg))
            used.append((offered.id, kg))
    laid = mix.mass_kg(parts)
    left, density = figure(figures, "pack-mass-left-pct"), figure(figures, "pack-density-kg-per-m3")
    litres = scaled(over(left, density), laid / 100 * 1000)
    moisture, ratio = mix.moisture_pct(parts), mix.carbon_nitrogen(parts)
    return Bed(
        used=tuple(used),
        moisture_pct=moisture,
        carbon_nitrogen=ratio,
        kg_laid=laid,
        litres_in_spring=litres,
        depth_m=scaled(litres, 1 / 1000 / floor),
        dry_enough=moisture <= goal_moisture + 0.1,
        rich_enough=ratio >= goal_cn - 0.1,
    )


def forked_out_l(pack: Bed, figures: Figures) -> float:
    """Litres that the pack makes once it is forked into a row, at typical values."""
    left = figure(figures, "pack-mass-left-pct").typical / 100
    return pack.kg_laid * left / figure(figures, "pack-forked-out-kg-per-m3").typical * 1000


def cross_section_m2(width_m: float, height_m: float) -> float:
    """Cross-section of a rounded row: two thirds of width times height, a parabola.

    Source: the quadrature of the parabola; on-farm-handbook-a1's book uses the same for high rows (from memory).

    >>> round(cross_section_m2(2.44, 1.68), 2)
    2.73
    """
    return 2 / 3 * width_m * height_m


def rows(litres: float, figures: Figures, longest_m: float | None = None) -> Rows:
    """The rows that so many litres make: as few as will do, all of one length.

    Args:
        litres: what is to be stacked, above 0.
        figures: the constants of the trade.
        longest_m: the longest a row may be, if the ground limits it.

    Raises:
        ValueError: nothing to stack, or no length to stack it in.
    """
    width, height = figure(figures, "row-width-m").typical, figure(figures, "row-height-m").typical
    longest = figure(figures, "row-longest-m").typical if longest_m is None else longest_m
    if not litres > 0 or not longest > 0:
        raise ValueError(f"{litres:g} L in rows of {longest:g} m")
    total = litres / 1000 / cross_section_m2(width, height)
    number = max(1, math.ceil(total / longest - 1e-9))
    length = total / number
    aisle = figure(figures, "row-aisle-m").typical
    return Rows(
        number=number,
        length_m=length,
        width_m=width,
        height_m=height,
        litres=litres,
        ground_length_m=length + 2 * aisle,
        ground_width_m=number * width + (number + 1) * aisle,
    )


def _live(herd: Herd, figures: Figures) -> Range:
    if herd.live_kg is not None:
        return exactly(herd.live_kg)
    return plain(figure(figures, f"{herd.animal}-live-kg"))


def _to_dry(parts: Sequence[Part], offered: Bedding, goal_pct: float) -> float:
    """Kg of it that bring the bed down to a moisture; 0 if it is dry enough, endless if it cannot."""
    if mix.moisture_pct(parts) <= goal_pct:
        return 0.0
    try:
        return mix.second_for_moisture(parts, offered.composition, goal_pct)
    except mix.CannotBeMet:
        return math.inf if offered.kg < math.inf else 0.0


def _to_lean(parts: Sequence[Part], offered: Bedding, goal: float) -> float:
    """Kg of it that bring the bed up to a C:N; 0 if it is there, endless if it cannot."""
    if mix.carbon_nitrogen(parts) >= goal:
        return 0.0
    try:
        return mix.second_for_cn(parts, offered.composition, goal)
    except mix.CannotBeMet:
        return math.inf if offered.kg < math.inf else 0.0
