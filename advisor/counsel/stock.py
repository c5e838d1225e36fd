"""What is on hand, seen by the arithmetic and told to the rules."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from advisor.blend.own import with_own
from advisor.blend.shapes import Range
from advisor.blend.spread import Portion, figures
from advisor.errors import HouseholdError
from advisor.household.shapes import Holding, Household
from advisor.household.tokens import shown
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Figure, Material, Published
from advisor.records import dataclass

#: How far ahead what comes in each week is counted when a heap is planned. Our own choice: a heap that is to be built
#: in one go is gathered for a month and no longer, since greens do not keep.
HORIZON_WEEKS = 4

#: More than a thousand cubic metres is no household's.
MOST_LITRES = 1_000_000.0

#: The upper bound of stock.container_filled in rules/facts.toml; what is fuller is as full to every rule.
_MOST_FILLED_PCT = 1_000_000.0

_WEEKS = {"once": 1.0, "day": 7.0, "week": 1.0, "month": 12 / 52.1775}


@dataclass(frozen=True, slots=True)
class Lot:
    """One holding with its amounts. If `weekly`, they are for each week."""

    holding: Holding
    material_id: str
    material: Material
    portion: Portion
    litres: Range
    kilograms: Range
    weekly: bool

    @property
    def due_litres(self) -> float:
        """Typical litres on hand, or coming in within the horizon."""
        return self.litres.typical * (HORIZON_WEEKS if self.weekly else 1)

    @property
    def due_portion(self) -> Portion:
        """The portion on hand, or coming in within the horizon."""
        if not self.weekly:
            return self.portion
        return _times(self.portion, HORIZON_WEEKS)


def lots(household: Household, knowledge: Knowledge) -> tuple[Lot, ...]:
    """Every holding with something in it, in the order told."""
    return tuple(_lot(holding, household, knowledge) for holding in household.holdings if holding.quantity.high > 0)


def check_amounts(held: Sequence[Lot]) -> None:
    """Refuse what the facts have no room for.

    Raises:
        HouseholdError: there is more than any garden holds, of one thing or of everything together.
    """
    for weekly, most in ((False, MOST_LITRES), (True, MOST_LITRES / 10)):
        litres = 0.0
        for lot in held:
            litres += lot.litres.typical if lot.weekly is weekly else 0.0
            if not litres <= most:
                raise HouseholdError("this is more than any garden holds", where=f"“{shown(lot.holding.said)}”")


def measure_figure(measure: str, household: Household, knowledge: Knowledge) -> Figure:
    """Litres of a measure: the household's own size, or the usual spread."""
    own = household.measures.get(measure)
    if own is None:
        return knowledge.measures[measure].litres
    said = Published(low=own.litres, high=own.litres, source="definition")
    return Figure(low=own.litres, typical=own.litres, high=own.litres, published=(said,), note="as you told")


def material_of(material_id: str, household: Household, knowledge: Knowledge) -> Material:
    """A material as the household has it: with its own figures, if it told any."""
    own = household.own.get(material_id)
    return knowledge.materials[material_id] if own is None else with_own(knowledge.materials[material_id], own)


def _lot(holding: Holding, household: Household, knowledge: Knowledge) -> Lot:
    quantity = holding.quantity
    material = material_of(holding.material, household, knowledge)
    exact = quantity.measure in ("L", "kg")
    packed = quantity.packed or (not exact and knowledge.measures[quantity.measure].packed)
    portion = Portion(
        holding.material,
        material,
        quantity.count,
        quantity.measure,
        None if exact else measure_figure(quantity.measure, household, knowledge),
        packed and material.density_packed is not None,
        quantity.low,
        quantity.high,
    )
    portion = _times(portion, _WEEKS[quantity.per])
    amounts = figures([portion])
    return Lot(
        holding,
        holding.material,
        material,
        portion,
        amounts.volume_l,
        amounts.mass_kg,
        quantity.per != "once",
    )


def _times(portion: Portion, factor: float) -> Portion:
    return Portion(
        portion.material_id,
        portion.material,
        portion.count * factor,
        portion.measure,
        portion.litres,
        portion.packed,
        None if portion.count_low is None else portion.count_low * factor,
        None if portion.count_high is None else portion.count_high * factor,
    )


# ---------------------------------------------------------------- facts for the rules


def material_facts(held: Sequence[Lot]) -> Iterable[Fact]:
    """What each material on hand is and does, and how much of it there is."""
    for material_id, of_it in by_material(held).items():
        yield from nature(material_id, of_it[0].material)
        yield Fact("holding", "litres", material_id, _sum(of_it, weekly=False))
        yield Fact("holding", "weekly", material_id, _sum(of_it, weekly=True))


def nature(material_id: str, material: Material) -> Iterable[Fact]:
    """What a material is and does, whoever holds it."""
    yield Fact("holding", "role", material_id, material.role)
    yield Fact("holding", "structure", material_id, material.structure)
    yield Fact("holding", "keeps", material_id, material.keeps)
    yield Fact("holding", "kitchen", material_id, "yes" if "kitchen" in material.traits else "no")
    for trait in material.traits:
        yield Fact("holding", "trait", material_id, trait)


