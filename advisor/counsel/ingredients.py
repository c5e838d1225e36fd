"""What a recipe is made of: what is on hand in measures, what is poured on, and what could be fetched."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from advisor.blend.offers import Offer
from advisor.blend.spread import typical
from advisor.counsel.measures import Unit, finest_step, share_cap, unit_for
from advisor.counsel.settle import is_barred
from advisor.counsel.stock import Lot, measure_figure, nature
from advisor.household.shapes import Household
from advisor.inference.engine import Consultation
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Material
from advisor.records import dataclass

#: Roles that make up the body of a blend; minerals, starters and liquids are added by the pinch or the cup.
BODY_ROLES = ("green", "brown")
ADDED_ROLES = ("mineral", "starter", "liquid")

#: The trait of liquids that are poured on for their nitrogen, and count in the sums: urine does, dregs of beer do not.
_POURED = "liquid-feed"
#: What is on hand by the handful is not fetched by the handful.
_FETCH_UNIT_L = 4.0
_FETCH_BROWN, _FETCH_GREEN = "sack", "bucket"
_KEEPS_LONG = ("months", "years")
#: What has one of these traits cannot lie about, and goes in first; grass and weeds may wait on the lawn.
_CANNOT_LIE = frozenset({"kitchen", "draws-flies", "draws-rats", "farm-manure"})


@dataclass(frozen=True, slots=True)
class Ingredient:
    """A material as offered to the recipe, with the lots it came from (none if it is to be fetched)."""

    material_id: str
    material: Material
    unit: Unit
    lots: tuple[Lot, ...]
    offer: Offer


def on_hand(
    held: Sequence[Lot], talk: Consultation, household: Household, knowledge: Knowledge
) -> dict[str, Ingredient]:
    by_material: dict[str, list[Lot]] = {}
    for lot in held:
        by_material.setdefault(lot.material_id, []).append(lot)
    found = {}
    for name, of_it in by_material.items():
        unit = unit_for(of_it, household, knowledge)
        material = of_it[0].material
        comes_in = any(lot.weekly for lot in of_it)
        found[name] = Ingredient(name, material, unit, tuple(of_it), _offer(name, material, unit, talk, comes_in))
    return found


def _offer(name: str, material: Material, unit: Unit, talk: Consultation, comes_in: bool = False) -> Offer:
    """What keeps may be kept back, unless more of it comes in every week: then there is never room for it."""
    keeps_long = material.keeps in _KEEPS_LONG
    return Offer(
        id=name,
        composition=typical(material),
        unit_l=unit.litres,
        at_most=unit.at_most,
        step=unit.step,
        perishable=not _CANNOT_LIE.isdisjoint(material.traits),
        storable=(keeps_long and material.role == "brown" and not comes_in) or is_poured(material),
        poured=is_poured(material),
        share_cap=share_cap(talk, name),
        finest=unit.finest,
    )


def is_poured(material: Material) -> bool:
    """Whether it is poured on for its nitrogen, which counts in the sums as its water does."""
    return material.role == "liquid" and _POURED in material.traits


def fetchable(
    talk: Consultation,
    here: Mapping[str, Ingredient],
    household: Household,
    knowledge: Knowledge,
    method: str,
) -> dict[str, Ingredient]:
    """What is commonly found near home at this season and may go into the method, as much as a household gets."""
    season = household.answers.get("place.season", ())
    candidates = {
        name: material
        for name, material in knowledge.materials.items()
        if material.fetch
        and material.role in BODY_ROLES
        and (not material.seasons or not season or set(season) & set(material.seasons))
    }
    talk.tell(
        (fact for name, material in candidates.items() if name not in here for fact in nature(name, material)),
        "what is commonly found near home",
    )
    by_the_load = "smallholding" in household.answers.get("place.space", ())
    found = {}
    for name, material in candidates.items():
        if is_barred(talk, name, method) or material.fetch is None:
            continue
        most = material.fetch.high if by_the_load else material.fetch.typical
        if name in here:
            unit = here[name].unit
            if unit.litres < _FETCH_UNIT_L:
                continue
            unit = replace(unit, at_most=_most(most, unit.litres, unit.step))
        else:
            measure = _FETCH_BROWN if material.role == "brown" else _FETCH_GREEN
            size = measure_figure(measure, household, knowledge).typical
            unit = Unit(measure, knowledge.measures[measure].name, size, _most(most, size), 1.0, finest_step(size))
        found[name] = Ingredient(name, material, unit, (), _offer(name, material, unit, talk))
    return found


def _most(litres: float, measure_litres: float, step: float = 1.0) -> float:
    return math.ceil(litres / measure_litres / step) * step
