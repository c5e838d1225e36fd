"""What may stand in for manure: what is on hand, then what the rules say is to be had, in season and not barred."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from advisor.blend import mix
from advisor.blend.offers import Offer
from advisor.blend.shapes import Part
from advisor.blend.spread import typical
from advisor.blend.substitute import Goal
from advisor.counsel.ingredients import BODY_ROLES
from advisor.counsel.measures import share_cap
from advisor.counsel.settle import is_barred
from advisor.counsel.stead import Reach
from advisor.counsel.stock import HORIZON_WEEKS, Lot, measure_figure, nature
from advisor.counsel.wording import counted
from advisor.heap.ranges import figure
from advisor.household.shapes import Household
from advisor.inference.engine import Consultation
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Material
from advisor.records import dataclass

#: How much trouble it is to come by a kind of thing, to be made least. Our own weights: a shop is a last resort. What
#: is not commonly lying about near home costs half as much again, and a brown that mats the same.
_TROUBLE: Mapping[Reach, float] = {"on-hand": 0.0, "near-home": 1.0, "for-the-asking": 2.0, "bought": 4.0}

#: Measures to count in, largest first: the first of which a step is no more than a tenth of the nitrogen, or of the
#: carbon, that is wanted.
_LADDER = ("wheelbarrow", "bucket", "jug", "mug")
_BROWN_LADDER = ("sack", "bucket")
_LIQUID_LADDER = ("jug", "mug")
_LIGHT_LADDER = ("wheelbarrow", "bucket")
#: What is lighter than this, in kg/m3, is no jug's: hay, hair, wool.
_LIGHT = 150.0
_FINE = 0.1
_LIKE_A_LIQUID = ("concentrate", "urine")

#: More than a dozen of one measure nobody counts.
_DOZEN = 12


def is_manure(material: Material) -> bool:
    """Whether a material is manure of farm animals, with or without bedding, that may be composted."""
    return "farm-manure" in material.traits and material.role != "never"


@dataclass(frozen=True, slots=True)
class Candidate:
    """A material that may be used, with how it is measured out and how it is come by."""

    material_id: str
    material: Material
    offer: Offer
    measure: str
    measure_name: str
    reach: Reach

    @property
    def nitrogen_kg(self) -> float:
        """Nitrogen in one measure."""
        return mix.nitrogen_kg([self.part(1.0)])

    def part(self, count: float) -> Part:
        """So many measures of it."""
        stuff = self.offer.composition
        return Part(stuff, count * self.offer.unit_l * stuff.density_kg_m3 / 1000.0)


class Larder:
    """What there is to choose from."""

    def __init__(
        self,
        talk: Consultation,
        household: Household,
        knowledge: Knowledge,
        asked: Sequence[Lot],
        held: Sequence[Lot],
        method: str,
        goal: Goal,
    ) -> None:
        self.talk, self.household, self.knowledge = talk, household, knowledge
        self.asked, self.method, self.goal = asked, method, goal
        said = household.answers.get("place.season", ())
        self.season = str(said[0]) if said else ""
        replaced = {lot.material_id for lot in asked}
        self.held = [lot for lot in held if lot.material_id not in replaced]
        self._tell_natures()
        self.candidates = {each.material_id: each for each in self._candidates()}

    def barred(self, name: str) -> bool:
        """Whether the rules keep a material out of the heap."""
        return is_barred(self.talk, name, self.method)

    def _tell_natures(self) -> None:
        """What everything that may stand in is and does, so that the rules can speak of it."""
        named = set(self.talk.about("holding", "reach")) | set(self.talk.about("holding", "supplies"))
        fetched = {name for name, material in self.knowledge.materials.items() if material.fetch}
        told = {lot.material_id for lot in self.held} | {lot.material_id for lot in self.asked}
        facts = [
            fact for name in sorted((named | fetched) - told) for fact in nature(name, self.knowledge.materials[name])
        ]
        facts += [
            Fact("holding", "share", name, 1.0)
            for name in sorted(named | fetched)
            if not self.talk.values("holding", "share", name)
        ]
        self.talk.tell(facts, "what may stand in for manure")

    def _candidates(self) -> Iterator[Candidate]:
        on_hand: dict[str, list[Lot]] = {}
        for lot in self.held:
            usable = lot.material.role in BODY_ROLES or "urine" in lot.material.traits
            if usable and not self.barred(lot.material_id):
                on_hand.setdefault(lot.material_id, []).append(lot)
        for name, of_it in on_hand.items():
            yield self._candidate(name, "on-hand", sum(lot.due_litres for lot in of_it))
        reach = {name: str(values[0]) for name, values in self.talk.about("holding", "reach").items()}
        browns = {
            name: "near-home"
            for name, material in self.knowledge.materials.items()
            if material.fetch and material.role == "brown"
        }
        for name, how in {**reach, **browns}.items():
            if name in on_hand or self.barred(name) or not self._in_season(name):
                continue
            if is_manure(self.knowledge.materials[name]):
                continue
            yield self._candidate(name, _as_reach(how), None)

    def _in_season(self, name: str) -> bool:
        seasons = self.knowledge.materials[name].seasons
        return not seasons or not self.season or self.season in seasons

    def _candidate(self, name: str, reach: Reach, there_l: float | None) -> Candidate:
        material = self.knowledge.materials[name]
        stuff = typical(material)
        measure, size = self._measure(material, stuff.nitrogen_pct, stuff.carbon_pct, stuff.moisture_pct)
        most_l = self._most(material, reach, size) if there_l is None else there_l
        if reach != "on-hand" and "urine" in material.traits:
            most_l = figure(self.knowledge.figures, "urine-litres-gathered").typical
        elif reach != "on-hand" and "kitchen" in material.traits and not material.fetch:
            weekly = figure(self.knowledge.figures, "kitchen-scraps-litres-per-person-week").typical
            most_l = self.knowledge.figures["household-people"].typical * HORIZON_WEEKS * weekly
        step = 0.5 if self.knowledge.measures[measure].halves else 1.0
        offer = Offer(
            id=name,
            composition=stuff,
            unit_l=size,
            at_most=math.floor(most_l / size / step + 1e-9) * step,
            step=step,
            share_cap=share_cap(self.talk, name),
        )
        return Candidate(name, material, offer, measure, self.knowledge.measures[measure].name, reach)

    def _most(self, material: Material, reach: Reach, measure_l: float) -> float:
        """Litres of it that may be fetched at most."""
        figures = self.knowledge.figures
        if reach == "bought":
            return figures["bought-most-measures"].typical * measure_l
        if reach == "near-home":
            return figures["gathered-common-litres" if material.fetch else "gathered-grown-litres"].typical
        return figures["gathered-asked-litres"].typical

    def _measure(
        self, material: Material, nitrogen_pct: float, carbon_pct: float, moisture_pct: float
    ) -> tuple[str, float]:
        """The largest measure that is fine enough for the amount asked."""
        strong = bool(set(_LIKE_A_LIQUID) & set(material.traits))
        light = material.density.typical < _LIGHT
        ladder = _LIQUID_LADDER if strong else _BROWN_LADDER if material.role == "brown" else _LADDER
        if light and not strong and material.role != "brown":
            ladder = _LIGHT_LADDER
        dry_kg_l = material.density.typical / 1000 * (1 - moisture_pct / 100)
        carbon_kg = self.goal.nitrogen_kg * self.goal.carbon_nitrogen
        for measure in ladder:
            size = measure_figure(measure, self.household, self.knowledge).typical
            half = 0.5 * size * dry_kg_l / 100
            if half * nitrogen_pct <= _FINE * self.goal.nitrogen_kg and half * carbon_pct <= _FINE * carbon_kg:
                return measure, size
        return ladder[-1], measure_figure(ladder[-1], self.household, self.knowledge).typical


def spoken(count: float, measure: str, litres: float, household: Household, knowledge: Knowledge) -> str:
    """ "8 jugs", or, where that is more than a dozen, "about 3½ buckets": the mixture is the same."""
    larger = _BROWN_LADDER if measure == "sack" else _LADDER
    if count <= _DOZEN or measure not in larger:
        return counted(count, knowledge.measures[measure].name)
    for name in reversed(larger[: larger.index(measure)]):
        number = round(2 * litres / measure_figure(name, household, knowledge).typical) / 2
        if 1 <= number <= _DOZEN:
            return f"about {counted(number, knowledge.measures[name].name)}"
    return counted(count, knowledge.measures[measure].name)


def trouble_of(each: Candidate) -> float:
    awkward = not each.material.fetch or (each.material.role == "brown" and each.material.structure == "matting")
    return _TROUBLE[each.reach] * (1.5 if awkward else 1.0)


def _as_reach(word: str) -> Reach:
    return "near-home" if word == "near-home" else "bought" if word == "bought" else "for-the-asking"
