"""What must hold of every blend, whatever goes into it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from advisor.blend.mix import (
    WATER,
    CannotBeMet,
    ash_kg,
    blended,
    both_at_once,
    bulk_density_kg_m3,
    carbon_kg,
    carbon_nitrogen,
    dry_kg,
    free_air_space_pct,
    mass_kg,
    moisture_pct,
    nitrogen_kg,
    nitrogen_pct,
    second_for_cn,
    second_for_moisture,
    volume_l,
    water_to_add_kg,
)
from advisor.blend.sample import (
    as_received_pct,
    constituent_kg,
    dry_basis_pct,
    mass_at_moisture_kg,
    of_dry_pct,
    wet_basis_pct,
)
from advisor.blend.shapes import Composition, Part
from advisor.errors import HeapwrightError

compositions = st.builds(
    Composition,
    nitrogen_pct=st.floats(0.05, 15),
    carbon_pct=st.floats(5, 60),
    moisture_pct=st.floats(0, 95),
    density_kg_m3=st.floats(30, 1200),
    ash_pct=st.floats(0, 80),
)
amounts = st.floats(0.05, 500)
parts = st.builds(Part, compositions, amounts)
blends = st.lists(parts, min_size=1, max_size=6)
waters = st.floats(0, 500)


def about(value: float) -> object:
    return pytest.approx(value, rel=1e-9, abs=1e-9)


def figures(blend: list[Part], water_kg: float = 0.0) -> tuple[float, ...]:
    return (
        carbon_nitrogen(blend),
        nitrogen_pct(blend),
        moisture_pct(blend, water_kg),
        bulk_density_kg_m3(blend, water_kg),
        free_air_space_pct(blend, water_kg),
    )


# ---------------------------------------------------------------- blends


@given(blends, st.floats(0.01, 100), waters)
def test_scaling_every_amount_changes_amounts_and_nothing_else(blend: list[Part], factor: float, water: float) -> None:
    scaled = [replace(part, kg=part.kg * factor) for part in blend]
    assert figures(scaled, water * factor) == about_each(figures(blend, water))
    assert volume_l(scaled) == about(volume_l(blend) * factor)
    assert nitrogen_kg(scaled) == about(nitrogen_kg(blend) * factor)


def about_each(values: tuple[float, ...]) -> object:
    return pytest.approx(values, rel=1e-9, abs=1e-7)


@given(blends, st.randoms(use_true_random=False))
def test_order_does_not_matter(blend: list[Part], shuffler: object) -> None:
    shuffled = list(blend)
    shuffler.shuffle(shuffled)  # type: ignore[attr-defined]
    assert figures(shuffled) == figures(blend)


@given(blends)
def test_a_blend_lies_between_its_parts(blend: list[Part]) -> None:
    for figure in (carbon_nitrogen, moisture_pct, bulk_density_kg_m3, nitrogen_pct):
        alone = [figure([part]) for part in blend]
        assert min(alone) * (1 - 1e-9) <= figure(blend) <= max(alone) * (1 + 1e-9)


@given(blends, waters)
def test_added_water_leaves_cn_alone(blend: list[Part], water: float) -> None:
    assert carbon_nitrogen([*blend, Part(WATER, water)]) == about(carbon_nitrogen(blend))


@given(blends, waters)
def test_water_on_top_is_water_as_a_part_but_for_the_room_it_takes(blend: list[Part], water: float) -> None:
    as_part = [*blend, Part(WATER, water)]
    assert moisture_pct(as_part) == about(moisture_pct(blend, water))
    assert mass_kg(as_part) == about(mass_kg(blend, water))
    assert volume_l(as_part) == about(volume_l(blend) + water)


@given(blends, waters, st.floats(0.01, 10))
def test_adding_the_blend_to_itself_leaves_it_unchanged(blend: list[Part], water: float, share: float) -> None:
    mean = blended(blend, water)
    more = [*blend, replace(mean, kg=mean.kg * share)]
    assert figures(more, water) == about_each(figures(blend, water))


@given(blends, waters)
def test_a_blend_as_one_part_is_the_same_blend(blend: list[Part], water: float) -> None:
    one = [blended(blend, water)]
    assert figures(one) == about_each(figures(blend, water))
    for amount in (carbon_kg, nitrogen_kg, ash_kg, dry_kg, volume_l):
        assert amount(one) == about(amount(blend))


@given(blends, waters, waters)
def test_free_air_space_falls_with_water_and_stays_a_share(blend: list[Part], some: float, more: float) -> None:
    driest, wetter = free_air_space_pct(blend, some), free_air_space_pct(blend, some + more)
    assert 0 <= wetter <= driest < 100
    if more > 0.1 and wetter > 0:
        assert wetter < driest


# ---------------------------------------------------------------- each input pulls its own way


@given(parts, blends, st.floats(1.01, 2))
def test_more_carbon_in_a_part_raises_cn(part: Part, others: list[Part], factor: float) -> None:
    richer = replace(part, composition=replace(part.composition, carbon_pct=part.composition.carbon_pct * factor))
    assert carbon_nitrogen([richer, *others]) > carbon_nitrogen([part, *others])


@given(parts, blends, st.floats(1.01, 2))
def test_more_nitrogen_in_a_part_lowers_cn(part: Part, others: list[Part], factor: float) -> None:
    richer = replace(part, composition=replace(part.composition, nitrogen_pct=part.composition.nitrogen_pct * factor))
    assert carbon_nitrogen([richer, *others]) < carbon_nitrogen([part, *others])
    assert nitrogen_kg([richer, *others]) > nitrogen_kg([part, *others])


@given(parts, blends, st.floats(0.1, 4))
def test_a_wetter_part_makes_a_wetter_blend_with_less_dry_matter(part: Part, others: list[Part], points: float) -> None:
    wetter = replace(part, composition=replace(part.composition, moisture_pct=part.composition.moisture_pct + points))
    assert moisture_pct([wetter, *others]) > moisture_pct([part, *others])
    assert dry_kg([wetter, *others]) < dry_kg([part, *others])
    assert free_air_space_pct([wetter, *others]) <= free_air_space_pct([part, *others]) + 1e-9


@given(parts, blends, st.floats(1.01, 3))
def test_a_denser_part_takes_less_room_and_leaves_less_air(part: Part, others: list[Part], factor: float) -> None:
    denser = replace(part, composition=replace(part.composition, density_kg_m3=part.composition.density_kg_m3 * factor))
    assert volume_l([denser, *others]) < volume_l([part, *others])
    assert free_air_space_pct([denser, *others]) <= free_air_space_pct([part, *others])


@given(parts, blends, st.floats(1.01, 3))
def test_more_of_a_part_pulls_cn_towards_it(part: Part, others: list[Part], factor: float) -> None:
    more = replace(part, kg=part.kg * factor)
    its = carbon_nitrogen([part])
    assert abs(carbon_nitrogen([more, *others]) - its) <= abs(carbon_nitrogen([part, *others]) - its) + 1e-9


# ---------------------------------------------------------------- goals


@given(blends, st.floats(1, 99))
def test_water_to_add_gives_the_goal_or_is_nothing(blend: list[Part], goal: float) -> None:
    water = water_to_add_kg(blend, goal)
    if moisture_pct(blend) >= goal:
        assert water == 0
    else:
        assert moisture_pct(blend, water) == about(goal)


@given(blends, st.floats(1, 90), st.floats(0, 9))
def test_a_wetter_goal_needs_no_less_water(blend: list[Part], goal: float, more: float) -> None:
    assert water_to_add_kg(blend, goal) <= water_to_add_kg(blend, goal + more) + 1e-9


@given(blends, compositions, st.floats(0.01, 0.99))
def test_second_for_cn_gives_the_goal_when_put_back(blend: list[Part], second: Composition, between: float) -> None:
    here, there = carbon_nitrogen(blend), carbon_nitrogen([Part(second, 1)])
    assume(abs(here - there) > 1e-3 * here)
    goal = here + (there - here) * between
    kg = second_for_cn(blend, second, goal)
    assert kg > 0
    assert carbon_nitrogen([*blend, Part(second, kg)]) == pytest.approx(goal, rel=1e-7)


@given(blends, compositions, st.floats(0.01, 0.99))
def test_second_for_moisture_gives_the_goal_when_put_back(
    blend: list[Part], second: Composition, between: float
) -> None:
    here, there = moisture_pct(blend), second.moisture_pct
    assume(abs(here - there) > 0.01)
    goal = here + (there - here) * between
    kg = second_for_moisture(blend, second, goal)
    assert kg > 0
    assert moisture_pct([*blend, Part(second, kg)]) == pytest.approx(goal, rel=1e-7, abs=1e-7)


@given(blends, compositions, st.floats(1.001, 5))
def test_a_goal_outside_both_is_refused_and_says_so(blend: list[Part], second: Composition, factor: float) -> None:
    ratios = carbon_nitrogen(blend), carbon_nitrogen([Part(second, 1)])
    for goal, side in ((max(ratios) * factor, "below"), (min(ratios) / factor, "above")):
        with pytest.raises(CannotBeMet, match=f"cannot be met with what you have, because .* both lie {side} it"):
            second_for_cn(blend, second, goal)


def pull(material: Composition, goal_cn: float, goal_moisture: float) -> tuple[float, float]:
    """Water and carbon, in parts per hundred of a wet mass, beyond what the goals call for."""
    dry = 1 - material.moisture_pct / 100
    return material.moisture_pct - goal_moisture, dry * (material.carbon_pct - goal_cn * material.nitrogen_pct)


@given(blends, compositions, compositions, amounts, amounts)
def test_both_at_once_finds_a_blend_that_meets_both(
    blend: list[Part], second: Composition, third: Composition, second_kg: float, third_kg: float
) -> None:
    made = [*blend, Part(second, second_kg), Part(third, third_kg)]
    goal_cn, goal_moisture = carbon_nitrogen(made), moisture_pct(made)
    pulls = [pull(material, goal_cn, goal_moisture) for material in (second, third)]
    lengths = [math.hypot(*each) for each in pulls]
    assume(min(lengths) > 0.01)
    sine = (pulls[0][0] * pulls[1][1] - pulls[0][1] * pulls[1][0]) / math.prod(lengths)
    assume(abs(sine) > 0.001)
    found = both_at_once(blend, second, third, goal_cn=goal_cn, goal_moisture_pct=goal_moisture)
    again = [*blend, Part(second, found[0]), Part(third, found[1])]
    assert carbon_nitrogen(again) == pytest.approx(goal_cn, rel=1e-6)
    assert moisture_pct(again) == pytest.approx(goal_moisture, rel=1e-6)


@given(blends, compositions, amounts, st.floats(0.1, 500))
def test_both_at_once_with_water(blend: list[Part], second: Composition, second_kg: float, water: float) -> None:
    made = [*blend, Part(second, second_kg)]
    goal_cn, goal_moisture = carbon_nitrogen(made), moisture_pct(made, water)
    its = carbon_nitrogen([Part(second, 1)])
    assume(abs(its - goal_cn) > 1e-3 * its)
    found = both_at_once(blend, second, goal_cn=goal_cn, goal_moisture_pct=goal_moisture)
    assert found == pytest.approx((second_kg, water), rel=1e-5)


# ---------------------------------------------------------------- refusals in words


DRY_LEAVES = Composition(0.75, 50, 35, 100)
WET_SCRAPS = Composition(2.4, 45, 77, 210)


def test_a_refusal_is_one_of_the_errors_people_may_be_shown() -> None:
    with pytest.raises(HeapwrightError) as caught:
        second_for_cn([Part(WET_SCRAPS, 10)], DRY_LEAVES, 80)
    assert str(caught.value) == (
        "a C:N of 80 cannot be met with what you have, because what you have (18.8) and what would be added "
        "(66.7) both lie below it (add something with a C:N above 80)"
    )


def test_a_moisture_beyond_both_is_refused() -> None:
    with pytest.raises(CannotBeMet, match=r"what you have \(77 %\) and what would be added \(35 %\) both lie above"):
        second_for_moisture([Part(WET_SCRAPS, 10)], DRY_LEAVES, 30)
    with pytest.raises(CannotBeMet, match="only just reaches it"):
        second_for_moisture([Part(WET_SCRAPS, 10)], DRY_LEAVES, 35)


def test_no_amount_of_water_makes_a_blend_all_water() -> None:
    with pytest.raises(CannotBeMet, match="a moisture of 100 % cannot be met"):
        water_to_add_kg([Part(WET_SCRAPS, 10)], 100)


def test_water_cannot_change_cn() -> None:
    with pytest.raises(CannotBeMet, match="neither carbon nor nitrogen"):
        second_for_cn([Part(WET_SCRAPS, 10)], WATER, 30)


def test_two_that_pull_in_step_cannot_meet_both_goals() -> None:
    with pytest.raises(CannotBeMet, match="do not steer moisture and C:N apart"):
        both_at_once([Part(WET_SCRAPS, 10)], DRY_LEAVES, DRY_LEAVES, goal_cn=30, goal_moisture_pct=60)


def test_when_the_two_are_alike_one_of_them_does() -> None:
    made = [Part(WET_SCRAPS, 10), Part(DRY_LEAVES, 5)]
    goals = {"goal_cn": carbon_nitrogen(made), "goal_moisture_pct": moisture_pct(made)}
    assert both_at_once([Part(WET_SCRAPS, 10)], DRY_LEAVES, DRY_LEAVES, **goals) == pytest.approx((5, 0))
    assert both_at_once([Part(WET_SCRAPS, 10)], WET_SCRAPS, DRY_LEAVES, **goals) == pytest.approx((0, 5))


def test_a_second_material_that_would_have_to_be_taken_out() -> None:
    rich = Composition(6.0, 48, 60, 600)
    with pytest.raises(CannotBeMet, match="of the second material would have to be taken out"):
        both_at_once([Part(WET_SCRAPS, 10)], rich, goal_cn=30, goal_moisture_pct=85)


def test_a_blend_already_at_the_goals_needs_nothing() -> None:
    scraps = [Part(WET_SCRAPS, 10)]
    here = carbon_nitrogen(scraps)
    assert second_for_cn(scraps, DRY_LEAVES, here) == 0
    assert second_for_moisture(scraps, DRY_LEAVES, 77) == 0
    assert both_at_once(scraps, WET_SCRAPS, goal_cn=here, goal_moisture_pct=77) == (0, 0)


# ---------------------------------------------------------------- nothing, and no nitrogen


def test_a_blend_of_nothing() -> None:
    for figure in (mass_kg, dry_kg, nitrogen_kg, carbon_kg, volume_l, moisture_pct, nitrogen_pct):
        assert figure([]) == 0
    assert bulk_density_kg_m3([]) == 0
    assert free_air_space_pct([]) == 100
    assert carbon_nitrogen([]) == math.inf
    assert water_to_add_kg([], 60) == 0
    with pytest.raises(ValueError, match="nothing"):
        blended([])


def test_without_nitrogen_cn_is_infinite_and_still_mends() -> None:
    sugar, urine = Composition(0, 42, 0, 800), Composition(18, 14.4, 95, 1000)
    assert carbon_nitrogen([Part(sugar, 1)]) == math.inf
    urine_kg = second_for_cn([Part(sugar, 1)], urine, 30)
    assert carbon_nitrogen([Part(sugar, 1), Part(urine, urine_kg)]) == about(30)
    with pytest.raises(CannotBeMet, match="no nitrogen"):
        second_for_cn([Part(sugar, 1)], DRY_LEAVES, 30)


# ---------------------------------------------------------------- changing the basis


@given(st.floats(0, 99))
def test_bases_of_moisture_are_inverses(wet: float) -> None:
    assert wet_basis_pct(dry_basis_pct(wet)) == about(wet)


@given(st.floats(0, 100), st.floats(0, 99))
def test_bases_of_a_share_are_inverses(share: float, moisture: float) -> None:
    assert of_dry_pct(as_received_pct(share, moisture), moisture) == about(share)


@given(amounts, st.floats(0, 99), st.floats(0, 99))
def test_drying_leaves_the_dry_matter(kg: float, moisture: float, becomes: float) -> None:
    dried = mass_at_moisture_kg(kg, moisture, becomes)
    assert constituent_kg(dried, 100, becomes) == about(constituent_kg(kg, 100, moisture))
