"""What stands in for manure: by nitrogen and C:N at once, from what is on hand first, then from near home."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from advisor.blend import mix
from advisor.blend.shapes import Part
from advisor.blend.spread import figures, typical, typical_part
from advisor.blend.substitute import Goal, Stand, stand_in
from advisor.counsel import why
from advisor.counsel.candidates import Candidate, Larder, is_manure, spoken, trouble_of
from advisor.counsel.cautions import cautions
from advisor.counsel.in_use import engine_of
from advisor.counsel.plan import Because, Line, spread_of
from advisor.counsel.plant_food import Load, Supplies
from advisor.counsel.settle import settle
from advisor.counsel.stead import Option, Stead, Substitutes
from advisor.counsel.stock import Lot, lots, measure_figure, uses
from advisor.counsel.wording import capital, counted, joined
from advisor.errors import HouseholdError
from advisor.heap.ranges import figure
from advisor.household.shapes import Holding, Household
from advisor.inference.engine import Consultation, Engine
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.parts import replacing
from advisor.units import Units, mass_text, volume_text

_OPTIONS = 3
#: More cans than this nobody carries.
_MOST_CANS = 10


def shipped_replacing_engine() -> Engine:
    """The engine with the rules of planning and of substitutes in use, compiled once."""
    return engine_of(replacing)


def substitutes(
    wanted: Sequence[Holding],
    knowledge: Knowledge,
    engine: Engine,
    *,
    household: Household | None = None,
    season: str | None = None,
    units: Units = "metric",
) -> Substitutes:
    """What stands in for so much manure.

    Args:
        wanted: the manure, with amounts.
        knowledge: the rule base.
        engine: with the rules of `replacing`.
        household: what is on hand, and where.
        season: spring, summer, autumn or winter; that of the household if left out, any if neither is known.
        units: whose units to write in.

    Raises:
        HouseholdError: what is asked about is no manure, or is nothing.
    """
    there = household or Household("nobody in particular")
    asked = lots(Household("asked", tuple(wanted), measures=there.measures), knowledge)
    _check(wanted, asked, knowledge)
    if season is not None:
        there = _in_season(there, season)
    with engine.consultation() as talk:
        settled = settle(talk, there, knowledge)
        talk.tell([Fact("replacing", "what", "", "manure")], "asked for")
        method = settled.method if knowledge.methods[settled.method].balanced else "bin"
        return _Search(talk, there, knowledge, asked, settled.lots, method, units).answer()


def _check(wanted: Sequence[Holding], asked: Sequence[Lot], knowledge: Knowledge) -> None:
    for holding in wanted:
        if not is_manure(knowledge.materials[holding.material]):
            name = knowledge.materials[holding.material].name
            hint = "this is for manure of farm animals, as in --for '2 barrows horse manure'"
            raise HouseholdError(f"{name} is no manure", where=holding.said, hint=hint)
    if not asked or sum(lot.due_litres for lot in asked) <= 0:
        raise HouseholdError("there is nothing to replace", hint="say how much, as in '2 barrows horse manure'")


def _in_season(household: Household, season: str) -> Household:
    return replace(household, answers={**household.answers, "place.season": (season,)})


class _Search:
    """Finds and writes the options of one question."""

    def __init__(
        self,
        talk: Consultation,
        household: Household,
        knowledge: Knowledge,
        asked: Sequence[Lot],
        held: Sequence[Lot],
        method: str,
        units: Units,
    ) -> None:
        self.talk, self.household, self.knowledge, self.units = talk, household, knowledge, units
        self.asked, self.method = asked, method
        self.figures = figures([lot.due_portion for lot in asked])
        self.parts = [typical_part(lot.due_portion) for lot in asked]
        self.goal = Goal(mix.nitrogen_kg(self.parts), mix.carbon_nitrogen(self.parts))
        limits = knowledge.figures
        # browns make no good of nitrogen: a leaner way is told only where there is no other
        self.leanest = limits["mix-carbon-nitrogen"].high
        self.least_kg = limits["substitute-worth-telling-pct"].typical / 100 * self.goal.nitrogen_kg
        self.holds_open = limits["coarse-holds-open-pct"].typical / 100
        self.larder = Larder(talk, household, knowledge, asked, held, method, self.goal)
        self.candidates = self.larder.candidates
        self.supplies = Supplies(talk, household, knowledge, method, self.larder.season, units)
        self.loads = [Load(lot.material_id, lot.material, part) for lot, part in zip(asked, self.parts, strict=True)]

    def answer(self) -> Substitutes:
        """The whole of it."""
        options = tuple(self._option(letter, stand) for letter, stand in zip("ABC", self._stands(), strict=False))
        used = [part.material for one in options for part in one.parts]
        made_up = dict.fromkeys(each.material for one in options for food in one.plant_food for each in food.supplies)
        self.talk.tell(uses(self.knowledge.materials[name] for name in (*used, *made_up)), "what stands in")
        return Substitutes(
            units=self.units,
            season=self.larder.season,
            asked=self._asked(),
            nitrogen_kg=spread_of(self.figures.nitrogen_kg),
            carbon_nitrogen=self.goal.carbon_nitrogen,
            options=options,
            mind=tuple(self.supplies.minded(made_up)),
            cautions=tuple(cautions(self.talk, self.knowledge, self.units)),
            stays_out=tuple(self._stays_out()),
        )

    # ------------------------------------------------------------ the options

    def _stands(self) -> Iterator[Stand]:
        """Different ways: each time without the thing that brought most nitrogen before."""
        trouble = {name: trouble_of(each) for name, each in self.candidates.items()}
        left = dict(self.candidates)
        seen: set[tuple[tuple[str, float], ...]] = set()
        on_hand = [each.offer for each in left.values() if each.reach == "on-hand"]
        own = stand_in(self.goal, on_hand)
        if own.nitrogen_kg >= self.least_kg:
            seen.add(own.counts)
            yield own
        if self.goal.carbon_nitrogen < self.knowledge.figures["rich-manure-carbon-nitrogen"].typical:
            yield from self._with_browns(seen)
        lean: list[Stand] = []
        found = 0
        for _ in range(2 * _OPTIONS):
            if found == _OPTIONS or not left:
                break
            stand = stand_in(self.goal, [each.offer for each in left.values()], trouble)
            if not stand.counts or (seen and stand.nitrogen_kg < self.least_kg):
                break
            if stand.counts not in seen:
                seen.add(stand.counts)
                if stand.carbon_nitrogen > max(self.leanest, 1.1 * self.goal.carbon_nitrogen):
                    lean.append(stand)
                else:
                    found += 1
                    yield stand
            main = max(stand.counts, key=lambda one: (left[one[0]].nitrogen_kg * one[1], one[0]))[0]
            del left[main]
        if not found and len(seen) == len(lean):
            yield from lean[:1]

    def _with_browns(self, seen: set[tuple[tuple[str, float], ...]]) -> Iterator[Stand]:
        """The nitrogen of rich manure from what is had for nothing, with the browns it would have been given."""
        near = [each for each in self.candidates.values() if each.reach in ("on-hand", "near-home")]
        goal = Goal(self.goal.nitrogen_kg, self.knowledge.figures["mix-preferred-carbon-nitrogen"].low)
        trouble = {each.material_id: trouble_of(each) for each in near}
        found = stand_in(goal, [each.offer for each in near], trouble)
        if found.carbon_nitrogen > self.leanest:
            return
        if found.counts and found.counts not in seen and found.nitrogen_kg >= self.least_kg:
            seen.add(found.counts)
            yield replace(found, met=False)

    def _option(self, letter: str, stand: Stand) -> Option:
        low = letter
        used = [(self.candidates[name], count) for name, count in stand.counts]
        parts = tuple(self._stead(f"{low}{number}", each, count) for number, (each, count) in enumerate(used, 1))
        mixed = [each.part(count) for each, count in used]
        water = max(0.0, _water_kg(self.parts) - _water_kg(mixed))
        names = [each.material_id for each, _ in used]
        loads = [Load(each.material_id, each.material, part) for (each, _), part in zip(used, mixed, strict=True)]
        return Option(
            name=letter,
            line=self._headline(low, stand, mixed, used),
            met=stand.met,
            parts=parts,
            nitrogen_kg=stand.nitrogen_kg,
            carbon_nitrogen=min(stand.carbon_nitrogen, 1e6),
            litres=stand.volume_l,
            water_litres=water,
            makes_up=tuple(self._makes_up(low, names, water, _opening(used, self.holds_open))),
            plant_food=tuple(self.supplies.of(f"{low}n", self.loads, loads, stand.volume_l)),
            withheld=tuple(self.supplies.withheld(f"{low}w", loads)),
            risks=tuple(self._worded(f"{low}r", names, "risk")),
            shares=tuple(self._shares(f"{low}s", names)),
            prepare=tuple(self._worded(f"{low}p", names, "prepare")),
        )

    def _headline(self, low: str, stand: Stand, mixed: Sequence[Part], used: Sequence[tuple[Candidate, float]]) -> Line:
        fetched = [each for each, _ in used if each.reach != "on-hand"]
        whence = "from what is on hand alone" if not fetched else f"with {len(fetched)} to fetch"
        nitrogen = f"{mass_text(stand.nitrogen_kg, self.units)} of nitrogen"
        ratio = f"carbon to nitrogen {stand.carbon_nitrogen:.0f}" if stand.nitrogen_kg > 0 else "no nitrogen"
        wanted = (
            f"where the manure has {mass_text(self.goal.nitrogen_kg, self.units)} and {self.goal.carbon_nitrogen:.0f}"
        )
        text = f"{capital(whence)}: {nitrogen}, {ratio}, {wanted}{self._gap(stand)}"
        sums = [
            why.computed(f"{each.material.name}: {mass_text(mix.nitrogen_kg([part]), self.units)} of nitrogen, "
                         f"{mass_text(mix.carbon_kg([part]), self.units)} of carbon", why.properties(each.material))
            for (each, _), part in zip(used, mixed, strict=True)
        ]  # fmt: skip
        reason = why.computed(
            "the mixture that matches both nitrogen and carbon with the least to fetch",
            *sums,
            sources=("cornell-mix-formula",),
            because="Nitrogen and carbon are added up over what goes in, and divided once.",
        )
        return Line(id=low, text=text, why=(reason,))

    def _gap(self, stand: Stand) -> str:
        """What it falls short of, in so many words."""
        if stand.met:
            return "."
        said = []
        if stand.nitrogen_kg < 0.899 * self.goal.nitrogen_kg:
            missing = mass_text(self.goal.nitrogen_kg - stand.nitrogen_kg, self.units)
            said.append(f"{missing} of nitrogen is not to be had this way")
        if stand.carbon_nitrogen > 1.101 * self.goal.carbon_nitrogen:
            said.append(f"it is richer in carbon, so leave out {self._browns(stand)} of what the heap was to have")
        if stand.carbon_nitrogen < 0.899 * self.goal.carbon_nitrogen:
            said.append(f"it is poorer in carbon, so give the heap more browns, about {self._browns(stand)}")
        return f"; {joined(said)}." if said else "."

    def _browns(self, stand: Stand) -> str:
        """The carbon that it has more or less than the manure, as sacks of dry leaves."""
        leaves = self.knowledge.materials["dry-leaves"]
        size = measure_figure("sack", self.household, self.knowledge).typical
        one = mix.carbon_kg([Part(typical(leaves), size * leaves.density.typical / 1000)])
        own = stand.nitrogen_kg * self.goal.carbon_nitrogen
        sacks = max(0.5, round(abs(stand.carbon_kg - own) / one * 2) / 2)
        return f"{counted(sacks, 'sack')} of dry leaves"

    def _stead(self, line_id: str, each: Candidate, count: float) -> Stead:
        part = each.part(count)
        litres = count * each.offer.unit_l
        nitrogen = mix.nitrogen_kg([part])
        whence = {"on-hand": "on hand", "near-home": "near home", "for-the-asking": "ask for it", "bought": "bought"}
        text = (
            f"{spoken(count, each.measure, litres, self.household, self.knowledge)} of {each.material.name} "
            f"({volume_text(litres, self.units)}, "
            f"{mass_text(part.kg, self.units)}; {whence[each.reach]})"
        )
        keys = [Fact("holding", "reach", each.material_id, each.reach).key] if each.reach != "on-hand" else []
        reasons = [
            because for key in keys if key in self.talk.known for because in why.reasons(self.talk, key, self.knowledge)
        ]
        return Stead(
            material=each.material_id,
            name=each.material.name,
            count=count,
            measure=each.measure,
            litres=litres,
            kilograms=part.kg,
            nitrogen_kg=nitrogen,
            reach=each.reach,
            most_of_heap_pct=None if each.offer.share_cap is None else 100 * each.offer.share_cap,
            line=Line(id=line_id, text=text, why=(*reasons, why.properties(each.material))),
        )

    # ------------------------------------------------------------ what is said of each

    def _makes_up(self, low: str, names: Sequence[str], water: float, opening: Sequence[str]) -> Iterator[Line]:
        words = self.knowledge.kinds["holding"].attributes
        lacks = _by_word(self.talk, "lacks", [name for name in names if not is_manure(self.knowledge.materials[name])])
        number = 0
        if water >= 1:
            number += 1
            can = figure(self.knowledge.figures, "watering-can-litres").typical
            cans = max(1, round(water / can))
            reason = why.computed("the water in the manure, less the water in this", sources=("cornell-moisture-goal",))
            more, given = volume_text(water, self.units), counted(cans, "watering can")
            given = given if cans <= _MOST_CANS else "as much with a hose"
            text = f"Moisture: the manure has {more} of water more; give {given} as the heap is built."
            yield Line(id=f"{low}m{number}", text=text, why=(reason,))
        ways = _by_word(self.talk, "make_up", names)
        for word, of in lacks.items():
            if word == "moisture":
                continue
            number += 1
            reasons = self._reasons("lacks", of, word)
            cure = _CURES[word]
            said = words["make_up"].words[cure] if cure in ways else ""
            if word == "structure" and opening:
                text = f"{capital(words['lacks'].words[word])}: the {self._named(opening)} in it will do."
                yield Line(id=f"{low}m{number}", text=text, why=reasons)
                continue
            graded = _graded((*reasons, *self._reasons("make_up", ways.get(cure, ()), cure)))
            text = f"{capital(words['lacks'].words[word])}: manure brings it, and {self._named(of)} cannot; {said}."
            text += graded
            yield Line(
                id=f"{low}m{number}", text=text, why=(*reasons, *self._reasons("make_up", ways.get(cure, ()), cure))
            )

    def _worded(self, prefix: str, names: Sequence[str], attribute: str) -> Iterator[Line]:
        words = self.knowledge.kinds["holding"].attributes[attribute].words
        for number, (word, of) in enumerate(_by_word(self.talk, attribute, names).items(), 1):
            reasons = self._reasons(attribute, of, word)
            advice = f" {reasons[0].because}" if reasons and attribute == "risk" else ""
            text = f"{capital(self._named(of))}: {words[word]}.{advice}{_graded(reasons)}"
            yield Line(id=f"{prefix}{number}", text=text, why=reasons)

    def _shares(self, prefix: str, names: Sequence[str]) -> Iterator[Line]:
        number = 0
        for name in names:
            caps = [float(cap) for cap in self.talk.values("holding", "share_cap", name)]
            if not caps:
                continue
            number += 1
            reasons = [
                because
                for cap in caps
                for because in why.reasons(self.talk, Fact("holding", "share_cap", name, cap).key, self.knowledge)
            ]
            text = (
                f"{capital(self.knowledge.materials[name].name)}: no more than {min(caps):g} % of the heap, by volume."
                f"{_graded(reasons)}"
            )
            yield Line(id=f"{prefix}{number}", text=text, why=tuple(reasons))

    def _reasons(self, attribute: str, names: Iterable[str], word: str) -> tuple[Because, ...]:
        found = [
            because
            for name in names
            for because in why.reasons(self.talk, Fact("holding", attribute, name, word).key, self.knowledge)
        ]
        once = {because.rule: because for because in reversed(found)}
        return tuple(because for because in found if once.get(because.rule) is because)

    def _named(self, names: Sequence[str]) -> str:
        return joined([self.knowledge.materials[name].name for name in names])

    # ------------------------------------------------------------ the question, and what is said over all

    def _asked(self) -> Line:
        nitrogen, ratio = self.figures.nitrogen_kg, self.figures.carbon_nitrogen
        said = joined([lot.holding.said for lot in self.asked])
        litres, mass = self.figures.volume_l.typical, self.figures.mass_kg.typical
        text = (
            f"{said} ({volume_text(litres, self.units)}, {mass_text(mass, self.units)}): "
            f"{mass_text(nitrogen.typical, self.units)} of nitrogen "
            f"({mass_text(nitrogen.low, self.units)} to {mass_text(nitrogen.high, self.units)}), carbon to nitrogen "
            f"{ratio.typical:.0f} ({ratio.low:.0f} to {ratio.high:.0f}), "
            f"{volume_text(_water_kg(self.parts), self.units)} of water{self.supplies.in_words(self.loads)}"
        )
        return Line(id="m1", text=text, why=tuple(why.properties(lot.material) for lot in self.asked))

    def _stays_out(self) -> Iterator[Line]:
        barred = dict.fromkeys(lot.material_id for lot in self.larder.held if self.larder.barred(lot.material_id))
        for number, name in enumerate(barred, 1):
            reasons = why.barred(self.talk, name, self.method, self.knowledge)
            said = " ".join(because.because for because in reasons)
            text = f"{capital(self.knowledge.materials[name].name)}: {said}"
            yield Line(id=f"o{number}", text=text, why=reasons)


_CURES = {
    "moisture": "wet-the-browns",
    "microbes": "old-compost",
    "structure": "stiff-browns",
}


def _by_word(talk: Consultation, attribute: str, names: Sequence[str]) -> dict[str, list[str]]:
    """The words that hold of any of these materials, each with those it holds of."""
    found: dict[str, list[str]] = {}
    for name in names:
        for word in talk.values("holding", attribute, name):
            found.setdefault(str(word), []).append(name)
    return found


def _graded(reasons: Sequence[Because]) -> str:
    """How good the evidence is, where it is not published guidance, which goes without saying."""
    grades = {because.evidence for because in reasons if because.evidence}
    if grades == {"tradition"}:
        return " (Tradition: no trial that we know shows it.)"
    return " (Measured.)" if grades == {"measured"} else ""


def _opening(used: Sequence[tuple[Candidate, float]], share: float) -> list[str]:
    """What holds a mixture open by itself: coarse stuff, if that share of the volume or more is of it."""
    litres = {each.material_id: count * each.offer.unit_l for each, count in used}
    coarse = [each.material_id for each, _ in used if each.material.structure == "coarse"]
    return coarse if coarse and sum(litres[name] for name in coarse) >= share * sum(litres.values()) else []


def _water_kg(parts: Sequence[Part]) -> float:
    return math.fsum(part.kg * part.composition.moisture_pct / 100 for part in parts)
