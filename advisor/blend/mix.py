"""Blends of several materials: C:N, moisture, air, volume, and how much of a second material reaches a goal.

Every function is exact arithmetic on its arguments and knows nothing of ranges (spread.py does). A blend is a
sequence of `Part`, each so many wet kg of one `Composition`; `water_kg` is water added on top, which fills
pores and takes no room. A blend of nothing has mass, volume and moisture 0, no nitrogen, and is all air.

Two traps of printed advice are avoided. C:N figures of parts are never averaged: carbon and nitrogen are
summed, and divided once. Shares of dry mass never meet shares of wet mass: all is put on dry mass first.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from advisor.blend.sample import constituent_kg
from advisor.blend.shapes import Composition, Part
from advisor.errors import HeapwrightError

#: Densities of what a heap is made of, in kg/m3: water, organic matter, ash (air-space-comparison).
WATER_KG_M3 = 1000.0
ORGANIC_KG_M3 = 1600.0
ASH_KG_M3 = 2500.0

#: Water, as a material to add.
WATER = Composition(nitrogen_pct=0.0, carbon_pct=0.0, moisture_pct=100.0, density_kg_m3=WATER_KG_M3)

_L_PER_M3 = 1000.0

#: Two sides of a balance that differ by less than this share of themselves differ by rounding alone.
_ROUNDING = 1e-12


class CannotBeMet(HeapwrightError):
    """No amount of what was offered brings the blend to the goal; the message says why."""


# ---------------------------------------------------------------- what a blend is


def mass_kg(parts: Sequence[Part], water_kg: float = 0.0) -> float:
    """Wet mass in kg.

    Source: definition.

    >>> mass_kg([Part(Composition(2.4, 45, 77, 210), 10)], water_kg=2)
    12.0
    """
    return math.fsum(part.kg for part in parts) + water_kg


def dry_kg(parts: Sequence[Part]) -> float:
    """Dry matter in kg: what an oven would leave.

    Source: cornell-mix-formula.

    >>> round(dry_kg([Part(Composition(2.4, 45, 77, 210), 10)]), 6)  # grass, 77 % water
    2.3
    """
    return math.fsum(_of_dry_kg(part, 100.0) for part in parts)


def nitrogen_kg(parts: Sequence[Part]) -> float:
    """Nitrogen in kg.

    Source: cornell-mix-formula.

    >>> round(nitrogen_kg([Part(Composition(2.4, 45, 77, 210), 10)]), 6)
    0.0552
    """
    return math.fsum(_of_dry_kg(part, part.composition.nitrogen_pct) for part in parts)


def carbon_kg(parts: Sequence[Part]) -> float:
    """Carbon in kg.

    Source: cornell-mix-formula.

    >>> round(carbon_kg([Part(Composition(2.4, 45, 77, 210), 10)]), 6)
    1.035
    """
    return math.fsum(_of_dry_kg(part, part.composition.carbon_pct) for part in parts)


def ash_kg(parts: Sequence[Part]) -> float:
    """Ash in kg: the mineral share of the dry matter.

    Source: a mass balance.

    >>> ash_kg([Part(Composition(2.0, 40, 50, 400, ash_pct=20), 10)])
    1.0
    """
    return math.fsum(_of_dry_kg(part, part.composition.ash_pct) for part in parts)


def carbon_nitrogen(parts: Sequence[Part]) -> float:
    """C:N of a blend by mass: all its carbon over all its nitrogen. Added water leaves it alone.

    Infinite when there is no nitrogen at all, as in nothing, or in lime alone; never an error.
    Source: cornell-mix-formula; the example is from memory of cornell-cn-memory, which rounds it to 37.

    >>> grass, leaves = Composition(2.4, 45, 77, 210), Composition(0.75, 50, 35, 100)
    >>> round(carbon_nitrogen([Part(grass, 10), Part(leaves, 6.8)]), 2)
    36.73
    """
    nitrogen = nitrogen_kg(parts)
    return carbon_kg(parts) / nitrogen if nitrogen > 0 else math.inf


def nitrogen_pct(parts: Sequence[Part]) -> float:
    """Nitrogen of a blend in % of its dry mass; 0 when there is no dry matter.

    Source: cornell-mix-formula.

    >>> hay, urea = Composition(1.0, 45, 20, 80), Composition(44, 20, 0, 750)
    >>> round(nitrogen_pct([Part(hay, 10), Part(urea, 0.1)]), 2)
    1.53
    """
    dry = dry_kg(parts)
    return 100.0 * nitrogen_kg(parts) / dry if dry > 0 else 0.0


def moisture_pct(parts: Sequence[Part], water_kg: float = 0.0) -> float:
    """Moisture of a blend in % of its wet mass, with the water added; 0 for nothing.

    Source: cornell-moisture-goal.

    >>> grass, leaves = Composition(2.4, 45, 77, 210), Composition(0.75, 50, 35, 100)
    >>> round(moisture_pct([Part(grass, 10), Part(leaves, 6.8)]), 6)
    60.0
    """
    mass = mass_kg(parts, water_kg)
    return 100.0 * _all_water_kg(parts, water_kg) / mass if mass > 0 else 0.0


def volume_l(parts: Sequence[Part]) -> float:
    """Litres a blend takes up as piled: the volumes of its parts, summed.

    An upper estimate: fine stuff settles between coarse, so a real blend is smaller. Added water takes no
    room while there are pores for it. Valid for densities above 0.
    Source: a volume balance.

    >>> volume_l([Part(Composition(2.4, 45, 77, 200), 10), Part(Composition(0.75, 50, 35, 100), 5)])
    100.0
    """
    return math.fsum(part.kg / part.composition.density_kg_m3 for part in parts) * _L_PER_M3


def bulk_density_kg_m3(parts: Sequence[Part], water_kg: float = 0.0) -> float:
    """Bulk density of a blend in kg/m3 as piled; 0 for nothing.

    A lower estimate, as the volume is an upper one.
    Source: definition.

    >>> bulk_density_kg_m3([Part(Composition(2.4, 45, 77, 200), 10)], water_kg=5)
    300.0
    """
    volume = volume_l(parts)
    return mass_kg(parts, water_kg) / volume * _L_PER_M3 if volume > 0 else 0.0


def free_air_space_pct(parts: Sequence[Part], water_kg: float = 0.0) -> float:
    """Free air space in % of the volume: what water, organic matter and ash leave, each at its own density.

    Added water fills pores; at 0 they are full and more would run out. Valid for a heap as tipped, before it
    settles; an upper estimate, as the volume is. 100 for nothing.
    Source: air-space-comparison (densities 1000, 1600 and 2500 kg/m3).

    >>> round(free_air_space_pct([Part(Composition(2.0, 40, 60, 600, ash_pct=20), 600)]), 2)
    50.08
    """
    volume = volume_l(parts)
    if volume <= 0:
        return 100.0
    ash = ash_kg(parts)
    water_l = _all_water_kg(parts, water_kg) / WATER_KG_M3 * _L_PER_M3
    solid_l = ((dry_kg(parts) - ash) / ORGANIC_KG_M3 + ash / ASH_KG_M3) * _L_PER_M3
    return max(0.0, 100.0 * (1.0 - (water_l + solid_l) / volume))


def blended(parts: Sequence[Part], water_kg: float = 0.0) -> Part:
    """A blend as one part, for mixing it on: the same mass, water, carbon, nitrogen, ash and volume.

    Source: mass and volume balances.

    Raises:
        ValueError: there is nothing in it, so it has no composition.

    >>> grass, leaves = Composition(2.0, 40, 80, 200), Composition(1.0, 50, 60, 200)
    >>> round(blended([Part(grass, 1), Part(leaves, 1)]).composition.moisture_pct, 6)
    70.0
    """
    if mass_kg(parts) <= 0:
        raise ValueError("a blend of nothing has no composition")
    dry = dry_kg(parts)
    per_dry = 100.0 / dry if dry > 0 else 0.0
    composition = Composition(
        nitrogen_pct=nitrogen_kg(parts) * per_dry,
        carbon_pct=carbon_kg(parts) * per_dry,
        moisture_pct=moisture_pct(parts, water_kg),
        density_kg_m3=bulk_density_kg_m3(parts, water_kg),
        ash_pct=ash_kg(parts) * per_dry,
    )
    return Part(composition, mass_kg(parts, water_kg))


# ---------------------------------------------------------------- what brings it to a goal


def water_to_add_kg(parts: Sequence[Part], goal_pct: float) -> float:
    """Water to add, in kg or litres, for a moisture goal in % of wet mass; 0 if it is as wet already.

    Source: cornell-moisture-goal, with water as the second material.

    Raises:
        CannotBeMet: the goal is 100 % or more.

    >>> water_to_add_kg([Part(Composition(0.6, 45, 40, 100), 100)], 60)
    50.0
    """
    if moisture_pct(parts) >= goal_pct:
        return 0.0
    return second_for_moisture(parts, WATER, goal_pct)


def second_for_moisture(first: Sequence[Part], second: Composition, goal_pct: float) -> float:
    """Kilograms of a second material that bring a blend to a moisture in % of wet mass.

    From the balance of water, m1 (G - w1) / (w2 - G); valid when the goal lies between the two moistures.
    0 if the blend is there already.
    Source: cornell-moisture-goal.

    Raises:
        CannotBeMet: both lie on the same side of the goal.

    >>> grass, leaves = Composition(2.4, 45, 77, 210), Composition(0.75, 50, 35, 100)
    >>> second_for_moisture([Part(grass, 10)], leaves, 60)
    6.8
    """
    wanted, there = goal_pct * mass_kg(first), 100.0 * _all_water_kg(first, 0.0)
    lacking, brings = wanted - there, second.moisture_pct - goal_pct
    if _alike(wanted, there):
        return 0.0
    if lacking * brings > 0:
        return lacking / brings
    has = f"what you have ({moisture_pct(first):.3g} %)"
    adds = f"what would be added ({second.moisture_pct:.3g} %)"
    raise CannotBeMet(
        _refusal(f"a moisture of {goal_pct:g} %", _why_not(has, adds, lacking, brings)),
        hint=f"add something {'wetter' if lacking > 0 else 'drier'} than {goal_pct:g} %",
    )


def second_for_cn(first: Sequence[Part], second: Composition, goal: float) -> float:
    """Kilograms of a second material that bring a blend to a C:N.

    From the balance of carbon and nitrogen on dry mass; valid when the goal lies between the two C:N.
    0 if the blend is there already. Its moisture comes out as it may.
    Source: cornell-cn-memory; follows from cornell-mix-formula.

    Raises:
        CannotBeMet: both lie on the same side of the goal, or the second brings neither carbon nor nitrogen.

    >>> grass, leaves = Composition(2.4, 45, 77, 210), Composition(0.75, 50, 35, 100)
    >>> round(second_for_cn([Part(grass, 10)], leaves, 30), 3)
    3.474
    """
    wanted, there = goal * nitrogen_kg(first), carbon_kg(first)
    lacking, brings = wanted - there, _surplus_carbon(second, goal)
    if _alike(wanted, there):
        return 0.0
    if lacking * brings > 0:
        return lacking / brings
    unit = [Part(second, 1.0)]
    has = f"what you have ({_ratio(carbon_nitrogen(first))})"
    adds = f"what would be added ({_ratio(carbon_nitrogen(unit))})"
    inert = carbon_kg(unit) == nitrogen_kg(unit) == 0
    reason = "what would be added has neither carbon nor nitrogen" if inert else _why_not(has, adds, lacking, brings)
    raise CannotBeMet(
        _refusal(f"a C:N of {goal:g}", reason),
        hint=f"add something with a C:N {'above' if lacking > 0 else 'below'} {goal:g}",
    )


def both_at_once(
    first: Sequence[Part],
    second: Composition,
    third: Composition = WATER,
    *,
    goal_cn: float,
    goal_moisture_pct: float,
) -> tuple[float, float]:
    """Kilograms of a second and a third material that bring a blend to a C:N and a moisture together.

    Two linear balances in two unknowns: of water, and of carbon against nitrogen. Water suits a dry mix, for
    it leaves C:N alone; a wet mix needs something dry as the third.
    Source: cornell-simultaneous.

    Raises:
        CannotBeMet: an amount would be negative, or the two do not steer moisture and C:N apart.

    >>> grass, leaves = Composition(4.0, 44, 80, 210), Composition(0.6, 45, 10, 60)
    >>> leaves_kg, water_kg = both_at_once([Part(grass, 10)], leaves, goal_cn=30, goal_moisture_pct=60)
    >>> round(leaves_kg, 3), round(water_kg, 3)
    (6.255, 2.819)
    """
    goals = f"a C:N of {goal_cn:g} together with a moisture of {goal_moisture_pct:g} %"
    wanted_water, water = goal_moisture_pct * mass_kg(first), 100.0 * _all_water_kg(first, 0.0)
    wanted_carbon, carbon = goal_cn * nitrogen_kg(first), carbon_kg(first)
    if _alike(wanted_water, water) and _alike(wanted_carbon, carbon):
        return 0.0, 0.0
    lacking_water, lacking_carbon = wanted_water - water, wanted_carbon - carbon
    water_2, water_3 = second.moisture_pct - goal_moisture_pct, third.moisture_pct - goal_moisture_pct
    carbon_2, carbon_3 = _surplus_carbon(second, goal_cn), _surplus_carbon(third, goal_cn)
    plus, minus = water_2 * carbon_3, water_3 * carbon_2
    if _alike(plus, minus):
        # The two pull along one line: if the goals lie on it, one of them alone will do.
        if lacking_water * water_2 > 0 and _alike(lacking_water * carbon_2, lacking_carbon * water_2):
            return lacking_water / water_2, 0.0
        if lacking_water * water_3 > 0 and _alike(lacking_water * carbon_3, lacking_carbon * water_3):
            return 0.0, lacking_water / water_3
        reason = "the two to be added do not steer moisture and C:N apart"
        raise CannotBeMet(_refusal(goals, reason), hint="change one of them for another")
    second_kg = (lacking_water * carbon_3 - water_3 * lacking_carbon) / (plus - minus)
    third_kg = (water_2 * lacking_carbon - lacking_water * carbon_2) / (plus - minus)
    slack_kg = 1e-9 * mass_kg(first)
    for kg, name, added in ((second_kg, "second", second), (third_kg, "third", third)):
        if kg < -slack_kg:
            is_water = added.moisture_pct >= 100.0
            what = "water" if is_water else f"the {name} material"
            reason = f"{-kg:.3g} kg of {what} would have to be taken out"
            advice = "add something dry instead of water" if is_water else "change one of them for another"
            raise CannotBeMet(_refusal(goals, reason), hint=advice)
    return max(0.0, second_kg), max(0.0, third_kg)


# ---------------------------------------------------------------- within


def _alike(one: float, other: float) -> bool:
    return math.isclose(one, other, rel_tol=_ROUNDING)


def _of_dry_kg(part: Part, of_dry_pct: float) -> float:
    return constituent_kg(part.kg, of_dry_pct, part.composition.moisture_pct)


def _all_water_kg(parts: Sequence[Part], added_kg: float) -> float:
    return math.fsum(part.kg * part.composition.moisture_pct / 100.0 for part in parts) + added_kg


def _surplus_carbon(material: Composition, goal_cn: float) -> float:
    """Carbon in kg per wet kg beyond what its own nitrogen calls for at the goal; negative if short of it."""
    return constituent_kg(1.0, material.carbon_pct - goal_cn * material.nitrogen_pct, material.moisture_pct)


def _ratio(carbon_nitrogen: float) -> str:
    return "no nitrogen" if math.isinf(carbon_nitrogen) else f"{carbon_nitrogen:.3g}"


def _refusal(goal: str, reason: str) -> str:
    return f"{goal} cannot be met with what you have, because {reason}"


def _why_not(has: str, adds: str, lacking: float, brings: float) -> str:
    side = "below" if lacking > 0 else "above"
    if brings == 0:
        return f"{has} lies {side} it and {adds} only just reaches it"
    return f"{has} and {adds} both lie {side} it"
