"""Herbs, starters and minerals for one heap: how much, what for, how good the evidence is, and what to mind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from pydantic import Field

from advisor.counsel import why
from advisor.counsel.cautions import cautions
from advisor.counsel.consult import consult
from advisor.counsel.measures import ABOUT_ONE, fitting
from advisor.counsel.plan import Because, Line, Shape
from advisor.counsel.settle import is_barred, settle
from advisor.counsel.stock import nature, uses
from advisor.counsel.wording import capital, counted, joined
from advisor.errors import HouseholdError
from advisor.heap.ranges import figure
from advisor.household.shapes import Household
from advisor.inference.engine import Consultation, Engine
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Material
from advisor.units import Units, area_text, mass_text, volume_text

MOST_L = 200_000.0
#: What gives off ammonia that ash would drive out.
_AMMONIA = ("farm-manure", "urine", "concentrate")
#: Measures to count in, largest first: the first of which there is at least so much as `_LEAST` says, or about one.
_SPOONS = ("tablespoon", "teaspoon")
_LADDER = ("wheelbarrow", "bucket", "jug", "mug", "handful", *_SPOONS)
_HERB_LADDER = ("wheelbarrow", "bucket", "double-handful", "handful", *_SPOONS)
_LIQUID_LADDER = ("watering-can", "jug", "mug", *_SPOONS)
_LEAST = {"bucket": 0.4, "handful": 0.5, "tablespoon": 0.75, "teaspoon": 0.5}  # hands and spoons differ by as much
#: The order of the page.
_ROLES = ("green", "starter", "mineral")
#: What may be steeped in rainwater and sprinkled on the layers.
_STEEPED = ("comfrey", "nettles", "yarrow", "dandelions")
_GRADES = {
    "measured": "measured",
    "guidance": "published guidance",
    "tradition": "tradition: no trial that we know shows that it helps",
}


class Addition(Shape):
    """So much of one thing."""

    material: str
    name: str
    on_hand: bool
    litres: float
    most_litres: float | None = Field(description="no more than this, by the rules; null if no rule caps it")
    use: str
    evidence: str
    line: Line
    mind: tuple[Line, ...]


class Additions(Shape):
    """What may be added to a heap."""

    household: str
    units: Units
    heap_litres: float
    manure: bool = Field(description="something goes in that gives off ammonia")
    heap: Line
    herbs: tuple[Addition, ...]
    starters: tuple[Addition, ...]
    minerals: tuple[Addition, ...]
    leave: tuple[Addition, ...] = Field(description="what this heap should not be given")
    steeping: tuple[Line, ...]
    stays_out: tuple[Line, ...]
    cautions: tuple[Line, ...]

    def every(self) -> tuple[Addition, ...]:
        """All of them, in the order of the page."""
        return (*self.herbs, *self.starters, *self.minerals, *self.leave)

    def lines(self) -> tuple[Line, ...]:
        """Every line that can be asked why, in the order of the page."""
        grave = [line for line in self.cautions if line.grave]
        plain = [line for line in self.cautions if not line.grave]
        each = [line for one in self.every() for line in (one.line, *one.mind)]
        return (*grave, self.heap, *each, *self.steeping, *self.stays_out, *plain)


def additions(
    household: Household,
    knowledge: Knowledge,
    planning: Engine,
    engine: Engine,
    *,
    litres: float | None = None,
    units: Units = "metric",
) -> Additions:
    """What a household's heap may be given by the handful.

    Args:
        household: whose heap; its plan says how large it is and whether manure goes in.
        knowledge: the rule base.
        planning: the engine with the rules of planning.
        engine: with the rules of `replacing`, which hold those of additions.
        litres: the size of the heap, if it is not to be that of the plan.
        units: whose units to write in.

    Raises:
        HouseholdError: a heap out of all bounds.
    """
    if litres is not None and not 1 <= litres <= MOST_L:
        raise HouseholdError(f"a heap of {litres:g} L", where="--litres", hint=f"1 to {MOST_L:g} L")
    plan = consult(household, knowledge, planning, units=units, with_doubts=False) if household.holdings else None
    planned = plan.body.litres if plan is not None and plan.body is not None else 0.0
    going_in = [knowledge.materials[line.material] for line in plan.recipe.lines] if plan is not None else []
    held = [knowledge.materials[holding.material] for holding in household.holdings]
    gives_off = any(set(_AMMONIA) & set(material.traits) for material in (*going_in, *held))
    size = litres if litres is not None else planned if planned >= 1 else knowledge.figures["usual-heap-litres"].typical
    known = "as you said" if litres is not None else "as planned" if planned >= 1 else "taken as a cubic metre"
    with engine.consultation() as talk:
        settled = settle(talk, household, knowledge)
        method = settled.method if plan is not None and plan.body is not None else "open-heap"
        writer = _Writer(talk, household, knowledge, size, known, gives_off, method, units)
        return writer.answer()


class _Writer:
    def __init__(
        self,
        talk: Consultation,
        household: Household,
        knowledge: Knowledge,
        size: float,
        known: str,
        gives_off: bool,
        method: str,
        units: Units,
    ) -> None:
        self.talk, self.household, self.knowledge = talk, household, knowledge
        self.size, self.known, self.gives_off, self.method, self.units = size, known, gives_off, method, units
        self.held = {holding.material for holding in household.holdings}
        heap = [Fact("adding", "litres", "", size), Fact("adding", "manure", "", "yes" if gives_off else "no")]
        talk.tell(heap, "the heap it is for")
        names = [name for name in talk.about("holding", "dose") if name not in self.held]
        talk.tell((fact for name in names for fact in nature(name, knowledge.materials[name])), "what may be added")

    def answer(self) -> Additions:
        """The whole of it."""
        order = [name for name in self.knowledge.materials if self.talk.values("holding", "dose", name)]
        order = [name for name in order if not self._stays_out_of_it(name)]
        order.sort(key=self._place)
        made = [self._addition(number, name) for number, name in enumerate(order, 1)]
        given = [one for one in made if one.litres > 0]
        self.talk.tell(uses([self.knowledge.materials[one.material] for one in given]), "what is added")
        role = {name: material.role for name, material in self.knowledge.materials.items()}
        return Additions(
            household=self.household.name,
            units=self.units,
            heap_litres=self.size,
            manure=self.gives_off,
            heap=self._heap(),
            herbs=tuple(one for one in given if role[one.material] == "green"),
            starters=tuple(one for one in given if role[one.material] == "starter"),
            minerals=tuple(one for one in given if role[one.material] == "mineral"),
            leave=tuple(one for one in made if one.litres <= 0),
            steeping=tuple(self._steeping()),
            stays_out=tuple(self._stays_out()),
            cautions=tuple(cautions(self.talk, self.knowledge, self.units)),
        )

    def _stays_out_of_it(self, name: str) -> bool:
        """What a rule keeps out; what is not on hand and would get none is still told of, so that nobody fetches it."""
        return is_barred(self.talk, name, self.method) and (name in self.held or not self._none_of(name))

    def _none_of(self, name: str) -> bool:
        return min(float(dose) for dose in self.talk.values("holding", "dose", name)) <= 0

    def _place(self, name: str) -> int:
        """Where on the page it stands: by what it is, and what is left out at the end."""
        return len(_ROLES) if self._none_of(name) else _ROLES.index(self.knowledge.materials[name].role)

    def _heap(self) -> Line:
        gives = "something in it gives off ammonia" if self.gives_off else "nothing in it gives off ammonia"
        text = f"a heap of {volume_text(self.size, self.units)} ({self.known}); {gives}"
        return Line(id="m1", text=text, why=(why.computed("from the plan, or from what was said"),))

    def _addition(self, number: int, name: str) -> Addition:
        material = self.knowledge.materials[name]
        caps = [float(cap) for cap in self.talk.values("holding", "share_cap", name)]
        dose = min([float(value) for value in self.talk.values("holding", "dose", name)] + caps)
        litres, most = dose / 100 * self.size, min(caps) / 100 * self.size if caps else None
        word = str(self.talk.values("holding", "use", name)[0])
        use = self.knowledge.kinds["holding"].attributes["use"].words[word]
        reasons = self._reasons(name, "dose", "share_cap")
        evidence = next((because.evidence for because in reasons if because.evidence), "guidance")
        mine = " (on hand)" if name in self.held else ""
        if litres > 0:
            cap = f"; no more than {volume_text(most, self.units)}" if most is not None and most > litres * 1.05 else ""
            amount = f"{self._measured(material, litres)} ({volume_text(litres, self.units)}){cap}"
            text = f"{capital(material.name)}{mine}: {amount}. It {use} ({_GRADES[evidence]})."
        else:
            text = f"{capital(material.name)}{mine}: none in this heap. {reasons[0].because}"
        return Addition(
            material=name,
            name=material.name,
            on_hand=name in self.held,
            litres=litres,
            most_litres=most,
            use=word,
            evidence=evidence,
            line=Line(id=f"a{number}", text=text, why=(*reasons, why.properties(material))),
            mind=tuple(self._mind(f"a{number}m", name)),
        )

    def _mind(self, prefix: str, name: str) -> Iterator[Line]:
        words = self.knowledge.kinds["holding"].attributes["mind"].words
        for number, word in enumerate(self.talk.values("holding", "mind", name), 1):
            key = Fact("holding", "mind", name, word).key
            reasons = why.reasons(self.talk, key, self.knowledge)
            yield Line(id=f"{prefix}{number}", text=f"Mind: {words[str(word)]}.", why=reasons)

    def _reasons(self, name: str, *attributes: str) -> tuple[Because, ...]:
        return tuple(
            because
            for attribute in attributes
            for value in self.talk.values("holding", attribute, name)
            for because in why.reasons(self.talk, Fact("holding", attribute, name, value).key, self.knowledge)
        )

    def _measured(self, material: Material, litres: float) -> str:
        liquid, herb = material.structure == "liquid", material.role == "green"
        ladder = _LIQUID_LADDER if liquid else _HERB_LADDER if herb else _LADDER
        measure, size = fitting(litres, ladder, self.household, self.knowledge, leasts=_LEAST)
        if litres < _LEAST.get(measure, ABOUT_ONE) * size:
            return "a dash" if liquid else "a pinch"
        declared = self.knowledge.measures[measure]
        parts = 2 if declared.halves else 1
        return counted(max(round(litres / size * parts), 1) / parts, declared.name)

    # ------------------------------------------------------------ steeped herbs, and the comfrey patch

    def _steeping(self) -> Iterator[Line]:
        figures = self.knowledge.figures
        per_litre, days = figure(figures, "steep-leaves-kg-per-litre"), figure(figures, "steep-days")
        litres = figure(figures, "steep-litres-per-m3").typical * self.size / 1000
        names = joined([self.knowledge.materials[name].name for name in _STEEPED], "or")
        text = (
            f"Steeped: {mass_text(per_litre.typical * litres, self.units)} of {names} in "
            f"{volume_text(litres, self.units)} of rainwater, {days.low:g} to {days.high:g} days in the shade under a "
            f"loose lid, sprinkled on each layer as part of its water ({_GRADES['tradition']})"
        )
        reasons = (
            why.figure("leaves to a litre of water", per_litre, " kg"),
            why.figure("days", days, ""),
            why.figure("litres for a cubic metre", figures["steep-litres-per-m3"], " L"),
        )
        yield Line(id="s1", text=text, why=reasons)
        text = "It stinks: keep it from the house, off leaves that are eaten, and out of reach of children."
        yield Line(id="s2", text=text, why=(why.computed("rotting leaves in water", sources=("common-practice",)),))
        yield self._patch()

    def _patch(self) -> Line:
        """How many heaps a patch of comfrey serves, by the dose of a leaf layer."""
        figures = self.knowledge.figures
        patch, yields = figure(figures, "comfrey-patch-m2").typical, figure(figures, "comfrey-kg-per-m2-year")
        cuts = figure(figures, "comfrey-cuts-a-year").typical
        dose = float(self.talk.values("holding", "dose", "comfrey")[0])
        material = self.knowledge.materials["comfrey"]
        wanted = dose / 100 * self.size * material.density.typical / 1000
        low, typical, high = (patch * each for each in (yields.low, yields.typical, yields.high))
        gives = (
            f"{mass_text(typical, self.units)} a year ({mass_text(low, self.units)} to {mass_text(high, self.units)})"
        )
        heaps = counted(max(0.5, round(typical / wanted * 2) / 2), "heap") if wanted > 0 else "many heaps"
        text = (
            f"A patch of comfrey of {area_text(patch, self.units)} gives about {gives} in {cuts:g} cuts: enough for "
            f"{heaps} of this size. Cut it before it flowers, from its second year on."
        )
        reasons = (
            why.figure("comfrey cut fresh from a square metre in a year", yields, " kg"),
            why.figure("cuts in a year", figures["comfrey-cuts-a-year"], ""),
            why.computed(f"{mass_text(wanted, self.units)} goes into this heap"),
        )
        return Line(id="s3", text=text, why=reasons)

    def _stays_out(self) -> Iterator[Line]:
        names: Sequence[str] = [
            name
            for name in sorted(self.held)
            if self.knowledge.materials[name].role in ("mineral", "starter", "never")
            and is_barred(self.talk, name, self.method)
        ]
        for number, name in enumerate(names, 1):
            reasons = why.barred(self.talk, name, self.method, self.knowledge)
            said = " ".join(because.because for because in reasons)
            yield Line(id=f"o{number}", text=f"{capital(self.knowledge.materials[name].name)}: {said}", why=reasons)
