"""How much of it: browns, greens, water or bulk, worked out from what is in the heap and what is on hand.

Where nobody has said what went in, the dose is a small one, and it says so: look again in three days.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from advisor.blend import mix
from advisor.blend.mix import CannotBeMet
from advisor.blend.shapes import Composition, Part
from advisor.blend.spread import typical
from advisor.counsel.stock import Lot, measure_figure
from advisor.counsel.wording import counted
from advisor.diagnosis.account import Account, on_hand
from advisor.diagnosis.shapes import Dose
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.units import Units, length_text, volume_text

#: Taken where the household has nothing of its own to give.
USUAL = {"brown": "dry-leaves", "green": "grass-clippings"}
#: Up to so many measures are counted in halves, and more in whole ones.
_HALVES_UP_TO = 8
#: More buckets than this are counted in barrows.
_BUCKETS_AT_MOST = 12
_LOOK_AGAIN = "look again in 3 days before you give more"


@dataclass(frozen=True, slots=True)
class Apothecary:
    """Works out doses for one heap."""

    account: Account | None
    household: Household | None
    knowledge: Knowledge
    units: Units
    causes: frozenset[str]  # those that stand

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
            return self._first_dose(material, lot, "as much again as there is of the wet or smelly part, {name}")
        composition = typical(self.knowledge.materials[material])
        wanted = max(self._for_balance(composition), self._for_dryness(composition))
        return self._measured(material, lot, composition, wanted, "as it is in balance by your account, {name}")

    def greens(self) -> Dose:
        """Greens for a heap that is short of nitrogen."""
        lot, material = self._choice("green")
        if self.account is None:
            return self._first_dose(material, lot, "one part to three parts of browns, {name} or other fresh greens")
        composition = typical(self.knowledge.materials[material])
        wanted = self._for_balance(composition) if self.account.carbon_nitrogen > self._aim_cn else 0.0
        return self._measured(material, lot, composition, wanted, "as it is rich enough by your account, {name}")

    def water(self) -> Dose:
        """Water for a dry heap."""
        can = measure_figure("watering-can", self._measures, self.knowledge).typical
        if self.account is None:
            litres = self.knowledge.figures["unturned-barrow-water-litres"].typical
            text = f"about {self._litres(litres)} of water for each wheelbarrow of it, a can at a time ({_LOOK_AGAIN})"
            return Dose(material="water", name="water", litres=litres, text=text, known=False)
        goal = self.knowledge.figures["cure-moisture-pct"].typical
        before = self.account.moisture_pct
        litres = mix.water_to_add_kg(self.account.parts, goal)
        if litres <= 0:
            text = f"a can of water for each barrow, no more: by your account it is moist enough ({_LOOK_AGAIN})"
            return Dose(material="water", name="water", litres=can, text=text, known=False)
        cans = max(1, round(litres / can))
        change = f"brings moisture from about {before:.0f} to {goal:.0f} %"
        each = "a can at a time" if cans == 1 else f"a can at a time, about {cans} cans"
        text = f"{self._litres(litres)} of water, {each} ({change})"
        return Dose(
            material="water",
            name="water",
            litres=litres,
            text=text,
            known=True,
            moisture_before_pct=before,
            moisture_after_pct=goal,
        )

    def volume(self) -> Dose:
        """More stuff for a heap that is too small."""
        goal = self.knowledge.figures["smallest-hot-heap-litres"].high
        barrow = measure_figure("wheelbarrow", self._measures, self.knowledge).typical
        across = length_text(math.cbrt(goal / 1000), self.units)
        if self.account is None:
            whole = counted(round(goal / barrow), "barrow")
            text = f"bring it to {across} each way, which is about {whole} in all, greens and browns mixed"
            return Dose(material="", name="mixed greens and browns", litres=goal, text=text, known=False)
        lacking = goal - self.account.litres
        if lacking < barrow / 2:
            text = f"heap up what has slumped, to {across} each way: by your account there is enough of it"
            return Dose(material="", name="what is there", litres=0.0, text=text, known=True)
        more = counted(max(1, round(lacking / barrow)), "barrow")
        text = f"make it {across} each way: about {more} more, greens and browns mixed"
        return Dose(material="", name="mixed greens and browns", litres=lacking, text=text, known=True)

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

    def _measured(self, material: str, lot: Lot | None, composition: Composition, kg: float, otherwise: str) -> Dose:
        assert self.account is not None
        if kg <= 0:
            return self._first_dose(material, lot, otherwise)
        litres = kg / composition.density_kg_m3 * 1000
        count, size, measure = self._count(litres, lot)
        litres = count * size
        parts = [*self.account.parts, Part(composition, litres / 1000 * composition.density_kg_m3)]
        before, after = self.account.carbon_nitrogen, mix.carbon_nitrogen(parts)
        wet, drier = self.account.moisture_pct, mix.moisture_pct(parts)
        name = self.knowledge.materials[material].name
        moved = [] if math.isinf(before) else [f"C:N from about {before:.0f} to {after:.0f}"]
        if abs(wet - drier) >= 1:
            moved.append(f"moisture from about {wet:.0f} to {drier:.0f} %")
        text = f"{counted(count, measure)} of {name} (brings {' and '.join(moved)})"
        if lot is not None and lot.due_litres < 0.9 * litres:
            text += f", of which you have {self._litres(lot.due_litres)}"
        return Dose(
            material=material,
            name=name,
            litres=litres,
            text=text,
            known=True,
            carbon_nitrogen_before=None if math.isinf(before) else before,
            carbon_nitrogen_after=after,
            moisture_before_pct=wet,
            moisture_after_pct=drier,
        )

    def _first_dose(self, material: str, lot: Lot | None, words: str) -> Dose:
        name = self.knowledge.materials[material].name
        size = measure_figure("bucket", self._measures, self.knowledge).typical
        text = f"{words.format(name=name)}; begin with 2 buckets, and {_LOOK_AGAIN}"
        if lot is not None:
            text += f" (you have {self._litres(lot.due_litres)})"
        return Dose(material=material, name=name, litres=2 * size, text=text, known=False)

    def _choice(self, role: str) -> tuple[Lot | None, str]:
        held = on_hand(self.household, self.knowledge, role)
        return (held[0], held[0].material_id) if held else (None, USUAL[role])

    def _count(self, litres: float, lot: Lot | None) -> tuple[float, float, str]:
        """How many of which measure, and what one holds: the household's own measure where it has one."""
        measure, size = "bucket", measure_figure("bucket", self._measures, self.knowledge).typical
        own = lot.holding.quantity if lot is not None else None
        if lot is not None and own is not None and own.measure not in ("L", "kg") and own.count > 0:
            measure, size = own.measure, lot.litres.typical / own.count * _once(lot)
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
