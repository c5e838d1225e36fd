"""Phosphate and potash: what manure brings of them, what stands in for it brings, and what would make up the rest."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from advisor.blend.shapes import Part
from advisor.blend.spread import typical
from advisor.counsel import why
from advisor.counsel.measures import ABOUT_ONE, fitting, share_cap
from advisor.counsel.plan import Because, Line, Spread, spread_of
from advisor.counsel.settle import is_barred
from advisor.counsel.stead import Food, PlantFood, Supply
from advisor.counsel.wording import capital, counted, joined
from advisor.heap.ranges import scaled, summed
from advisor.household.shapes import Household
from advisor.inference.engine import Consultation
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Figure, Material
from advisor.records import dataclass
from advisor.units import Units, mass_text, volume_text

FOODS: tuple[Food, ...] = ("phosphate", "potash")

#: Measures to count a supply in, largest first.
_LADDER = ("bucket", "jug", "mug", "handful")
_SIGNS: Mapping[Food, str] = {"phosphate": "P2O5", "potash": "K2O"}


@dataclass(frozen=True, slots=True)
class Load:
    """So much of a material."""

    material_id: str
    material: Material
    part: Part

    @property
    def dry_kg(self) -> float:
        """Its dry mass."""
        return self.part.kg * (1 - self.part.composition.moisture_pct / 100)


def food_figure(material: Material, food: Food) -> Figure | None:
    """What a material has of it, in % of dry mass; None if that is not known."""
    return material.phosphate if food == "phosphate" else material.potash


def food_kg(loads: Sequence[Load], food: Food) -> Spread | None:
    """What loads bring of it together; None if that of one is not known."""
    found = [(load.dry_kg, food_figure(load.material, food)) for load in loads]
    known = [(dry, figure) for dry, figure in found if figure is not None]
    if len(known) < len(found) or not found:
        return None
    return spread_of(summed(*(scaled(figure, dry / 100) for dry, figure in known)))


def known_kg(loads: Sequence[Load], food: Food) -> float:
    """What those of the loads bring whose figures are known, in kg."""
    figures = [(load.dry_kg, food_figure(load.material, food)) for load in loads]
    return math.fsum(dry * figure.typical / 100 for dry, figure in figures if figure is not None)


class Supplies:
    """Writes what is short of one way, and what would make it up."""

    def __init__(
        self, talk: Consultation, household: Household, knowledge: Knowledge, method: str, season: str, units: Units
    ) -> None:
        self.talk, self.household, self.knowledge = talk, household, knowledge
        self._is_a_gap = knowledge.figures["plant-food-gap-pct"].typical / 100
        self.method, self.season, self.units = method, season, units

    def of(self, low: str, asked: Sequence[Load], used: Sequence[Load], litres: float) -> Iterator[PlantFood]:
        """What each comes to, for one way.

        Args:
            low: what the names of its lines begin with.
            asked: the manure.
            used: what stands in for it.
            litres: the volume of that.
        """
        for number, food in enumerate(FOODS, 1):
            manure, brings = food_kg(asked, food), food_kg(used, food)
            unknown = tuple(
                dict.fromkeys(each.material_id for each in used if food_figure(each.material, food) is None)
            )
            gap = max(0.0, manure.typical - brings.typical) if manure is not None and brings is not None else None
            wanted = gap if gap is not None and manure is not None and gap > self._is_a_gap * manure.typical else 0.0
            made = tuple(self._made_up(f"{low}{number}", food, wanted, used, litres)) if wanted else ()
            text = self._text(food, manure, brings, known_kg(used, food), unknown, wanted, made)
            figures = [self._figure(load, food) for load in (*asked, *used)]
            reason = why.computed(
                f"dry mass by its {food}, added up",
                *figures,
                because="A gap of less than a fifth is none: the tables spread wider than that.",
                sources=("our-estimate",),
            )
            yield PlantFood(
                food=food,
                manure_kg=manure,
                brings_kg=None if brings is None else brings.typical,
                known_kg=known_kg(used, food),
                not_known=unknown,
                gap_kg=gap,
                supplies=made,
                line=Line(id=f"{low}{number}", text=text, why=(reason,)),
            )

    # ------------------------------------------------------------ what would bring it

    def _made_up(self, low: str, food: Food, wanted: float, used: Sequence[Load], litres: float) -> Iterator[Supply]:
        """Each of the things that the rules name for it: the mineral first, and a green for what that leaves."""
        names = [name for name, words in self.talk.about("holding", "supplies").items() if food in words]
        materials = self.knowledge.materials
        names.sort(key=lambda name: materials[name].role != "mineral" if food == "potash" else False)
        left = wanted
        for number, name in enumerate((name for name in names if self._may(name, used)), 1):
            figure = food_figure(materials[name], food)
            stuff = typical(materials[name])
            if figure is None or left <= 0.05 * wanted:
                continue
            kg_a_litre = stuff.density_kg_m3 / 1000 * (1 - stuff.moisture_pct / 100) * figure.typical / 100
            most = self._most(name, litres)
            volume = min(left / kg_a_litre, most)
            measure, size = self._measure(volume)
            count = math.ceil(volume / size * 2 - 1e-9) / 2
            if count * size > most:
                count -= 0.5
            if count <= 0:
                continue
            volume = count * size
            brings = volume * kg_a_litre
            yield Supply(
                material=name,
                name=materials[name].name,
                count=count,
                measure=measure,
                litres=volume,
                kilograms=volume * stuff.density_kg_m3 / 1000,
                brings_kg=brings,
                line=self._line(f"{low}{'abcdef'[number - 1]}", name, food, count, measure, volume, brings, wanted),
            )
            if food == "potash":
                left -= brings  # one after another; of phosphate, one or the other

    def _may(self, name: str, used: Sequence[Load]) -> bool:
        material = self.knowledge.materials[name]
        if is_barred(self.talk, name, self.method) or any(load.material_id == name for load in used):
            return False
        if material.role == "green" and material.seasons and self.season and self.season not in material.seasons:
            return False
        return not self._forbidden(name, used)

    def _forbidden(self, name: str, used: Sequence[Load]) -> list[Load]:
        """What it would lie beside, and must not."""
        shuns = set(self.talk.values("holding", "not_beside", name))
        return [load for load in used if shuns & set(self.talk.values("holding", "gives_off", load.material_id))]

    def _most(self, name: str, litres: float) -> float:
        """Litres that such a heap may have of it at most."""
        cap = share_cap(self.talk, name)
        caps = [] if cap is None else [cap]
        if self.knowledge.materials[name].role == "green" and "dusty" not in self.knowledge.materials[name].traits:
            caps.append(self.knowledge.figures["green-for-potash-pct"].typical / 100)
        return min(caps) * litres if caps else math.inf

    def _measure(self, litres: float) -> tuple[str, float]:
        return fitting(litres, _LADDER, self.household, self.knowledge)

    # ------------------------------------------------------------ the words

    def _line(
        self,
        line_id: str,
        name: str,
        food: Food,
        count: float,
        measure: str,
        litres: float,
        brings: float,
        wanted: float,
    ) -> Line:
        material = self.knowledge.materials[name]
        amount = f"{counted(count, self.knowledge.measures[measure].name)} of {material.name}"
        share = "all of it" if brings >= ABOUT_ONE * wanted else mass_text(brings, self.units)
        capped = brings < ABOUT_ONE * wanted and bool(self.talk.values("holding", "share_cap", name))
        most = ", the most this heap may have" if capped else ""
        nitrogen = litres * typical(material).density_kg_m3 / 1000 * (1 - material.moisture.typical / 100)
        nitrogen *= material.nitrogen.typical / 100
        too = f", and {mass_text(nitrogen, self.units)} of nitrogen too" if nitrogen > 0.01 else ""
        reasons = why.reasons(self.talk, Fact("holding", "supplies", name, food).key, self.knowledge)
        text = f"{amount} ({volume_text(litres, self.units)}{most}) would bring {share}{too}"
        figure = food_figure(material, food)
        figures = (why.figure(f"{food} ({_SIGNS[food]}), of dry mass", figure, " %"),) if figure is not None else ()
        return Line(id=line_id, text=text, why=(*reasons, *self._caps(name), *figures))

    def _caps(self, name: str) -> tuple[Because, ...]:
        return tuple(
            because
            for cap in self.talk.values("holding", "share_cap", name)
            for because in why.reasons(self.talk, Fact("holding", "share_cap", name, cap).key, self.knowledge)
        )

    def _figure(self, load: Load, food: Food) -> Because:
        figure, name = food_figure(load.material, food), load.material.name
        if figure is None:
            return why.computed(f"{name}: {food} not known, no table that we have says it")
        return why.figure(f"{name}: {food} ({_SIGNS[food]}), of dry mass", figure, " %")

    def _text(
        self,
        food: Food,
        manure: Spread | None,
        brings: Spread | None,
        known: float,
        unknown: Sequence[str],
        wanted: float,
        made: Sequence[Supply],
    ) -> str:
        mine = (
            f"the manure has {mass_text(manure.typical, self.units)} "
            f"({mass_text(manure.low, self.units)} to {mass_text(manure.high, self.units)})"
            if manure is not None
            else "how much the manure has is not known"
        )
        names = joined([self.knowledge.materials[name].name for name in unknown])
        if brings is None:
            some = (
                f"this {mass_text(known, self.units)} without {names}, of which it"
                if known > 0
                else f"and of {names} it"
            )
            return f"{capital(food)} ({_SIGNS[food]}): {mine}, {some} is not known."
        text = f"{capital(food)} ({_SIGNS[food]}): {mine}, this {mass_text(brings.typical, self.units)}"
        if manure is None:
            return f"{text}."
        if not wanted:
            enough = "as much or more" if brings.typical >= manure.typical else "near enough"
            return f"{text}: {enough}."
        short = f"{text}: {mass_text(manure.typical - brings.typical, self.units)} short"
        left = wanted - sum(each.brings_kg for each in made)
        if not made:
            return f"{short}, and nothing safe would bring it; a soil test says whether the beds miss it."
        if food == "phosphate":
            return f"{short}; {'either of these would do' if len(made) > 1 else 'this would do'}:"
        if left > self._is_a_gap * manure.typical:
            rest = mass_text(left, self.units)
            return f"{short}, of which {rest} stays short; a soil test says whether the beds miss it."
        return f"{short}:"

    def in_words(self, loads: Sequence[Load]) -> str:
        """What of both is known to be in the manure, as the end of a line."""
        known = [(food, spread) for food in FOODS if (spread := food_kg(loads, food)) is not None]
        return "".join(f", {mass_text(spread.typical, self.units)} of {food}" for food, spread in known)

    def minded(self, names: Iterable[str]) -> Iterator[Line]:
        """What to know of each thing that would make up for something, said once for all ways."""
        words = self.knowledge.kinds["holding"].attributes["mind"].words
        for number, name in enumerate(names, 1):
            food = self.talk.values("holding", "supplies", name)[0]
            reasons = why.reasons(self.talk, Fact("holding", "supplies", name, food).key, self.knowledge)
            minds = self.talk.values("holding", "mind", name)
            said = [because.because for because in reasons] + [f"Mind: {words[str(word)]}." for word in minds]
            for word in minds:
                reasons += why.reasons(self.talk, Fact("holding", "mind", name, word).key, self.knowledge)
            once = tuple({because.rule: because for because in reasons}.values())
            text = f"{capital(self.knowledge.materials[name].name)}: {' '.join(dict.fromkeys(said))}"
            yield Line(id=f"k{number}", text=text, why=once)

    def withheld(self, low: str, used: Sequence[Load]) -> Iterator[Line]:
        """What would bring some, and must not lie beside what is used."""
        number = 0
        for name in self.talk.about("holding", "supplies"):
            beside = self._forbidden(name, used)
            if not beside:
                continue
            number += 1
            names = joined([load.material.name for load in beside])
            keys = [
                Fact("holding", "gives_off", load.material_id, word).key
                for load in beside
                for word in self.talk.values("holding", "gives_off", load.material_id)
            ]
            reasons = tuple(because for key in keys for because in why.reasons(self.talk, key, self.knowledge))
            text = f"No {self.knowledge.materials[name].name} in this one: {names} would lose nitrogen as ammonia."
            yield Line(id=f"{low}{number}", text=text, why=reasons)
