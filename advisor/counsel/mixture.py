"""The mix, line by line: amounts in measures, water, gauges, what is missed and what to fetch."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from advisor.blend.recipe import Miss
from advisor.blend.recipe import Recipe as Solved
from advisor.blend.shapes import Range, Window
from advisor.counsel import plan as page
from advisor.counsel import why
from advisor.counsel.blending import Blended
from advisor.counsel.ingredients import Ingredient, is_poured
from advisor.counsel.loads import Loads
from advisor.counsel.measures import ABOUT_ONE, share_text
from advisor.counsel.plan import Because, Gauge, Goal, Line, Poured, RecipeLine, Spread, What
from advisor.counsel.settle import Settled
from advisor.counsel.stock import by_material
from advisor.counsel.wording import capital, counted, joined
from advisor.household.shapes import Household
from advisor.inference.engine import Consultation
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Material
from advisor.units import Units, mass_text, volume_text

_NAMES = {
    "carbon-nitrogen": "carbon to nitrogen",
    "moisture": "moisture",
    "air-space": "air in it as tipped",
    "volume": "volume",
}
#: Measures are told in quarters; so many of them, to the nearest quarter.
_QUARTER, _MANY, _EXACT = 0.25, 4, 1e-6
_BALANCE = ("cornell-mix-formula", "cornell-schools-moisture")


class Mixture:
    """Writes the mix of one plan."""

    def __init__(
        self,
        talk: Consultation,
        household: Household,
        knowledge: Knowledge,
        settled: Settled,
        blended: Blended,
        units: Units,
    ) -> None:
        self.talk, self.household, self.knowledge = talk, household, knowledge
        self.settled, self.blended, self.units = settled, blended, units
        self.method = knowledge.methods[settled.method]
        self.solved: Solved | None = blended.recipe
        self.loads = Loads(blended, settled.method, household, knowledge, units)

    def recipe(self) -> page.Recipe:
        """The whole of it."""
        solved = self.solved
        status = "none" if not self.method.balanced else solved.status if solved else "nothing"
        return page.Recipe(
            status=status,
            lines=tuple(self.lines()),
            water_litres=solved.water_l if solved else 0.0,
            water=self.water(),
            gauges=tuple(self.gauges()),
            poured=tuple(
                Poured(material=name, name=self.knowledge.materials[name].name, litres=litres)
                for name, litres in self.blended.poured_litres.items()
            ),
            additions=tuple(self.additions()),
            per_load=tuple(self.loads.per_load()),
            misses=tuple(self.misses()),
            fetch=tuple(self.fetch()),
            with_fetch=self.with_fetch(),
            whole=tuple(self.whole()),
            whole_water_litres=solved.with_fetch.water_l if solved and solved.with_fetch else 0.0,
        )

    # ------------------------------------------------------------ what goes in

    def lines(self) -> Iterator[RecipeLine]:
        for number, (name, litres) in enumerate(self.blended.used_litres.items(), 1):
            ingredient = self.blended.ingredients[name]
            yield self._line(f"r{number}", ingredient, litres / ingredient.unit.litres, self._why_so_much(ingredient))

    def _line(self, line_id: str, ingredient: Ingredient, count: float, reasons: tuple[Because, ...]) -> RecipeLine:
        unit = ingredient.unit
        litres = count * unit.litres
        kilograms = litres * ingredient.offer.composition.density_kg_m3 / 1000
        amount = self._told(count, ingredient)
        in_litres = volume_text(litres, self.units)
        size = (
            f"{in_litres}, {mass_text(kilograms, self.units)}"
            if amount != in_litres
            else mass_text(kilograms, self.units)
        )
        text = f"{amount} of {ingredient.material.name} ({size})"
        return RecipeLine(
            material=ingredient.material_id,
            name=ingredient.material.name,
            count=round(count, 6),
            measure=unit.measure,
            litres=litres,
            kilograms=kilograms,
            line=Line(id=line_id, text=text, why=reasons),
        )

    def _told(self, count: float, ingredient: Ingredient) -> str:
        """An amount in its measure where that comes out in quarters or is large, else in litres."""
        finest = min(_QUARTER, ingredient.unit.step)
        if count >= _MANY or (count and abs(count / finest - round(count / finest)) < _EXACT):
            return counted(count, ingredient.unit.name)
        return volume_text(count * ingredient.unit.litres, self.units)

    def _why_so_much(self, ingredient: Ingredient) -> tuple[Because, ...]:
        reasons: list[Because] = []
        if self.solved is not None and self.method.balanced:
            reasons.append(
                why.computed(
                    "the best recipe in the roundest measures that lose nothing of it",
                    because=(
                        "As much as can be of what spoils, within the windows below; what keeps is used only as far as "
                        "it helps."
                    ),
                )
            )
        for hold in self.solved.binding if self.solved else ():
            if hold.offer == ingredient.material_id:
                reasons.append(why.computed(f"no more of it, because the heap would then have {_LACKS[hold.lack]}"))
        for cap in self.talk.values("holding", "share_cap", ingredient.material_id):
            key = Fact("holding", "share_cap", ingredient.material_id, cap).key
            reasons += why.reasons(self.talk, key, self.knowledge)
        reasons.append(why.properties(ingredient.material))
        return tuple(reasons)

    def why_left(self, name: str) -> tuple[Because, ...]:
        """Why something is left over."""
        ingredient = self.blended.ingredients[name]
        if ingredient.unit.at_most == 0:
            reason = "So little changes nothing in the mix: put it in with the rest."
            return (why.computed(f"less than a {ingredient.unit.name}", because=reason),)
        held = [hold for hold in (self.solved.binding if self.solved else ()) if hold.offer == name]
        if held:
            return tuple(why.computed(f"with more of it the heap would have {_LACKS[hold.lack]}") for hold in held)
        reason = (
            "It keeps, and the heap does not need it." if ingredient.offer.storable else "There was no place for it."
        )
        return (why.computed("not needed", because=reason),)

    def water(self) -> Line | None:
        solved = self.solved
        if solved is None or (not self.method.has_body):
            return None
        if not solved.counts:
            return None
        if solved.water_l < 1:
            return Line(id="r0", text="Add no water. The mix is moist enough.", why=self._why_water(solved))
        can = self.knowledge.figures["watering-can-litres"].typical
        cans = solved.water_l / can
        of_cans = f", {counted(round(cans), 'watering can')}" if cans >= 0.75 else ""
        water = f"{volume_text(solved.water_l, self.units)} of water{of_cans}"
        text = f"{water}, as it is built; stop sooner if a squeezed handful drips"
        return Line(id="r0", text=text, why=self._why_water(solved))

    def _why_water(self, solved: Solved) -> tuple[Because, ...]:
        window = self.blended.windows.moisture
        before = f"{solved.reached.moisture_before_pct:.0f} %" if solved.reached else ""
        goal = f"to about {window.aim:.0f} %" if window else ""
        reasons = self._target("moisture")
        return (
            why.computed(
                f"it comes at {before} moisture and is brought {goal}".replace("at  moisture", "dry"),
                sources=_BALANCE,
                because="Water balance on wet weights.",
            ),
            *reasons,
        )

    def additions(self) -> Iterator[Line]:
        """Minerals, starters and liquids: as much as is on hand, up to the share that is good for it."""
        total = sum(self.blended.used_litres.values())
        for number, (name, lots) in enumerate(by_material(self.blended.extras).items(), 1):
            material = lots[0].material
            litres = sum(lot.due_litres for lot in lots)
            caps = [float(value) for value in self.talk.values("holding", "share_cap", name)]
            if is_poured(material) and self.method.has_body:
                yield self._poured(f"a{number}", name, material, litres, caps)
                continue
            most = min(caps) / 100 * total if caps and total else math.inf
            amount = volume_text(min(litres, most), self.units)
            if most < litres:
                text = f"{material.name}: no more than {amount}, a thin scatter to each layer"
            else:
                text = f"{material.name}: all {amount} may go in, a little to each layer"
            keys = [Fact("holding", "share_cap", name, value).key for value in caps]
            reasons = tuple(because for key in keys for because in why.reasons(self.talk, key, self.knowledge))
            about = (why.computed(material.about),) if material.about else ()
            yield Line(id=f"a{number}", text=text, why=(*reasons, *about, why.properties(material)))

    def _poured(self, line_id: str, name: str, material: Material, litres: float, caps: Sequence[float]) -> Line:
        """A liquid that brings nitrogen: as much as the sums took, or none."""
        taken = self.blended.poured_litres.get(name, 0.0)
        if taken > 0:
            rest = f" of the {volume_text(litres, self.units)} you have" if taken < ABOUT_ONE * litres else ""
            text = (
                f"{capital(material.name)}: pour on {volume_text(taken, self.units)}{rest}, a little to each layer. "
                "Its nitrogen and its water are counted in the figures."
            )
        else:
            enough = "nitrogen" if self.method.balanced else "water"
            text = f"{capital(material.name)}: pour on none. The mix has enough {enough} without it."
        keys = [Fact("holding", "share_cap", name, value).key for value in caps]
        reasons = tuple(because for key in keys for because in why.reasons(self.talk, key, self.knowledge))
        return Line(id=line_id, text=text, why=(*reasons, why.properties(material)))

    # ------------------------------------------------------------ what it comes to

    def gauges(self) -> Iterator[Gauge]:
        ranges, windows = self.blended.range, self.blended.windows
        if ranges is None:
            return
        if self.method.balanced:
            yield self._gauge("v1", "carbon-nitrogen", ranges.carbon_nitrogen, windows.carbon_nitrogen, "")
        yield self._gauge("v2", "moisture", ranges.moisture_pct, windows.moisture, " %")
        if self.method.balanced:
            yield self._gauge("v3", "air-space", ranges.free_air_space_pct, windows.air_space, " %")
            yield self._gauge("v4", "volume", ranges.volume_l, windows.volume_l, " L")

    def _gauge(self, line_id: str, what: What, spread: Range, window: Window | None, unit: str) -> Gauge:
        inside = window is None or window.low * (1 - 1e-6) <= spread.typical <= window.high * (1 + 1e-6)
        if what == "volume":
            typical, low, high = (volume_text(one, self.units) for one in (spread.typical, spread.low, spread.high))
            shown = f"{typical} ({low} to {high})"
        else:
            shown = f"{_figure(spread.typical)}{unit} ({_figure(spread.low)} to {_figure(spread.high)})"
        wanted = self._wanted(what, window, unit)
        wood = self._slow_wood() if what == "carbon-nitrogen" else ""
        text = f"{_NAMES[what]} {shown}{wanted}{wood}"
        reasons = (
            why.computed(
                f"{_NAMES[what]}, {_HOW[what]}",
                sources=("cornell-mix-formula",)
                if what == "carbon-nitrogen"
                else ("cornell-schools-moisture",)
                if what == "moisture"
                else ("air-space-comparison",)
                if what == "air-space"
                else (),
                because="In brackets: where it lies 8 times out of 10, given how far materials and measures differ.",
            ),
            *self._target(what),
        )
        goal = Goal(low=window.low, aim=window.aim, high=window.high) if window else None
        spread_ = Spread(low=_finite(spread.low), typical=_finite(spread.typical), high=_finite(spread.high))
        return Gauge(what=what, spread=spread_, goal=goal, inside=inside, line=Line(id=line_id, text=text, why=reasons))

    def _slow_wood(self) -> str:
        """Which wood counts with a share of its carbon alone."""
        used = [self.blended.ingredients[name].material for name in self.blended.used_litres]
        slow = [f"{material.feeds.typical:g} % of the carbon of {material.name}" for material in used if material.feeds]
        return f". It counts {joined(slow)}: the rest rots too slowly to feed the heap" if slow else ""

    def _wanted(self, what: str, window: Window | None, unit: str) -> str:
        if window is None:
            return ""
        if what == "volume":
            low, aim = volume_text(window.low, self.units), volume_text(window.aim, self.units)
            if window.low <= 0:
                return f"; any size will do, {aim} is best"
            return f"; wanted {low} or more, best {aim}"
        if what == "air-space":
            return f"; wanted {window.low:g}{unit} or more"
        return f"; wanted {window.low:g} to {window.high:g}{unit}, best about {window.aim:g}"

    def _target(self, what: str) -> tuple[Because, ...]:
        aim = self.talk.number("target", "aim", what)
        if aim is None:
            return ()
        keys = [Fact("target", "aim", what, aim).key]
        keys += [Fact("target", "shift", what, value).key for value in self.talk.values("target", "shift", what)]
        return tuple(because for key in keys for because in why.reasons(self.talk, key, self.knowledge))

    def misses(self) -> Iterator[Line]:
        solved = self.solved
        if solved is None or not self.method.balanced:
            return
        if solved.status == "nothing":
            text = "There is not enough to build with yet."
            yield Line(id="x0", text=text, why=(why.computed("what is on hand makes no compost by itself"),))
        for number, miss in enumerate(solved.misses, 1):
            yield Line(id=f"x{number}", text=self._miss(miss), why=self._why_missed(miss))

    def _why_missed(self, miss: Miss) -> tuple[Because, ...]:
        if miss.what != "share":
            return self._target(miss.what)
        keys = [
            Fact("holding", "share_cap", miss.of, cap).key for cap in self.talk.values("holding", "share_cap", miss.of)
        ]
        return tuple(because for key in keys for because in why.reasons(self.talk, key, self.knowledge))

    def _miss(self, miss: Miss) -> str:
        name = _NAMES.get(miss.what, "share")
        if miss.what == "share":
            of = self.knowledge.materials[miss.of].name if miss.of in self.knowledge.materials else miss.of
            most = share_text(miss.window.high)
            return f"{of} makes up {miss.value:.0f} % of it; {most} is the most that does well"
        if miss.what == "volume":
            value, low = volume_text(miss.value, self.units), volume_text(miss.window.low, self.units)
            return f"{value} is less than the {low} it takes; it has {_LACKS[miss.lack]}"
        edge = miss.window.low if miss.value < miss.window.low else miss.window.high
        unit = "" if miss.what == "carbon-nitrogen" else " %"
        value = f"{_figure(miss.value)}{unit}"
        bound = "at least" if miss.value < miss.window.low else "at most"
        return f"{name} {value} where {bound} {edge:g} is wanted: {_LACKS[miss.lack]}"

    # ------------------------------------------------------------ what to fetch

    def with_fetch(self) -> Line | None:
        """The whole mix once the things to fetch are in it."""
        solved = self.solved
        after = solved.with_fetch if solved is not None else None
        reached = after.reached if after is not None else None
        if after is None or reached is None:
            return None
        parts = [
            f"{self._told(count, ingredient)} of {ingredient.material.name}"
            for name, count in after.counts
            if (ingredient := self.blended.ingredients[name])
        ]
        water = f" and {volume_text(after.water_l, self.units)} of water" if after.water_l >= 1 else ""
        text = (
            f"With that, the mix is {joined(parts)}{water}: carbon to nitrogen {_figure(reached.carbon_nitrogen)}, "
            f"moisture {_figure(reached.moisture_pct)} %, {volume_text(reached.volume_l, self.units)}"
        )
        return Line(id="f0", text=text, why=(why.computed("the recipe worked out again with what is to be fetched"),))

    def whole(self) -> Iterator[RecipeLine]:
        """What goes in once the things to fetch are there; nothing if the mix would still not be right."""
        after = self.solved.with_fetch if self.solved is not None else None
        if after is not None and after.reached is not None:
            for number, (name, count) in enumerate(after.counts, 1):
                yield self._line(f"w{number}", self.blended.ingredients[name], count, ())

    def fetch(self) -> Iterator[RecipeLine]:
        solved = self.solved
        if solved is None or solved.with_fetch is None:
            return
        after = solved.with_fetch
        ratio = after.reached.carbon_nitrogen if after.reached else math.nan
        moisture = after.reached.moisture_pct if after.reached else math.nan
        for number, (name, count) in enumerate(solved.fetch, 1):
            ingredient = self.blended.ingredients[name]
            reason = why.computed(
                f"with it the heap comes to carbon to nitrogen {_figure(ratio)} and moisture {_figure(moisture)} %",
                why.properties(ingredient.material),
                because="The shortest list of what is commonly to be had that brings every figure into its window.",
            )
            yield self._line(f"f{number}", ingredient, count, (reason,))


_LACKS = {
    "nitrogen": "too little nitrogen",
    "carbon": "too little carbon for its nitrogen",
    "water": "too little water",
    "dryness": "too much water",
    "air": "too little air",
    "density": "too little substance",
    "volume": "too little stuff to keep warm",
    "room": "no room left",
    "share": "too large a share of it",
}
_HOW = {
    "carbon-nitrogen": "by mass balance on dry matter",
    "moisture": "by water balance, with the water above",
    "air-space": "from the weight of a litre and the densities of water, organic matter and ash",
    "volume": "added up as tipped; it settles",
}


def _figure(value: float) -> str:
    if not math.isfinite(value):
        return "no nitrogen at all"
    return f"{value:.0f}"


def _finite(value: float) -> float:
    return value if math.isfinite(value) else 1e6
