"""How much of it: browns, greens, water or bulk, worked out from what is in the heap and what is on hand.

Where nobody has said what went in, the dose is a small one, and it says so. Where what went in shows that a dose would
hardly move a figure, the dose is moot and says why. Nothing is given that is already too much of the heap.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from advisor.blend import mix
from advisor.blend.mix import CannotBeMet
from advisor.blend.shapes import Composition, Part
from advisor.blend.spread import typical
from advisor.counsel.stock import Lot, measure_figure
from advisor.counsel.wording import counted, joined
from advisor.diagnosis.account import Account, on_hand
from advisor.diagnosis.shapes import Dose
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.units import Units, length_text, volume_text

#: Taken where the household has nothing suitable: the first that is not what caused the trouble.
USUAL = {
    "brown": ("dry-leaves", "straw", "cardboard"),
    "green": ("grass-clippings", "coffee-grounds", "kitchen-scraps"),
}
#: What a sign says went in by the load, as materials. What lies in mats is not mended with more of it, and what may
#: have been sprayed is given to no heap.
BY_THE_LOAD = {
    "grass": frozenset({"grass-clippings"}),
    "leaves": frozenset({"dry-leaves"}),
    "hay-straw": frozenset({"straw", "hay"}),
    "paper": frozenset({"cardboard", "newspaper"}),
    "kitchen": frozenset({"kitchen-scraps"}),
    "sprayed": frozenset({"grass-clippings", "straw", "hay"}),
}
#: Up to so many measures are counted in halves, and more in whole ones.
_HALVES_UP_TO = 8
#: More buckets than this are counted in barrows.
_BUCKETS_AT_MOST = 12
#: From this share of a dose on it is said to be the whole.
_NEARLY_ALL = 0.9


@dataclass(frozen=True, slots=True)
class Apothecary:
    """Works out doses for one heap."""

    account: Account | None
    household: Household | None
    knowledge: Knowledge
    units: Units
    causes: frozenset[str]  # those that stand
    loads: frozenset[str] = frozenset()  # what went in by the load: words of the sign "holds"

    def dose(self, kind: str) -> Dose | None:
        """The dose of a kind of a remedy's `dose`; None for "none"."""
        ways: dict[str, Callable[[], Dose]] = {
            "browns": self.browns,
            "greens": self.greens,
            "water": self.water,
            "volume": self.volume,
        }
        return ways[kind]() if kind in ways else None

    def browns(self) -> Dose:
        """Browns for a heap that is too rich, too wet, or both."""
        lot, material = self._choice("brown")
        if self.account is None:
            return self._first_dose(material, lot, "if it still smells or drips")
        composition = typical(self.knowledge.materials[material])
        wanted = max(self._for_balance(composition), self._for_dryness(composition))
        return self._measured(material, lot, composition, wanted)

    def greens(self) -> Dose:
        """Greens for a heap that is short of nitrogen."""
        lot, material = self._choice("green")
        if self.account is None:
            return self._first_dose(material, lot, "if it is still cold")
        composition = typical(self.knowledge.materials[material])
        wanted = self._for_balance(composition) if self.account.carbon_nitrogen > self._aim_cn else 0.0
        return self._measured(material, lot, composition, wanted)

    def water(self) -> Dose:
        """Water for a dry heap."""
        can = measure_figure("watering-can", self._measures, self.knowledge).typical
        if self.account is None:
            litres = self.knowledge.figures["unturned-barrow-water-litres"].typical
            return Dose(
                material="water",
                name="water",
                litres=litres,
                text=f"about {self._litres(litres)} for each wheelbarrow of it, a can at a time",
                rests_on="This is a first dose, as I don't know how much is in it. Squeeze a handful in 2 days.",
                known=False,
            )
        goal = self.knowledge.figures["cure-moisture-pct"].typical
        before = self.account.moisture_pct
        litres = mix.water_to_add_kg(self.account.parts, goal)
        if litres <= 0 or goal - before < self.knowledge.figures["dose-moot-moisture-points"].typical:
            return self._moot("water", "water", f"moisture is about {before:.0f} %", moisture=before)
        cans = max(1, round(litres / can))
        each = "one can" if cans == 1 else f"about {cans} cans, one at a time"
        return Dose(
            material="water",
            name="water",
            litres=litres,
            text=f"{self._litres(litres)}, {each}",
            rests_on=f"By what you told me this brings moisture from about {before:.0f} to {goal:.0f} %."
            + self._counts_poured(),
            known=True,
            moisture_before_pct=before,
            moisture_after_pct=goal,
        )

    def volume(self) -> Dose:
        """More stuff for a heap that is too small."""
        goal = self.knowledge.figures["smallest-hot-heap-litres"].high
        barrow = measure_figure("wheelbarrow", self._measures, self.knowledge).typical
        across = length_text(math.cbrt(goal / 1000), self.units)
        mixed = "mixed greens and browns"
        if self.account is None:
            whole = counted(round(goal / barrow), "barrow")
            text = f"{across} each way, which is about {whole} in all, greens and browns mixed"
            rests_on = "I count the whole heap here, as I don't know how much is in it."
            return Dose(material="", name=mixed, litres=goal, text=text, rests_on=rests_on, known=False)
        lacking = goal - self.account.litres
        rests_on = f"You told me of about {self._litres(self.account.litres)} so far."
        if lacking < barrow / 2:
            text = f"heap up what has slumped, to {across} each way"
            return Dose(material="", name="what is there", litres=0.0, text=text, rests_on=rests_on, known=True)
        more = counted(max(1, round(lacking / barrow)), "barrow")
        text = f"{across} each way, with about {more} more, greens and browns mixed"
        return Dose(material="", name=mixed, litres=lacking, text=text, rests_on=rests_on, known=True)

    # ------------------------------------------------------------ how much

    @property
    def _aim_cn(self) -> float:
        return self.knowledge.figures["cure-carbon-nitrogen"].typical

    def _for_balance(self, composition: Composition) -> float:
        assert self.account is not None
        if "too-rich" not in self.causes and "too-lean" not in self.causes:
            return 0.0
        return _kg(lambda parts: mix.second_for_cn(parts, composition, self._aim_cn), self.account.parts)

    def _for_dryness(self, composition: Composition) -> float:
        """Kilograms that dry it to the upper edge, or as many as its nitrogen allows."""
        assert self.account is not None
        goal = self.knowledge.figures["cure-moisture-pct"].high
        if self.account.moisture_pct <= goal:
            return 0.0
        wanted = _kg(lambda parts: mix.second_for_moisture(parts, composition, goal), self.account.parts)
        highest = self.knowledge.figures["cure-carbon-nitrogen"].high
        allowed = _kg(lambda parts: mix.second_for_cn(parts, composition, highest), self.account.parts)
        return min(wanted, allowed) if allowed > 0 else wanted

    def _measured(self, material: str, lot: Lot | None, composition: Composition, kg: float) -> Dose:
        """The dose of so many kilograms, in measures that can be counted; moot if it would hardly move a figure."""
        assert self.account is not None
        name = self.knowledge.materials[material].name
        before, wet = self.account.carbon_nitrogen, self.account.moisture_pct
        known = "no nitrogen to speak of" if math.isinf(before) else f"C:N is about {before:.0f}"
        if kg <= 0:
            return self._moot(material, name, known, carbon_nitrogen=before, moisture=wet)
        whole = kg / composition.density_kg_m3 * 1000
        litres = min(whole, self.knowledge.figures["dose-at-once-heaps"].typical * self.account.litres)
        count, size, measure = self._count(litres, lot)
        litres = count * size
        parts = [*self.account.parts, Part(composition, litres / 1000 * composition.density_kg_m3)]
        after, drier = mix.carbon_nitrogen(parts), mix.moisture_pct(parts)
        moot = self.knowledge.figures["dose-moot-carbon-nitrogen-pct"].typical / 100
        moved = []
        if not math.isinf(before) and abs(after - before) >= moot * before:
            moved.append(f"C:N from about {before:.0f} to {after:.0f}")
        if abs(wet - drier) >= self.knowledge.figures["dose-moot-moisture-points"].typical:
            moved.append(f"moisture from about {wet:.0f} to {drier:.0f} %")
        if not moved and not math.isinf(before):
            return self._moot(material, name, known, carbon_nitrogen=before, moisture=wet)
        brings = f" this brings {' and '.join(moved)}" if moved else " this brings nitrogen"
        rests_on = f"By what you told me{brings}.{self._counts_poured()}"
        if litres < _NEARLY_ALL * whole:
            rests_on += f" The sums ask for {self._litres(whole)}; begin with this, and look again in 3 days."
        if lot is not None and lot.due_litres < _NEARLY_ALL * litres:
            rests_on += f" You have only {self._litres(lot.due_litres)} of it: mix that in first, and fetch the rest."
        return Dose(
            material=material,
            name=name,
            litres=litres,
            text=f"{counted(count, measure)} of {name}",
            rests_on=rests_on,
            known=True,
            carbon_nitrogen_before=None if math.isinf(before) else before,
            carbon_nitrogen_after=after,
            moisture_before_pct=wet,
            moisture_after_pct=drier,
        )

    def _moot(
        self,
        material: str,
        name: str,
        known: str,
        *,
        carbon_nitrogen: float | None = None,
        moisture: float | None = None,
    ) -> Dose:
        """No dose, since by what went in it would change hardly anything."""
        return Dose(
            material=material,
            name=name,
            litres=0.0,
            text="",
            rests_on=f"By what you told me {known}.{self._counts_poured()}",
            known=True,
            moot=True,
            carbon_nitrogen_before=None if carbon_nitrogen is None or math.isinf(carbon_nitrogen) else carbon_nitrogen,
            moisture_before_pct=moisture,
        )

    def _counts_poured(self) -> str:
        """That what was poured on is counted, if anything was."""
        if self.account is None or not self.account.poured:
            return ""
        named = joined([f"{self._litres(litres)} of {name}" for name, litres in self.account.poured])
        return f" I have counted the {named} poured on."

    def _first_dose(self, material: str, lot: Lot | None, again: str) -> Dose:
        name = self.knowledge.materials[material].name
        size = measure_figure("bucket", self._measures, self.knowledge).typical
        rests_on = (
            f"This is a first dose, as I don't know what is in it. Look again in 3 days; {again}, add the same again."
        )
        if lot is not None:
            rests_on += f" You have {self._litres(lot.due_litres)} of it."
        return Dose(
            material=material, name=name, litres=2 * size, text=f"2 buckets of {name}", rests_on=rests_on, known=False
        )

    def _choice(self, role: str) -> tuple[Lot | None, str]:
        """What is on hand, the most of it first, or else what is usual; never what caused the trouble."""
        barred = self._barred
        held = [lot for lot in on_hand(self.household, self.knowledge, role) if lot.material_id not in barred]
        if held:
            return held[0], held[0].material_id
        usual = [name for name in USUAL[role] if name not in barred]
        return None, (usual or list(USUAL[role]))[0]

    @property
    def _barred(self) -> frozenset[str]:
        """Materials that would do more harm: what may be sprayed, and what lies in mats or is most of the heap."""
        loads = self.loads if self.causes & {"matted", "too-lean", "one-thing"} else self.loads & {"sprayed", "paper"}
        return frozenset(name for load in loads for name in BY_THE_LOAD.get(load, ()))

    def _count(self, litres: float, lot: Lot | None) -> tuple[float, float, str]:
        """How many of which measure, and what one holds: the household's own measure where it has one."""
        measure, size = "bucket", measure_figure("bucket", self._measures, self.knowledge).typical
        own = lot.holding.quantity if lot is not None else None
        if lot is not None and own is not None and own.measure not in ("L", "kg") and own.count > 0:
            own_size = lot.litres.typical / own.count * _once(lot)
            if litres >= own_size or own_size <= size:  # a part of a sack is counted in buckets
                measure, size = own.measure, own_size
        elif litres > _BUCKETS_AT_MOST * size:
            measure, size = "wheelbarrow", measure_figure("wheelbarrow", self._measures, self.knowledge).typical
        count = litres / size
        step = 0.5 if count <= _HALVES_UP_TO else 1.0
        return max(step, round(count / step) * step), size, self.knowledge.measures[measure].name

    @property
    def _measures(self) -> Household:
        return self.household or Household("nobody")

    def _litres(self, litres: float) -> str:
        return volume_text(litres, self.units)


def _once(lot: Lot) -> float:
    """What a weekly lot's litres have to be multiplied by to be those of the count as told."""
    return {"once": 1.0, "day": 1 / 7, "week": 1.0, "month": 52.1775 / 12}[lot.holding.quantity.per]


def _kg(way: Callable[[tuple[Part, ...]], float], parts: tuple[Part, ...]) -> float:
    try:
        return way(parts)
    except CannotBeMet:
        return 0.0