def stock_facts(held: Sequence[Lot], container_litres: float | None) -> Iterable[Fact]:
    """Everything on hand taken together. `held` leaves out what must stay out of all composting.

    Shares are of what takes up room: a liquid fills pores, and counts only where there is nothing else.
    """
    solid = [lot for lot in held if lot.material.role != "liquid"] or held
    total = sum(lot.due_litres for lot in solid)
    if total <= 0:
        yield Fact("stock", "has", "", "nothing")
        return
    yield Fact("stock", "litres", "", _sum(solid, weekly=False))
    yield Fact("stock", "weekly", "", _sum(solid, weekly=True))
    yield Fact(
        "stock",
        "kitchen_weekly",
        "",
        _sum([lot for lot in held if _is_scrap(lot.material)], weekly=True),
    )
    for attribute, belongs in _SHARES.items():
        share = 100 * sum(lot.due_litres for lot in solid if belongs(lot.material)) / total
        yield Fact("stock", attribute, "", min(100.0, share))
    if container_litres:
        yield Fact("stock", "container_filled", "", min(_MOST_FILLED_PCT, 100 * total / container_litres))
    for word, belongs in _KINDS.items():
        if any(belongs(lot.material) for lot in held):
            yield Fact("stock", "has", "", word)
    for material_id, of_it in by_material(held).items():
        yield Fact("holding", "share", material_id, min(100.0, 100 * sum(lot.due_litres for lot in of_it) / total))


def uses(materials: Iterable[Material]) -> Iterable[Fact]:
    """Which kinds of stuff went into what is recommended."""
    chosen = tuple(materials)
    for word, belongs in _USES.items():
        if any(belongs(material) for material in chosen):
            yield Fact("recipe", "uses", "", word)


def _sum(held: Sequence[Lot], *, weekly: bool) -> float:
    return sum(lot.litres.typical for lot in held if lot.weekly is weekly)


def by_material(held: Sequence[Lot]) -> dict[str, list[Lot]]:
    """The lots of each material, by its id."""
    grouped: dict[str, list[Lot]] = {}
    for lot in held:
        grouped.setdefault(lot.material_id, []).append(lot)
    return grouped


_Belongs = Callable[[Material], bool]


def _is(*traits: str) -> _Belongs:
    wanted = frozenset(traits)
    return lambda material: not wanted.isdisjoint(material.traits)


def _plays(*roles: str) -> _Belongs:
    return lambda material: material.role in roles


def _is_scrap(material: Material) -> bool:
    """A kitchen scrap that smells, or that an animal or a fly would come for; coffee grounds and eggshells are none."""
    return _is("kitchen")(material) and _is("draws-rats", "draws-flies", "smells", "meat", "dairy", "cooked")(material)


def _is_manure(material: Material) -> bool:
    return _is("farm-manure", "bedding")(material)


def _is_seaweed(material: Material) -> bool:
    return _is("salty")(material) and material.structure == "matting" and not _is("kitchen")(material)


def _is_garden(material: Material) -> bool:
    return not _is("kitchen", "farm-manure", "bedding", "paper", "pet-waste")(material) and material.role in (
        "green",
        "brown",
    )


_SHARES: Mapping[str, _Belongs] = {
    "kitchen_share": _is_scrap,
    "leaf_share": _is("leaf"),
    "brown_share": _plays("brown"),
    "green_share": _plays("green"),
    "manure_share": _is_manure,
    "woody_share": _is("woody"),
    "matting_share": lambda material: material.structure == "matting",
}

_KINDS: Mapping[str, _Belongs] = {
    "kitchen": _is_scrap,
    "garden": _is_garden,
    "leaves": _is("leaf"),
    "manure": _is_manure,
    "pet-waste": _is("pet-waste"),
    "meat": _is("meat"),
    "dairy": _is("dairy"),
    "cooked": _is("cooked"),
    "woody": _is("woody"),
    "paper": _is("paper"),
    "seaweed": _is_seaweed,
    "seedy": _is("seedy"),
    "greens": _plays("green"),
    "browns": _plays("brown"),
}

_USES: Mapping[str, _Belongs] = {
    "kitchen": _is_scrap,
    "leaves": _is("leaf"),
    "manure": _is("farm-manure"),
    "woody": _is("woody"),
    "paper": _is("paper"),
    "grass": lambda material: material.structure == "matting",
    "seedy": _is("seedy"),
    "concentrate": _is("concentrate"),
    "ash": _is("ash"),
    "dusty": _is("dusty"),
    "seaweed": _is_seaweed,
    "may-carry-herbicide": _is("may-carry-herbicide"),
    "meat": _is("meat"),
    "dairy": _is("dairy"),
    "cooked": _is("cooked"),
    "urine": _is("urine"),
    "pet-waste": _is("pet-waste"),
}
