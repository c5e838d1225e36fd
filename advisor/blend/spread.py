"""How sure the figures of a blend are: honest ranges from the spread of what goes into it.

The method, in full:

* A property of a material lies between `low` and `high` and is as often below `typical` as above. It is drawn
  from two triangles put together: below `typical` the density rises in a straight line from nothing at `low`,
  above it falls in a straight line to nothing at `high`, and each side holds half of the draws.
* Nitrogen and C:N of one material are drawn with opposite ranks (u and 1 - u), because carbon hardly varies:
  a leaf poor in nitrogen is one rich in C:N. Carbon is their product; where wide figures would make it more than
  60 % of the dry mass, as in no plant, nitrogen gives way. Moisture, density and ash are drawn each on its own.
* Of coarse wood only a share of the carbon feeds microbes while a heap works (`feeds`), drawn on its own: C:N is
  that of the carbon that counts.
* There is one draw per material and one per household measure: all the leaves are of one kind, and the same
  bucket is used throughout. Vague counts ("a couple") are drawn too, each on its own.
* There are 800 draws, spread evenly over every quantity (a Latin hypercube at the midpoints of its cells).
  Each quantity has a fixed shuffle of its own, seeded with its name: the same blend always gets the same
  range, in whatever order it is told, and adding a material does not draw the others anew.
* The range shown leaves out the 80 lowest and the 80 highest of the 800: it holds 8 times out of 10. It is
  widened if need be to take in the typical value, which is computed from typical inputs.

What was pressed down (a bale, a stuffed sack) is weighed at its packed density, but takes up room in the heap
at its loose one, since it is shaken out when the heap is built.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from advisor.blend import mix
from advisor.blend.sample import carbon_from_ratio_pct
from advisor.blend.shapes import Composition, Part, Range
from advisor.knowledge.shapes import Figure, Material
from advisor.records import dataclass

#: The most carbon there is in what once lived, in % of dry mass (organic-waste-recycling-carbon).
MOST_CARBON_PCT = 60.0

_L_PER_M3 = 1000.0


@dataclass(frozen=True, slots=True)
class Portion:
    """So much of a material, as told: a count of a measure.

    Attributes:
        material_id: portions of one id share their draws.
        material: what it is.
        count: how many; 0 or more.
        measure: an id of measures.toml, or "L" or "kg" for exact units; portions in one measure share it.
        litres: what one measure holds; not needed for "L" and "kg".
        packed: it was pressed down when measured.
        count_low, count_high: the ends of a vague count; None for a plain one.
    """

    material_id: str
    material: Material
    count: float
    measure: str
    litres: Figure | None = None
    packed: bool = False
    count_low: float | None = None
    count_high: float | None = None


@dataclass(frozen=True, slots=True)
class BlendFigures:
    """What a blend comes to, each figure with its range.

    C:N is infinite where there is no nitrogen. Volume is an upper estimate, and with it free air space; bulk
    density a lower one (mix.volume_l says why). Moisture, air, mass and bulk density count the water added.
    """

    carbon_nitrogen: Range
    moisture_pct: Range
    free_air_space_pct: Range
    nitrogen_kg: Range
    volume_l: Range
    mass_kg: Range
    bulk_density_kg_m3: Range
    dry_kg: Range


@dataclass(frozen=True, slots=True)
class Ranks:
    """Where in its spread each property of a material stands: 0 at low, 0.5 at typical, 1 at high.

    `nitrogen` stands for C:N too, which has the opposite rank.
    """

    nitrogen: float = 0.5
    moisture: float = 0.5
    density: float = 0.5
    ash: float = 0.5
    carbon: float = 0.5
    feeds: float = 0.5


_MIDDLE = Ranks()


def quantile(figure: Figure, rank: float) -> float:
    """The value that a share `rank` (0 to 1) of what a figure may be lies below.

    Source: the two triangles of this module's docstring, inverted.
    """
    if rank <= 0.5:
        return figure.typical - (figure.typical - figure.low) * (1.0 - math.sqrt(2.0 * rank))
    return figure.typical + (figure.high - figure.typical) * (1.0 - math.sqrt(2.0 * (1.0 - rank)))


def composition_at(material: Material, ranks: Ranks = _MIDDLE, *, packed: bool = False) -> Composition:
    """A material at one point of its spread.

    A material without a C:N (a mineral) has the carbon of its `carbon` figure, or none. Of coarse wood the carbon is
    the share that feeds microbes. Ash that is not given
    is taken as all of a mineral and none of anything else, which errs to less free air space, and by little.
    """
    nitrogen = quantile(material.nitrogen, ranks.nitrogen)
    if material.carbon_nitrogen is not None:
        ratio = quantile(material.carbon_nitrogen, 1.0 - ranks.nitrogen)
        nitrogen = min(nitrogen, MOST_CARBON_PCT / ratio) if ratio > 0 else nitrogen
        carbon = carbon_from_ratio_pct(nitrogen, ratio)
    else:
        carbon = quantile(material.carbon, ranks.carbon) if material.carbon is not None else 0.0
    if material.feeds is not None:
        carbon *= quantile(material.feeds, ranks.feeds) / 100.0
    return Composition(
        nitrogen_pct=nitrogen,
        carbon_pct=carbon,
        moisture_pct=quantile(material.moisture, ranks.moisture),
        density_kg_m3=quantile(density_of(material, packed), ranks.density),
        ash_pct=quantile(material.ash, ranks.ash) if material.ash is not None else plain_ash_pct(material),
    )


def typical(material: Material, *, packed: bool = False) -> Composition:
    """A material at its typical figures; `packed` chooses the density when pressed down, if it has one."""
    return composition_at(material, packed=packed)


def typical_part(portion: Portion) -> Part:
    """A portion by its typical mass, as it lies in the heap: shaken out, at its loose density.

    Raises:
        ValueError: it is counted in a household measure whose litres are not given.
    """
    loose = typical(portion.material)
    if portion.measure == "kg":
        return Part(loose, portion.count)
    size = size_of(portion)
    litres = portion.count if size is None else portion.count * size.typical
    return Part(loose, litres * density_of(portion.material, portion.packed).typical / _L_PER_M3)


def figures(portions: Sequence[Portion], *, water_l: float = 0.0) -> BlendFigures:
    """What a blend comes to, with water added, each figure with its range: 8 times out of 10.

    Of nothing: mass, volume, nitrogen, moisture and density 0, C:N infinite, free air space 100.

    Raises:
        ValueError: a portion is counted in a household measure whose litres are not given.
    """
    parts = [typical_part(portion) for portion in portions]
    middle = _typical_figures(parts, water_l)
    if not portions:
        return BlendFigures(*(Range(value, value, value) for value in middle))
    from advisor.blend.drawn import ends  # here, since most of what asks this module for a figure draws none

    low, high = ends(portions, water_l)
    return BlendFigures(
        *(
            Range(min(least, value), value, max(most, value))
            for least, value, most in zip(low, middle, high, strict=True)
        )
    )


def _typical_figures(parts: Sequence[Part], water_l: float) -> tuple[float, ...]:
    """In the order of BlendFigures."""
    return (
        mix.carbon_nitrogen(parts),
        mix.moisture_pct(parts, water_l),
        mix.free_air_space_pct(parts, water_l),
        mix.nitrogen_kg(parts),
        mix.volume_l(parts),
        mix.mass_kg(parts, water_l),
        mix.bulk_density_kg_m3(parts, water_l),
        mix.dry_kg(parts),
    )


def size_of(portion: Portion) -> Figure | None:
    """What one measure holds; None for exact litres."""
    if portion.measure == "L":
        return None
    if portion.litres is None:
        raise ValueError(f"how much a {portion.measure} holds is not given")
    return portion.litres


def density_of(material: Material, packed: bool) -> Figure:
    """Return the density in kg/m³: packed where it is packed and such a figure is known, else loose."""
    return material.density_packed if packed and material.density_packed is not None else material.density


def plain_ash_pct(material: Material) -> float:
    """Return the ash, in % of dry mass, of a material that has no figure of its own for it."""
    return 100.0 if material.role == "mineral" else 0.0
