"""The heat balance: heat is kept, the limits are right, and another solver says the same."""

from __future__ import annotations

import time
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from advisor.heat import balance
from advisor.heat.air import Floats, density, enthalpy, vapour
from advisor.heat.balance import Balance, heat_of, run, temperature
from advisor.heat.rates import moistness, openness, oxygen, richness, warmth
from advisor.heat.shapes import Heap, Physics, Policy


def one(value: float) -> Floats:
    return np.array([value])


def air(celsius: float) -> balance.Weather:
    return lambda _: one(celsius)


def peak(heap: Heap, physics: Physics, celsius: float = 15.0, days: float = 12.0) -> float:
    return float(run(heap, physics, air(celsius), days).celsius.max())


@pytest.mark.parametrize("policy", [Policy(), Policy(days=(3.0, 9.5)), Policy(below_c=45, above_c=60, most=4)])
@pytest.mark.parametrize("fed_days", [0.0, 20.0])
def test_heat_is_kept_to_rounding(cubic_metre: Heap, physics: Physics, policy: Policy, fed_days: float) -> None:
    found = run(replace(cubic_metre, fed_days=fed_days), physics, air(12), 30, policy)
    went = found.stored + found.lost_wall + found.lost_air
    came = found.made + found.brought
    assert went == pytest.approx(came, rel=1e-9)
    assert found.made[0] > 1e5  # kJ: something happened
    # the heat that is stored is the heat of what is there at the end, worked out anew
    assert found.celsius.min() > 0


def test_without_decay_it_goes_to_the_heat_of_the_air(cubic_metre: Heap, physics: Physics) -> None:
    dead = replace(cubic_metre, fast_per_day=one(0), slow_per_day=one(0), start_c=60.0)
    found = run(dead, physics, air(10), 60)
    assert found.celsius[0, 0] == pytest.approx(60)
    assert np.all(np.diff(found.celsius[:, 0]) <= 1e-3)
    # it dries into the air and stays a little under it, as a wet-bulb thermometer does
    assert found.celsius[-1, 0] == pytest.approx(10, abs=1.5)


def test_without_loss_the_rise_is_the_heat_over_the_capacity(cubic_metre: Heap, physics: Physics) -> None:
    """With no wall and no air that cools, C dT = H times what decays; the ceiling of life is lifted for it."""
    closed = replace(
        cubic_metre,
        fast_kg=one(1.0),
        slow_kg=one(0.0),
        fast_per_day=one(5.0),
        wall_kj_day_k=one(0),
        drawn_kg_day=one(0),
        seeping_kg_day=one(0),
        # so much dry air that oxygen is there, at the heat of the heap, is left out: decay is not slowed
        blown_kg_day=one(0),
    )
    free = replace(physics, oxygen_kg_kg=one(0.0), most_c=one(99.0), best_c=one(80.0), water_made_kg_kg=one(0.0))
    found = run(closed, free, air(20), 30)
    gone = 1.0 - found.left[-1, 0]
    capacity = 1.2 * (1.0 - gone + 80) + 4.18 * 240
    rise = found.celsius[-1, 0] - 20
    assert gone == pytest.approx(1.0, abs=1e-3)
    assert rise == pytest.approx(18_000 * gone / capacity, rel=0.005)
    assert found.lost_wall[0] == 0
    assert found.lost_air[0] == 0


def test_more_is_hotter_in_the_middle_sizes(cubic_metre: Heap, physics: Physics) -> None:
    def sized(volume: float) -> Heap:
        grown = {name: getattr(cubic_metre, name) * volume for name in ("fast_kg", "slow_kg", "inert_kg", "water_kg")}
        faces = volume ** (2 / 3)
        return replace(
            cubic_metre,
            **grown,
            wall_kj_day_k=cubic_metre.wall_kj_day_k * faces / volume ** (1 / 3),
            drawn_kg_day=cubic_metre.drawn_kg_day * faces,
            seeping_kg_day=cubic_metre.seeping_kg_day * faces,
        )

    peaks = [peak(sized(volume), physics) for volume in (0.1, 0.3, 1.0, 3.0)]
    assert peaks == sorted(peaks)
    assert peaks[-1] - peaks[0] > 5


@pytest.mark.parametrize(
    ("change", "hotter"),
    [
        ({"wall_kj_day_k": one(2 * 86.4)}, True),  # insulated
        ({"water_kg": one(60)}, False),  # dry: 27 %
        ({"air_share": one(0.08)}, False),  # sodden
        ({"carbon_nitrogen": one(70)}, False),  # lean
        ({"fast_per_day": one(0.1)}, False),  # slow stuff
    ],
)
def test_each_thing_works_the_way_the_trade_says(
    cubic_metre: Heap, physics: Physics, change: dict[str, Floats], hotter: bool
) -> None:
    before, after = peak(cubic_metre, physics), peak(replace(cubic_metre, **change), physics)
    assert after > before if hotter else after < before


def test_a_frozen_heap_stays_at_nought_until_its_ice_has_gone(cubic_metre: Heap, physics: Physics) -> None:
    frozen = replace(cubic_metre, start_c=-10.0)
    still = run(frozen, physics, air(-15), 40)
    assert still.celsius.max() <= 0
    assert still.made[0] == 0
    thawed = run(frozen, physics, air(8), 60)
    thawing = thawed.days[np.abs(thawed.celsius[:, 0]) < 1e-6]
    assert thawing.max() - thawing.min() > 3  # 240 kg of ice take 80 MJ
    assert thawed.celsius.max() > 30  # and then it heats


