"""The mix as it is told: published sums asked in the program's own words."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.blend import mix
from advisor.blend.spread import typical
from advisor.counsel.own_mix import (
    Goals,
    best_dose,
    comes_to,
    dose_for_cn,
    dose_for_moisture,
    from_amounts,
    from_parts,
    scaled,
    water_for,
)
from advisor.counsel.own_mix_lines import own_mix
from advisor.counsel.own_sample import sample_sum
from advisor.counsel.stock import material_of
from advisor.errors import HouseholdError
from advisor.household.files import household_from_options
from advisor.household.parts import parts_told
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge

# Grass of 77 % water, 45 % carbon and 2.4 % nitrogen, leaves of 35 %, 50 % and 0.75 %: Cornell Composting in Schools,
# Getting the Right Mix and Moisture Content (1996, read), and the carbon and nitrogen of its C/N Ratio page (memory).
CORNELL = {
    "grass clippings": "moisture 77 %, nitrogen 2.4 %, C:N 18.75",
    "dry leaves": "moisture 35 %, nitrogen 0.75 %, C:N 66.6667",
}


def cornell(have: str, knowledge: Knowledge) -> Household:
    return household_from_options(have, knowledge, own=CORNELL)


def test_leaves_for_ten_kilograms_of_grass_by_moisture(knowledge: Knowledge) -> None:
    """6.8 kg of leaves bring 10 kg of grass to 60 % moisture (Cornell, Moisture Content, 1996)."""
    home = cornell("10 kg grass clippings", knowledge)
    parts = [each.part for each in from_amounts(home, knowledge)]
    leaves = typical(material_of("dry-leaves", home, knowledge))
    assert dose_for_moisture(parts, "dry-leaves", leaves, Goals.usual(knowledge)).kilograms == pytest.approx(6.8)


def test_leaves_for_ten_kilograms_of_grass_by_carbon_and_nitrogen(knowledge: Knowledge) -> None:
    """3.5 kg of leaves for a C:N of 30 (Cornell, C/N Ratio page, from memory)."""
    home = cornell("10 kg grass clippings", knowledge)
    parts = [each.part for each in from_amounts(home, knowledge)]
    leaves = typical(material_of("dry-leaves", home, knowledge))
    dose = dose_for_cn(parts, "dry-leaves", leaves, Goals.usual(knowledge))
    assert dose.kilograms == pytest.approx(3.474, abs=0.001)
    assert dose.carbon_nitrogen == pytest.approx(30)
    assert dose.moisture_pct == pytest.approx(66.2, abs=0.05)


def test_the_carbon_to_nitrogen_of_exactly_this(knowledge: Knowledge) -> None:
    """10 kg of grass with 6.8 kg of leaves come to 37 (Cornell, C/N Ratio page, from memory)."""
    found = comes_to(from_amounts(cornell("10 kg grass clippings, 6.8 kg dry leaves", knowledge), knowledge))
    assert found.carbon_nitrogen.typical == pytest.approx(37, abs=0.5)
    assert found.moisture_pct.typical == pytest.approx(60, abs=0.05)


def test_a_sample_dried_and_a_bucket_weighed() -> None:
    """10 g of grass in a 4 g dish weigh 6.3 g dry: 77 % (Cornell, 1996). A 20 L bucket of 1 kg weighs 10 kg full: 450
    kg/m3 (supplement to The Art and Science of Composting, Wisconsin CIAS, 2002). From 101 to 85 g in a microwave: 16 %
    (Victorian microwave method, 2015)."""
    found = sample_sum(dried_g=(14, 6.3, 4), weighed=(10, 1, 20))
    assert found.moisture_pct == pytest.approx(77)
    assert found.density_kg_m3 == pytest.approx(450)
    assert sample_sum(dried_g=(101, 85, 0)).moisture_pct == pytest.approx(16, abs=0.2)
    with pytest.raises(HouseholdError):
        sample_sum(dried_g=(6, 14, 4))
    with pytest.raises(HouseholdError):
        sample_sum(weighed=(1, 10, 20))


@pytest.mark.parametrize(
    ("words", "parts"),
    [
        ("3 parts grass clippings, 1 part sawdust", {"grass-clippings": 3, "sawdust": 1}),
        ("3 parts green to 1 brown", {"grass-clippings": 3, "dry-leaves": 1}),
        ("equal parts dry leaves and grass clippings", {"dry-leaves": 1, "grass-clippings": 1}),
        ("2:1 dry leaves to coffee grounds", {"dry-leaves": 2, "coffee-grounds": 1}),
        ("two parts straw and a half part hen manure", {"straw": 2, "hen-manure": 0.5}),
        ("1 straw, 2 grass clippings, 1 horse manure", {"straw": 1, "grass-clippings": 2, "horse-manure": 1}),
    ],
)
def test_parts_as_people_say_them(words: str, parts: dict[str, float], knowledge: Knowledge) -> None:
    assert {part.material: part.parts for part in parts_told(words, knowledge)} == parts


@pytest.mark.parametrize(
    "words", ["", "grass clippings", "3 parts moonshine", "1 part straw, 2 parts straw", "0 parts straw"]
)
def test_parts_that_say_nothing_are_refused(words: str, knowledge: Knowledge) -> None:
    with pytest.raises(HouseholdError):
        parts_told(words, knowledge)


def test_parts_by_weight_are_no_parts_by_volume(knowledge: Knowledge) -> None:
    home = household_from_options("nothing", knowledge)
    told = parts_told("1 part coffee grounds, 1 part straw", knowledge)
    by_volume = from_parts(told, home, knowledge)
    by_weight = from_parts(told, home, knowledge, by_weight=True)
    assert comes_to(by_volume).carbon_nitrogen.typical < comes_to(by_weight).carbon_nitrogen.typical


@settings(max_examples=30, deadline=None)
@given(
    st.floats(1, 5000), st.sampled_from(["3 parts grass clippings, 1 part straw", "1:1 coffee grounds to dry leaves"])
)
def test_a_container_is_filled_with_the_same_mix(litres: float, words: str) -> None:
    from advisor.knowledge.load import shipped

    home = household_from_options("nothing", shipped())
    told = from_parts(parts_told(words, shipped()), home, shipped())
    filled = scaled(told, litres)
    assert mix.volume_l([each.part for each in filled]) == pytest.approx(litres)
    assert comes_to(filled).carbon_nitrogen.typical == pytest.approx(comes_to(told).carbon_nitrogen.typical)
    assert water_for(filled, 60) * 100 == pytest.approx(water_for(told, 60) * litres, rel=1e-6, abs=1e-6)


@settings(max_examples=30, deadline=None)
@given(st.integers(1, 60), st.integers(1, 60), st.floats(22, 40))
def test_what_is_dosed_comes_to_the_goal(grass: int, manure: int, goal: float) -> None:
    from advisor.knowledge.load import shipped

    knowledge = shipped()
    home = household_from_options(f"{grass} buckets grass clippings, {manure} buckets hen manure", knowledge)
    found = own_mix(
        from_amounts(home, knowledge),
        home,
        knowledge,
        goals=Goals.usual(knowledge, goal),
        towards=["carbon-nitrogen"],
        add=["straw"],
    )
    (added,) = found.additions
    assert added.possible
    assert added.carbon_nitrogen == pytest.approx(goal)


def test_which_brown_to_dose_is_said_with_the_reason(knowledge: Knowledge) -> None:
    home = household_from_options("10 buckets grass clippings", knowledge)
    found = own_mix(from_amounts(home, knowledge), home, knowledge, towards=["carbon-nitrogen"])
    assert [one.best for one in found.additions] == [True, *[False] * (len(found.additions) - 1)]
    assert found.additions[0].line.text.startswith("Best:")
    assert len({one.material for one in found.additions}) >= 4
    driest = min(one.moisture_pct or math.inf for one in found.additions)
    assert found.additions[0].moisture_pct == pytest.approx(driest, abs=1)


def test_a_goal_that_cannot_be_met_says_why(knowledge: Knowledge) -> None:
    home = household_from_options("10 buckets straw", knowledge)
    parts = [each.part for each in from_amounts(home, knowledge)]
    sawdust = typical(knowledge.materials["sawdust"])
    dose = dose_for_cn(parts, "sawdust", sawdust, Goals.usual(knowledge))
    assert "both lie above it" in dose.refused
    assert best_dose([dose], Goals.usual(knowledge)) is None


def test_a_figure_far_outside_the_tables_is_questioned_and_used(knowledge: Knowledge) -> None:
    home = household_from_options("10 kg grass clippings", knowledge, own={"grass clippings": "moisture 10 %"})
    found = own_mix(from_amounts(home, knowledge), home, knowledge)
    assert found.gauges[1].spread.typical == pytest.approx(10)
    assert ["Is it right?" in note.text for note in found.notes] == [True]
    usual = household_from_options("10 kg grass clippings", knowledge, own={"grass clippings": "moisture 75 %"})
    assert not own_mix(from_amounts(usual, knowledge), usual, knowledge).notes


def test_every_line_can_say_why(knowledge: Knowledge) -> None:
    home = household_from_options("3 buckets grass clippings, 1 sack wood chips", knowledge)
    found = own_mix(from_amounts(home, knowledge), home, knowledge, towards=["moisture"], fill_l=200)
    names = [line.id for line in found.lines()]
    assert len(names) == len(set(names))
    assert all(line.why for line in found.lines())
    assert "25 % of the carbon of wood chips" in found.gauges[0].line.text


def test_nothing_is_no_mix(knowledge: Knowledge) -> None:
    home = household_from_options("nothing", knowledge)
    with pytest.raises(HouseholdError, match="nothing in the mix"):
        own_mix(from_amounts(home, knowledge), home, knowledge)
