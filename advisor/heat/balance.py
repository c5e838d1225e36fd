"""The heat balance of a heap as one well mixed body, for many draws at once.

Heat stored = heat of decay - moist air - walls, with decay of two pools by first order, k = k_best · f(T) · f(moisture)
· f(oxygen) · f(air space) · f(C:N): the lumped balance of Haug, The Practical Handbook of Compost Engineering, 1993
(haug-1993), with the temperature correction of cardinal temperatures. A review of such models (mason-2006-review) found
first order with empirical corrections the best of those published, and none within 5 K of the measured peak.

Heat is kept as enthalpy over dry matter and liquid water at 0 °C, so that a frozen heap thaws at 0 °C. It is stepped by
Heun's method. Its own draught is a chimney's: it grows with the lack of density of warm moist air (the stack effect).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from advisor.heat import rates
from advisor.heat.air import OXYGEN_BY_MASS, Floats, density, enthalpy, vapour
from advisor.heat.shapes import Heap, Physics, Policy, Run

WATER_KJ_KG_K: Final = 4.18
ICE_KJ_KG_K: Final = 2.1
MELTING_KJ_KG: Final = 334.0  # these three from general tables, from memory

#: The draught is given for this heap and this air, in °C.
_WARM, _COOL = np.array(55.0), np.array(10.0)
_INLET_HUMIDITY = 0.7
#: Steps in days while it may be rising, and later; a step is never longer than this over its fastest loss.
_STEP, _LATER_STEP, _RISING_DAYS = 0.05, 0.125, 8.0
_STABLE = 1.0
#: A peak counts for turning once it is hotter than this by draw 0.
_WARMED_C = 40.0
#: A heap that is fed begins with the food of so many days.
_FIRST_DAYS = 3.0

Weather = Callable[[float], Floats]


def temperature(heat: Floats, dry_kg: Floats, water_kg: Floats, dry_kj_kg_k: Floats) -> Floats:
    """°C of a body whose heat is given in kJ over dry matter and liquid water at 0 °C; ice counts below."""
    melted = heat + MELTING_KJ_KG * water_kg
    warm = np.maximum(heat, 0.0) / (dry_kj_kg_k * dry_kg + WATER_KJ_KG_K * water_kg)
    frozen = np.minimum(melted, 0.0) / (dry_kj_kg_k * dry_kg + ICE_KJ_KG_K * water_kg)
    result: Floats = warm + frozen
    return result


def heat_of(celsius: Floats, dry_kg: Floats, water_kg: Floats, dry_kj_kg_k: Floats) -> Floats:
    """The heat of a body at a temperature, the inverse of `temperature`; at exactly 0 °C it is thawed."""
    warm = celsius * (dry_kj_kg_k * dry_kg + WATER_KJ_KG_K * water_kg)
    cold = celsius * (dry_kj_kg_k * dry_kg + ICE_KJ_KG_K * water_kg) - MELTING_KJ_KG * water_kg
    return np.where(celsius >= 0, warm, cold)


@dataclass(slots=True)
class _State:
    """Pools, water and heat, and what was made and lost so far; all arrays over draws."""

    fast: Floats
    slow: Floats
    inert: Floats
    water: Floats
    heat: Floats
    made: Floats
    wall: Floats
    vent: Floats
    brought: Floats

    def plus(self, change: tuple[Floats, ...], days: float) -> _State:
        named = (self.fast, self.slow, self.inert, self.water, self.heat, self.made, self.wall, self.vent, self.brought)
        fast, slow, inert, water, *rest = (now + days * rate for now, rate in zip(named, change, strict=True))
        return _State(np.maximum(fast, 0.0), np.maximum(slow, 0.0), inert, np.maximum(water, 0.0), *rest)

    @property
    def dry(self) -> Floats:
        return self.fast + self.slow + self.inert


class Balance:
    """The rates of change of one heap in its weather. `weather` gives °C of the air on a day, for each draw."""

    def __init__(self, heap: Heap, physics: Physics, weather: Weather) -> None:
        self.heap, self.physics, self.weather = heap, physics, weather
        self.fixed = rates.openness(heap.air_share) * rates.richness(
            heap.carbon_nitrogen, physics.cn_slowing, physics.cn_floor
        )
        self.full_lack = density(_COOL, _INLET_HUMIDITY * vapour(_COOL)) - density(_WARM, vapour(_WARM))
        self.draws = np.broadcast_shapes(*(np.shape(getattr(heap, name)) for name in _ARRAYS), np.shape(weather(0.0)))

    def start(self) -> _State:
        """The heap as built, or the first days' food of one that is fed."""
        heap = self.heap
        share = 1.0 if heap.fed_days <= 0 else min(1.0, _FIRST_DAYS / heap.fed_days)
        ones = np.ones(self.draws)
        fast, slow, inert, water = (
            ones * share * part for part in (heap.fast_kg, heap.slow_kg, heap.inert_kg, heap.water_kg)
        )
        celsius = self.weather(0.0) if heap.start_c is None else np.asarray(heap.start_c)
        zeros = np.zeros(self.draws)
        heat = heat_of(ones * celsius, fast + slow + inert, water, self.physics.dry_kj_kg_k)
        return _State(fast, slow, inert, water, heat, zeros, zeros, zeros, zeros)

    def feeding(self, day: float) -> float:
        """The share of all that goes in that comes in a day."""
        fed = self.heap.fed_days
        return (1.0 - _FIRST_DAYS / fed) / fed if fed > _FIRST_DAYS and day < fed else 0.0

    def filled(self, day: float) -> float:
        """The share of all that goes in that has come, by volume."""
        fed = self.heap.fed_days
        if fed <= _FIRST_DAYS:
            return 1.0
        first = _FIRST_DAYS / fed
        return min(1.0, first + (1.0 - first) * day / fed)

    def change(self, day: float, state: _State, draught: Floats) -> tuple[tuple[Floats, ...], Floats]:
        """The rates of change of a state in the order of its fields, per day, and the factor of oxygen.

        Args:
            draught: the share of its own draught that settling leaves.
        """
        heap, physics = self.heap, self.physics
        dry, water = state.dry, state.water
        celsius = temperature(state.heat, dry, water, physics.dry_kj_kg_k)
        air_c = self.weather(day)
        wet = water / (water + dry)
        inlet = _INLET_HUMIDITY * vapour(air_c)
        outlet = np.maximum(vapour(celsius) * np.minimum(wet / physics.dry_from, 1.0), inlet)
        lack = np.maximum(density(air_c, inlet) - density(celsius, outlet), 0.0) / self.full_lack
        filled = self.filled(day)
        flow = filled * (heap.drawn_kg_day * draught * lack + heap.seeping_kg_day) + heap.blown_kg_day
        speed = (
            self.fixed
            * rates.moistness(wet)
            * rates.warmth(celsius, physics.least_c, physics.best_c, physics.most_c, physics.mild)
        )
        fast, slow = state.fast * (speed * heap.fast_per_day), state.slow * (speed * heap.slow_per_day)
        needed = (fast + slow) * physics.oxygen_kg_kg / np.maximum(OXYGEN_BY_MASS * flow, 1e-9)
        breathing = rates.oxygen(needed)
        fast, slow = fast * breathing, slow * breathing
        gone = fast + slow
        made = gone * (physics.heat_kj_kg + (WATER_KJ_KG_K * physics.water_made_kg_kg - physics.dry_kj_kg_k) * celsius)
        wall = filled ** (2 / 3) * heap.wall_kj_day_k * (celsius - air_c)
        vent = flow * (enthalpy(celsius, outlet) - enthalpy(air_c, inlet))
        drying = flow * (outlet - inlet)
        feed = self.feeding(day)
        zeros = np.zeros(self.draws)
        brought = zeros
        if feed:
            fed_dry = feed * (heap.fast_kg + heap.slow_kg + heap.inert_kg)
            start_c = air_c if heap.start_c is None else np.asarray(heap.start_c)
            brought = heat_of(start_c, fed_dry, feed * heap.water_kg, physics.dry_kj_kg_k)
        return (
            (
                feed * heap.fast_kg - fast,
                feed * heap.slow_kg - slow,
                feed * heap.inert_kg + zeros,
                feed * heap.water_kg + physics.water_made_kg_kg * gone - drying,
                made - wall - vent + brought,
                made,
                wall + zeros,
                vent,
                brought,
            ),
            breathing,
        )


