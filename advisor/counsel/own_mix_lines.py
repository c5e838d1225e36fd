"""The mix as it was told, line by line: what is in it, what it comes to, what would bring it to a goal."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from advisor.blend import mix
from advisor.blend.own import odd
from advisor.blend.shapes import Part
from advisor.blend.spread import typical
from advisor.counsel import why
from advisor.counsel.measures import in_halves
from advisor.counsel.own_mix import (
    ACCEPTABLE,
    PREFERRED,
    Dose,
    Goals,
    Ingredient,
    best_dose,
    comes_to,
    dose_for_cn,
    dose_for_moisture,
    scaled,
    water_for,
)
from advisor.counsel.own_mix_shapes import Addition, MixPart, OwnMix, Towards
from advisor.counsel.plan import Because, Gauge, Goal, Line, What, spread_of
from advisor.counsel.stock import material_of, measure_figure
from advisor.counsel.wording import capital, counted, joined
from advisor.errors import HouseholdError
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.units import Units, mass_text, volume_text

#: Nothing above this is shown: a mix without nitrogen has no end of C:N.
_MOST_SHOWN = 1e6
_SOURCES: Mapping[What, tuple[str, ...]] = {
    "carbon-nitrogen": ("cornell-mix-formula", "art-and-science-table-1"),
    "moisture": ("cornell-schools-moisture", "art-and-science-table-1"),
    "air-space": ("air-space-comparison", "technical-note-24"),
}


def own_mix(
    ingredients: Sequence[Ingredient],
    household: Household,
    knowledge: Knowledge,
    *,
    goals: Goals | None = None,
    towards: Sequence[Towards] = (),
    add: Sequence[str] = (),
    fill_l: float | None = None,
    in_parts: bool = False,
    units: Units = "metric",
) -> OwnMix:
    """All that is asked of a mix, as lines.

    Args:
        goals: what it is to come to.
        towards: the goals that something is to be added for.
        add: ids of what may be added; the commonest browns or greens if empty.
        fill_l: a container to fill, in litres.
        in_parts: it was told in parts, so that its weight says nothing.

    Raises:
        HouseholdError: there is nothing in the mix.
    """
    if not ingredients or mix.mass_kg([each.part for each in ingredients]) <= 0:
        raise HouseholdError("there is nothing in the mix", hint="say --have '3 buckets grass clippings, 1 sack straw'")
    return _Writer(ingredients, household, knowledge, goals or Goals.usual(knowledge), in_parts, units).answer(
        towards, add, fill_l
    )


class _Writer:
    def __init__(
        self,
        ingredients: Sequence[Ingredient],
        household: Household,
        knowledge: Knowledge,
        goals: Goals,
        in_parts: bool,
        units: Units,
    ) -> None:
        self.mix, self.household, self.knowledge = ingredients, household, knowledge
        self.goals, self.in_parts, self.units = goals, in_parts, units
        self.parts = [each.part for each in ingredients]
        self.found = comes_to(ingredients)

    def answer(self, towards: Sequence[Towards], add: Sequence[str], fill_l: float | None) -> OwnMix:
        water = water_for(self.mix, self.goals.moisture_pct)
        return OwnMix(
            units=self.units,
            parts=tuple(self._parts()),
            verdict=self._verdict(),
            gauges=tuple(self._gauges()),
            weight_kg=None if self.in_parts else spread_of(self.found.mass_kg, most=_MOST_SHOWN),
            water_litres=water,
            water=self._water(water),
            additions=tuple(self._additions(towards, add)),
            filled=tuple(self._filled(fill_l)) if fill_l is not None else (),
            notes=tuple(self._notes()),
        )

    def _parts(self) -> Iterator[MixPart]:
        volume, mass = mix.volume_l(self.parts), mix.mass_kg(self.parts)
        for number, (each, part) in enumerate(zip(self.mix, self.parts, strict=True), 1):
            litres = part.kg / part.composition.density_kg_m3 * 1000.0
            amount = f"{volume_text(litres, self.units)}, {mass_text(part.kg, self.units)}"
            mine = " (your own figures)" if each.own else ""
            text = f"{capital(each.name)}{mine}: {amount}, {100 * litres / volume:.0f} % of the volume"
            yield MixPart(
                material=each.portion.material_id,
                name=each.name,
                litres=litres,
                kilograms=part.kg,
                volume_pct=100 * litres / volume,
                weight_pct=100 * part.kg / mass,
                own_figures=each.own,
                line=Line(id=f"m{number}", text=text, why=(why.properties(each.portion.material),)),
            )

    def _verdict(self) -> Line:
        ratio, moisture = self.found.carbon_nitrogen.typical, self.found.moisture_pct.typical
        said = [*self._judged("carbon-nitrogen", ratio), *self._judged("moisture", moisture)]
        said += self._judged("air-space", self.found.free_air_space_pct.typical)
        shown = f"C:N {_ratio(ratio)}, moisture {moisture:.0f} %"
        text = f"{shown}: {joined(said)}." if said else f"{shown}: this mix is right."
        return Line(id="v0", text=text, why=tuple(self._edges(what) for what in ACCEPTABLE))

    def _acceptable(self, what: What) -> tuple[float, float]:
        figure = self.knowledge.figures[ACCEPTABLE[what]]
        return figure.low, figure.high

    def _judged(self, what: What, value: float) -> Iterator[str]:
        low, high = self._acceptable(what)
        words = {
            "carbon-nitrogen": ("too much nitrogen", "too little nitrogen"),
            "moisture": ("too dry", "too wet"),
            "air-space": ("too little air", ""),
        }[what]
        if value < low:
            yield words[0]
        elif value > high and words[1]:
            yield words[1]

    def _edges(self, what: What) -> Because:
        low, high = self._acceptable(what)
        upto = f"{low:g} to {high:g}" if high < 100 else f"{low:g} or more"
        best = ""
        if what in PREFERRED:
            preferred = self.knowledge.figures[PREFERRED[what]]
            best = f", best {preferred.low:g} to {preferred.high:g}"
        return why.computed(f"{what.replace('-', ' ')}: {upto} is acceptable{best}", sources=_SOURCES[what])

    def _gauges(self) -> Iterator[Gauge]:
        ranges = {
            "carbon-nitrogen": self.found.carbon_nitrogen,
            "moisture": self.found.moisture_pct,
            "air-space": self.found.free_air_space_pct,
        }
        names = {
            "carbon-nitrogen": "Carbon to nitrogen",
            "moisture": "Moisture, without added water",
            "air-space": "Air in it as tipped",
        }
        what: What
        for number, what in enumerate(ACCEPTABLE, 1):
            spread, (low, high) = ranges[what], self._acceptable(what)
            unit = "" if what == "carbon-nitrogen" else " %"
            shown = f"{_ratio(spread.typical)}{unit} ({_ratio(spread.low)} to {_ratio(spread.high)})"
            wood = self._slow_wood() if what == "carbon-nitrogen" else ""
            aim = self.goals.carbon_nitrogen if what == "carbon-nitrogen" else self.goals.moisture_pct
            goal = Goal(low=low, aim=low if what == "air-space" else aim, high=high)
            reasons = (
                why.computed("by mass balance of exactly this mix", sources=_SOURCES[what]),
                why.computed(
                    "in brackets: where it lies 8 times out of 10, given how far materials and measures differ"
                ),
                self._edges(what),
            )
            line = Line(id=f"v{number}", text=f"{names[what]}: {shown}{wood}", why=reasons)
            inside = low <= spread.typical <= high
            yield Gauge(what=what, spread=spread_of(spread, most=_MOST_SHOWN), goal=goal, inside=inside, line=line)
        if not self.in_parts:
            volume, mass = self.found.volume_l, self.found.mass_kg
            text = f"Volume: {volume_text(volume.typical, self.units)} as tipped, {mass_text(mass.typical, self.units)}"
            added = (why.computed("the volumes and the weights, added up; a mix settles"),)
            yield Gauge(
                what="volume",
                spread=spread_of(volume, most=_MOST_SHOWN),
                goal=None,
                inside=True,
                line=Line(id="v4", text=text, why=added),
            )

    def _slow_wood(self) -> str:
        slow = [each.portion.material for each in self.mix if each.portion.material.feeds is not None]
        shares = joined([f"{one.feeds.typical:g} % of the carbon of {one.name}" for one in slow if one.feeds])
        return f". It counts {shares}: the rest rots too slowly to feed the heap" if slow else ""

    def _water(self, litres: float) -> Line:
        goal = f"{self.goals.moisture_pct:g} %"
        moisture = self.found.moisture_pct.typical
        if litres > 0:
            text = f"Water for {goal} moisture: {volume_text(litres, self.units)}"
            text += f" to each {volume_text(_volume(self.parts), self.units)}." if self.in_parts else "."
        elif moisture > self.goals.moisture_pct + 0.5:
            text = f"Add no water. It has {moisture:.0f} % moisture, more than the {goal} aimed at."
        else:
            text = "Add no water. The mix is moist enough."
        reasons = (why.computed("by water balance on wet weight", sources=("cornell-moisture-goal",)),)
        return Line(id="w1", text=text, why=reasons)

    # ------------------------------------------------------------ what to add

    def _additions(self, towards: Sequence[Towards], add: Sequence[str]) -> Iterator[Addition]:
        number = 0
        for goal in towards:
            names = add or self._common(goal)
            dose_of = dose_for_moisture if goal == "moisture" else dose_for_cn
            doses = [
                dose_of(self.parts, name, typical(material_of(name, self.household, self.knowledge)), self.goals)
                for name in names
            ]
            best = best_dose(doses, self.goals) if len(doses) > 1 else None
            able = [dose for dose in doses if add or not dose.refused]
            for dose in sorted(able, key=lambda one: (bool(one.refused), one is not best)):
                number += 1
                yield self._addition(f"d{number}", dose, best=dose is best)

    def _common(self, goal: What) -> tuple[str, ...]:
        """What is commonly fetched, and moves the mix towards the goal: browns for what is rich or wet, else greens."""
        rich = mix.carbon_nitrogen(self.parts) < self.goals.carbon_nitrogen
        wet = mix.moisture_pct(self.parts) > self.goals.moisture_pct
        role = "brown" if (rich if goal == "carbon-nitrogen" else wet) else "green"
        held = {each.portion.material_id for each in self.mix}
        return tuple(
            name
            for name, material in self.knowledge.materials.items()
            if material.role == role and (material.fetch or name in _COMMON) and name not in held
        )

    def _addition(self, line_id: str, dose: Dose, *, best: bool) -> Addition:
        material = material_of(dose.material, self.household, self.knowledge)
        reasons = (
            why.properties(material),
            why.computed("by the balance of carbon, nitrogen and water", sources=_DOSES),
        )
        goal: Towards = "carbon-nitrogen" if dose.goal == "carbon-nitrogen" else "moisture"
        if dose.refused:
            text = f"{capital(material.name)}: {dose.refused}."
            line = Line(id=line_id, text=text, why=reasons)
            return Addition(material=dose.material, name=material.name, goal=goal, possible=False, line=line)
        wanted = (
            f"C:N {dose.carbon_nitrogen:.0f}" if goal == "carbon-nitrogen" else f"{dose.moisture_pct:.0f} % moisture"
        )
        other = (
            f"moisture {dose.moisture_pct:.0f} %"
            if goal == "carbon-nitrogen"
            else f"C:N {_ratio(dose.carbon_nitrogen)}"
        )
        if dose.kilograms <= 0:
            text = f"{capital(material.name)}: none. The mix is at {wanted} already."
        else:
            with_water = f" and {volume_text(dose.water_l, self.units)} of water" if dose.water_l >= 0.5 else ""
            choose = "Best: " if best else ""
            text = f"{choose}{self._measured(dose)} of {material.name}{with_water}: {wanted}, {other}"
            if dose.moisture_pct > self._acceptable("moisture")[1]:
                text += ", which is too wet"
            if dose.air_space_pct < self.goals.least_air_pct:
                text += ", with too little air"
            text += "."
        return Addition(
            material=dose.material,
            name=material.name,
            goal=goal,
            possible=True,
            litres=dose.litres,
            kilograms=dose.kilograms,
            carbon_nitrogen=dose.carbon_nitrogen if math.isfinite(dose.carbon_nitrogen) else None,
            moisture_pct=dose.moisture_pct,
            air_space_pct=dose.air_space_pct,
            water_litres=dose.water_l,
            best=best,
            line=Line(id=line_id, text=text, why=reasons),
        )

    def _measured(self, dose: Dose) -> str:
        """A dose in kilograms, litres and buckets."""
        bucket = measure_figure("bucket", self.household, self.knowledge).typical
        exact = f"{mass_text(dose.kilograms, self.units)} ({volume_text(dose.litres, self.units)}"
        if 0.5 <= dose.litres / bucket <= _MOST_BUCKETS:
            return f"{exact}, about {counted(in_halves(dose.litres, bucket), 'bucket')})"
        return f"{exact})"

    # ------------------------------------------------------------ a container, and what to check

    def _filled(self, litres: float) -> Iterator[Line]:
        """The mix in a container, material by material, then its water."""
        filling = scaled(self.mix, litres)
        named = []
        for each in filling:
            part = each.part
            own = part.kg / part.composition.density_kg_m3 * 1000.0
            named.append(f"{volume_text(own, self.units)} of {each.name} ({mass_text(part.kg, self.units)})")
        water = water_for(filling, self.goals.moisture_pct)
        poured = f", with {volume_text(water, self.units)} of water" if water >= 0.5 else ""
        weight = mass_text(mix.mass_kg([each.part for each in filling], water), self.units)
        text = f"To fill {volume_text(litres, self.units)}: {joined(named)}{poured}. It weighs {weight}."
        yield Line(id="c1", text=text, why=(why.computed("the same mix, by its volume as tipped"),))
        text = "It settles within days. Top it up with the same mix."
        yield Line(id="c2", text=text, why=(why.computed("a heap settles", sources=("common-practice",)),))

    def _notes(self) -> Iterator[Line]:
        number = 0
        for each in self.mix:
            if each.stands_for:
                number += 1
                text = f"You said {each.stands_for}. I took {each.name}; name yours for a closer figure."
                yield Line(id=f"n{number}", text=text, why=(why.properties(each.portion.material),))
        for name, own in self.household.own.items():
            material = self.knowledge.materials[name]
            for one in odd(material, own):
                number += 1
                text = (
                    f"You gave {one.what} {one.value:g}{one.unit} for {material.name}. Tables print {one.low:g} to "
                    f"{one.high:g}{one.unit}. Is it right? I used yours."
                )
                yield Line(id=f"n{number}", text=text, why=(why.properties(material),))


#: More buckets than this are no help to picture.
_MOST_BUCKETS = 40
#: Browns that many have, beside those that anyone can fetch (common practice, no source).
_COMMON = ("sawdust", "wood-shavings", "newspaper")
_DOSES = ("cornell-cn-memory", "cornell-moisture-goal")


def _volume(parts: Sequence[Part]) -> float:
    return mix.volume_l(parts)


def _ratio(value: float) -> str:
    return f"{value:.0f}" if math.isfinite(value) else "without nitrogen"
