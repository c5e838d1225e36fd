"""The mix as it is told: its C:N, moisture, air and weight, and how much of what brings it to a goal.

Nothing here chooses or rounds: exactly this mix is worked out, whatever comes of it. The functions take plain values
and return frozen ones, so that a command, a page and the talk can all ask. own_mix_lines.py puts them into words.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from advisor.blend import mix
from advisor.blend.mix import CannotBeMet
from advisor.blend.shapes import Composition, Part
from advisor.blend.spread import BlendFigures, Portion, figures, typical_part
from advisor.counsel.plan import What
from advisor.counsel.stock import lots, material_of
from advisor.household.parts import PartTold
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

#: The figures of rules/figures.toml between which each figure of a mix is acceptable, and between which it is best. Air
#: is that of the mix as tipped, so only its lower edge says anything.
ACCEPTABLE: Mapping[What, str] = {
    "carbon-nitrogen": "mix-carbon-nitrogen",
    "moisture": "mix-moisture-pct",
    "air-space": "mix-air-space-pct",
}
PREFERRED: Mapping[What, str] = {
    "carbon-nitrogen": "mix-preferred-carbon-nitrogen",
    "moisture": "mix-preferred-moisture-pct",
}
#: A mix told in parts is shown for so much of it: litres, or kilograms.
_PER = 100.0


@dataclass(frozen=True, slots=True)
class Ingredient:
    """So much of a material in a mix, with the portion as told."""

    portion: Portion
    name: str
    own: bool = False
    stands_for: str = ""

    @property
    def part(self) -> Part:
        """Its typical mass."""
        return typical_part(self.portion)


@dataclass(frozen=True, slots=True)
class Goals:
    """What the mix is to come to. Moisture in %."""

    carbon_nitrogen: float
    moisture_pct: float
    least_air_pct: float

    @classmethod
    def usual(cls, knowledge: Knowledge, carbon_nitrogen: float | None = None, moisture: float | None = None) -> Goals:
        """The goals where nobody says otherwise, with those that somebody did say."""
        usual = knowledge.figures
        return cls(
            usual[ACCEPTABLE["carbon-nitrogen"]].typical if carbon_nitrogen is None else carbon_nitrogen,
            usual[ACCEPTABLE["moisture"]].typical if moisture is None else moisture,
            usual[ACCEPTABLE["air-space"]].low,
        )


@dataclass(frozen=True, slots=True)
class Dose:
    """So much of a second material, with what the mix then comes to. `refused` says why none would do."""

    material: str
    goal: What
    kilograms: float = 0.0
    litres: float = 0.0
    water_l: float = 0.0
    carbon_nitrogen: float = math.nan
    moisture_pct: float = math.nan
    air_space_pct: float = math.nan
    refused: str = ""


# ---------------------------------------------------------------- what was told


def from_amounts(household: Household, knowledge: Knowledge) -> tuple[Ingredient, ...]:
    """The mix of everything a household holds; what comes in each week counts as one week's."""
    return tuple(
        Ingredient(lot.portion, lot.material.name, lot.material_id in household.own)
        for lot in lots(household, knowledge)
    )


def from_parts(
    told: Sequence[PartTold], household: Household, knowledge: Knowledge, *, by_weight: bool = False
) -> tuple[Ingredient, ...]:
    """The mix of so many parts each, by volume or by weight, for 100 litres or 100 kg of it."""
    whole = math.fsum(part.parts for part in told)
    return tuple(
        Ingredient(
            Portion(
                part.material,
                material_of(part.material, household, knowledge),
                _PER * part.parts / whole,
                "kg" if by_weight else "L",
            ),
            knowledge.materials[part.material].name,
            part.material in household.own,
            part.stands_for,
        )
        for part in told
    )


# ---------------------------------------------------------------- the arithmetic


def comes_to(ingredients: Sequence[Ingredient], water_l: float = 0.0) -> BlendFigures:
    """What exactly this mix comes to, with its ranges."""
    return figures([each.portion for each in ingredients], water_l=water_l)


def water_for(ingredients: Sequence[Ingredient], moisture_pct: float) -> float:
    """Litres of water that bring a mix to a moisture in %; 0 if it is as wet already."""
    return mix.water_to_add_kg([each.part for each in ingredients], moisture_pct)


def scaled(ingredients: Sequence[Ingredient], litres: float) -> tuple[Ingredient, ...]:
    """The same mix, as much of it as fills so many litres as tipped."""
    factor = litres / mix.volume_l([each.part for each in ingredients])
    return tuple(replace(each, portion=_times(each.portion, factor)) for each in ingredients)


def dose_for_cn(parts: Sequence[Part], material_id: str, second: Composition, goals: Goals) -> Dose:
    """How much of a second material brings a mix to a C:N, and the water it then asks for."""
    try:
        kilograms = mix.second_for_cn(parts, second, goals.carbon_nitrogen)
    except CannotBeMet as refused:
        return Dose(material_id, "carbon-nitrogen", refused=_said(refused))
    return _dosed(parts, material_id, second, kilograms, "carbon-nitrogen", goals)


def dose_for_moisture(parts: Sequence[Part], material_id: str, second: Composition, goals: Goals) -> Dose:
    """How much of a second material brings a mix to a moisture."""
    try:
        kilograms = mix.second_for_moisture(parts, second, goals.moisture_pct)
    except CannotBeMet as refused:
        return Dose(material_id, "moisture", refused=_said(refused))
    return _dosed(parts, material_id, second, kilograms, "moisture", goals)


def best_dose(doses: Iterable[Dose], goals: Goals) -> Dose | None:
    """Of several doses the one whose mix is nearest the moisture aimed at and has air; then the lightest to carry."""
    able = [dose for dose in doses if not dose.refused]

    def rank(dose: Dose) -> tuple[bool, float, float]:
        too_wet = max(0.0, dose.moisture_pct - goals.moisture_pct)
        return dose.air_space_pct < goals.least_air_pct, round(too_wet), dose.kilograms

    return min(able, key=rank, default=None)


def _dosed(
    parts: Sequence[Part], material_id: str, second: Composition, kilograms: float, goal: What, goals: Goals
) -> Dose:
    together = [*parts, Part(second, kilograms)]
    water = mix.water_to_add_kg(together, goals.moisture_pct)
    return Dose(
        material_id,
        goal,
        kilograms,
        kilograms / second.density_kg_m3 * 1000.0,
        water,
        mix.carbon_nitrogen(together),
        mix.moisture_pct(together, water),
        mix.free_air_space_pct(together, water),
    )


def _said(refused: CannotBeMet) -> str:
    return f"{refused.message}; {refused.hint}" if refused.hint else refused.message


def _times(portion: Portion, factor: float) -> Portion:
    low, high = portion.count_low, portion.count_high
    return replace(
        portion,
        count=portion.count * factor,
        count_low=None if low is None else low * factor,
        count_high=None if high is None else high * factor,
    )