_ARRAYS = (
    "fast_kg", "slow_kg", "inert_kg", "water_kg", "fast_per_day", "slow_per_day", "carbon_nitrogen", "air_share",
    "wall_kj_day_k", "drawn_kg_day", "blown_kg_day", "seeping_kg_day",
)  # fmt: skip


def run(heap: Heap, physics: Physics, weather: Weather, days: float, policy: Policy | None = None) -> Run:
    """The course of a heap from its building over so many days, for every draw at once."""
    balance, policy = Balance(heap, physics, weather), policy or Policy()
    state = balance.start()
    first_heat, wet_at_first = state.heat, heap.water_kg / (heap.water_kg + heap.fast_kg + heap.slow_kg + heap.inert_kg)
    rows: list[tuple[Floats, Floats, Floats, Floats]] = []
    moments, turned = [0.0], list[float]()
    since, peak = 0.0, -np.inf
    fixed = [day for day in sorted(policy.days) if day < days]
    longest = _longest_step(heap, physics)
    day, breathing = 0.0, np.ones(balance.draws)

    def note() -> Floats:
        celsius = temperature(state.heat, state.dry, state.water, physics.dry_kj_kg_k)
        wet = state.water / (state.water + state.dry)
        rows.append((celsius, state.fast / np.maximum(heap.fast_kg, 1e-12), wet, breathing))
        return celsius

    celsius = note()
    while day < days - 1e-9:
        step = min(_STEP if day < _RISING_DAYS or day - since < 2 else _LATER_STEP, longest, days - day)
        if fixed and day < fixed[0] - 1e-9:
            step = min(step, fixed[0] - day)
        ages = (day - since, day + step - since)
        draughts = [
            physics.settle_floor + (1.0 - physics.settle_floor) * np.exp(-age / physics.settle_days) for age in ages
        ]
        here, breathing = balance.change(day, state, draughts[0])
        there, _ = balance.change(day + step, state.plus(here, step), draughts[1])
        both = tuple(0.5 * (one + other) for one, other in zip(here, there, strict=True))
        state, day = state.plus(both, step), day + step
        celsius = temperature(state.heat, state.dry, state.water, physics.dry_kj_kg_k)
        peak = max(peak, float(celsius.flat[0]))
        due = bool(fixed) and day >= fixed[0] - 1e-9
        if due or _asks(policy, float(celsius.flat[0]), peak, day - since, len(turned)):
            fixed = fixed[1:] if due else fixed
            turned.append(round(day, 3))
            since, peak = day, -np.inf
            state = _turned(state, celsius, balance, day, wet_at_first if policy.waters else None)
        note()
        moments.append(day)
    celsius, left, wet, oxygen = (np.stack(np.broadcast_arrays(*part)) for part in zip(*rows, strict=True))
    return Run(
        days=np.array(moments),
        celsius=celsius,
        left=left,
        wet_share=wet,
        oxygen_factor=oxygen,
        turned=tuple(turned),
        made=state.made,
        brought=state.brought,
        lost_wall=state.wall,
        lost_air=state.vent,
        stored=state.heat - first_heat,
    )