@pytest.mark.parametrize("celsius", [-20.0, -0.5, 0.0, 12.0, 70.0])
def test_heat_and_temperature_are_inverses(celsius: float) -> None:
    heat = heat_of(one(celsius), one(100), one(200), one(1.2))
    assert temperature(heat, one(100), one(200), one(1.2)) == pytest.approx(celsius)


@pytest.mark.parametrize("celsius", [2.0, 15.0, 28.0])
def test_another_solver_says_the_same(cubic_metre: Heap, physics: Physics, celsius: float) -> None:
    """The stepped course beside scipy's LSODA over the same rates of change, to a quarter of a kelvin."""
    weather = air(celsius)
    rates = Balance(cubic_metre, physics, weather)
    state = rates.start()
    names = ("fast", "slow", "inert", "water", "heat", "made", "wall", "vent", "brought")

    def change(day: float, values: Floats) -> Floats:
        here = type(state)(*(one(value) for value in values))
        settled = physics.settle_floor + (1 - physics.settle_floor) * np.exp(-day / physics.settle_days)
        return np.array([float(part[0]) for part in rates.change(day, here, settled)[0]])

    begin = np.array([float(getattr(state, name)[0]) for name in names])
    days = np.linspace(0, 30, 61)
    exact = solve_ivp(change, (0, 30), begin, method="LSODA", t_eval=days, rtol=1e-7, atol=1e-3)
    fast, slow, inert, water, heat = exact.y[:5]
    wanted = temperature(heat, fast + slow + inert, water, physics.dry_kj_kg_k)
    found = run(cubic_metre, physics, weather, 30)
    got = np.interp(days, found.days, found.celsius[:, 0])
    assert np.abs(got - wanted).max() < 0.25


def test_draws_are_worked_out_as_each_alone(cubic_metre: Heap, physics: Physics) -> None:
    """Many columns at once give what each gives by itself."""
    walls = np.array([200.0, 500.0, 900.0])
    together = run(replace(cubic_metre, wall_kj_day_k=walls), physics, air(10), 10)
    for column, wall in enumerate(walls):
        alone = run(replace(cubic_metre, wall_kj_day_k=one(wall)), physics, air(10), 10)
        assert together.celsius[-1, column] == pytest.approx(alone.celsius[-1, 0], abs=0.05)


def test_a_turning_cools_it_and_brings_it_back(cubic_metre: Heap, physics: Physics) -> None:
    """Printed drops are 15 to 25 K, and the heat is back within 15 h to 3 days while food lasts (turning-drops)."""
    found = run(cubic_metre, physics, air(15), 9, Policy(days=(4.0,)))
    at = int(np.argmin(np.abs(found.days - 4.0)))
    drop = found.celsius[at - 1, 0] - found.celsius[at, 0]
    assert 10 <= drop <= 25
    later = found.celsius[np.searchsorted(found.days, 7.0), 0]
    assert later > found.celsius[at, 0] + 5


def test_two_hundred_draws_over_sixty_days_are_quick(cubic_metre: Heap, physics: Physics) -> None:
    """About 0.2 s of CPU on the machine it was written on; a slow one gets five times that."""
    many = replace(cubic_metre, wall_kj_day_k=np.linspace(300, 700, 200))
    began = time.process_time()
    run(many, physics, air(15), 60)
    assert time.process_time() - began < 1.0


# ---------------------------------------------------------------- the factors


def test_moist_air_as_tables_print_it() -> None:
    """Psychrometric tables (general tables, from memory): 14.7 g/kg at 20 °C, 114 g/kg and 350 kJ/kg at 55 °C."""
    assert vapour(one(20.0))[0] == pytest.approx(0.0147, rel=0.01)
    assert vapour(one(55.0))[0] == pytest.approx(0.1147, rel=0.01)
    assert enthalpy(one(55.0), vapour(one(55.0)))[0] == pytest.approx(353, rel=0.01)
    assert density(one(20.0), one(0.0))[0] == pytest.approx(1.204, rel=0.002)


def test_the_published_shapes_at_their_printed_points() -> None:
    """Haug 1993 (moisture, air space, oxygen) and the cardinal temperatures of Richard and Walker 2006, from memory."""
    assert moistness(one(0.6))[0] == pytest.approx(0.97, abs=0.01)
    assert moistness(one(0.2))[0] == pytest.approx(0.03, abs=0.01)
    assert openness(one(0.2))[0] == pytest.approx(0.78, abs=0.01)
    assert oxygen(one(0.0))[0] == pytest.approx(0.91, abs=0.01)  # 20.9 / 22.9
    for celsius, wanted in ((30, 0.33), (50, 0.87), (55, 0.97), (65, 0.85), (70, 0.33)):
        shape = warmth(one(celsius), one(5.0), one(58.6), one(71.6), one(0.0))
        assert shape[0] == pytest.approx(wanted, abs=0.01)
    assert richness(one(25.0), one(0.4 / 7), one(0.0))[0] == pytest.approx(0.75, abs=0.01)
    assert richness(one(35.0), one(0.4 / 7), one(0.0))[0] == pytest.approx(0.42, abs=0.01)


@pytest.mark.parametrize("needed", [0.0, 0.3, 1.0, 5.0, 100.0])
def test_the_oxygen_left_is_what_the_use_leaves(needed: float) -> None:
    factor = float(oxygen(one(needed))[0])
    left = 20.9 * (1 - needed * factor)
    assert left >= -1e-9
    assert factor == pytest.approx(left / (left + 2.0), abs=1e-9)