def _asks(policy: Policy, celsius: float, peak: float, since: float, times: int) -> bool:
    """Whether draw 0 asks to be turned: it has cooled after a peak, or is too hot."""
    if policy.below_c is None or times >= policy.most or since < policy.apart_days:
        return False
    return celsius > policy.above_c or (peak > max(_WARMED_C, policy.below_c) and celsius < policy.below_c)


def _turned(state: _State, celsius: Floats, balance: Balance, day: float, wet: Floats | None) -> _State:
    """The heap just turned: mixed with its cool shell and the air, and watered back where it had dried."""
    air_c, physics = balance.weather(day), balance.physics
    cooled = air_c + physics.turning_keeps * (celsius - air_c)
    water = state.water
    if wet is not None:
        water = np.maximum(water, state.dry * wet / (1.0 - wet))
    heat = heat_of(cooled, state.dry, state.water, physics.dry_kj_kg_k)
    heat = heat + heat_of(np.maximum(air_c, 0.0), np.zeros_like(water), water - state.water, physics.dry_kj_kg_k)
    return _State(
        state.fast, state.slow, state.inert, water, heat, state.made, state.wall, state.vent,
        state.brought + heat - state.heat,
    )  # fmt: skip


def _longest_step(heap: Heap, physics: Physics) -> float:
    """Days in which the fastest draw, at 70 °C, would lose a fixed share of its heat: longer steps would sway."""
    dry = heap.fast_kg + heap.slow_kg + heap.inert_kg
    holds = physics.dry_kj_kg_k * dry + WATER_KJ_KG_K * heap.water_kg
    steepness = 35.0  # kJ per K and kg of dry air leaving saturated at 70 °C
    least = min(1.0, _FIRST_DAYS / heap.fed_days) if heap.fed_days > 0 else 1.0
    walls = heap.wall_kj_day_k * least ** (-1 / 3)  # faces shrink less than the volume
    loses = walls + steepness * (1.5 * heap.drawn_kg_day + heap.blown_kg_day + heap.seeping_kg_day)
    return float(np.min(_STABLE * holds / np.maximum(loses, 1e-9)))
