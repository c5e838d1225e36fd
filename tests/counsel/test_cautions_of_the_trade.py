"""Cautions and steps that a composting teacher looks for, each from common practice or the source its rule names."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import pytest
from told import household

from advisor.counsel.consult import consult
from advisor.counsel.plan import Plan
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge

COLD = {"place.space": "garden", "place.climate": "cold-winter"}


def plan_of(knowledge: Knowledge, engine: Engine, have: Sequence[str], answers: Mapping[str, str]) -> Plan:
    return consult(household(have, answers), knowledge, engine, with_doubts=False)


def said(plan: Plan) -> str:
    return " ".join(line.text for line in plan.lines())


@pytest.mark.parametrize(
    ("have", "answers", "words"),
    [
        (["1 bucket kitchen scraps a week", "4 sacks dry leaves"], {**COLD, "place.pests": "scavengers"}, "bear"),
        (["2 barrows rose prunings", "4 buckets grass clippings"], COLD, "tetanus"),
        (["2 barrows rose prunings", "4 buckets grass clippings"], COLD, "goggles"),
        (["4 sacks dry leaves", "4 buckets grass clippings", "1 bucket garden soil"], COLD, "lead"),
        (["3 m3 arborist chips", "4 buckets grass clippings"], COLD, "catch fire"),
        (["14 barrows grass clippings"], COLD, "Do not build it of this alone"),
        (["3 barrows seaweed"], COLD, "Do not build it of this alone"),
        (["2 m3 wood chips", "2 buckets grass clippings"], {**COLD, "wish.aim": "fungal"}, "on paths"),
    ],
)
def test_what_a_teacher_would_say(
    knowledge: Knowledge, engine: Engine, have: list[str], answers: dict[str, str], words: str
) -> None:
    assert words in said(plan_of(knowledge, engine, have, answers))


def test_grass_is_not_warned_of_where_there_is_none(knowledge: Knowledge, engine: Engine) -> None:
    plan = plan_of(knowledge, engine, ["3 m3 arborist chips", "2 buckets coffee grounds"], COLD)
    assert "Never leave grass" not in said(plan)


def test_no_straw_blanket_where_rats_would_nest_in_it(knowledge: Knowledge, engine: Engine) -> None:
    have = ["1 bucket kitchen scraps a week", "6 sacks dry leaves"]
    assert "straw bales" in said(plan_of(knowledge, engine, have, {**COLD, "place.pests": "none"}))
    assert "straw bales" not in said(plan_of(knowledge, engine, have, {**COLD, "place.pests": "rats"}))


def test_a_bag_of_bran_does_not_go_into_one_bucket(knowledge: Knowledge, engine: Engine) -> None:
    have = ["5 L kitchen scraps a week", "12 kg starter bran"]
    plan = plan_of(knowledge, engine, have, {"place.space": "flat", "place.container": "tight-bucket"})
    assert plan.choice.method == "fermented-bucket"
    assert any("no more than" in line.text for line in plan.recipe.additions)


@pytest.mark.parametrize(
    ("asked", "material"),
    [
        ("wood cat litter", "cat-waste"),  # used litter is what people ask about; unused pellets have their own name
        ("potatoes with blight", "diseased-plants"),
        ("plastic teabags", "plastic"),
        ("grass from sprayed lawn", "treated-grass"),
        ("treated timber ash", "treated-wood-ash"),
        ("sawdust of plywood", "board-dust"),
        ("crabgrass", "garden-weeds"),  # an annual: it has no creeping root
        ("wine corks", "hardwood-bark"),
    ],
)
def test_names_people_use_lead_to_the_safe_verdict(knowledge: Knowledge, asked: str, material: str) -> None:
    from advisor.household.names import find_material

    assert find_material(asked, knowledge).id == material


def test_walnut_leaves_are_no_food_for_worms(knowledge: Knowledge, engine: Engine) -> None:
    plan = plan_of(knowledge, engine, ["5 L walnut leaves", "5 L vegetable peelings a week"], {"place.space": "flat"})
    assert "walnut-leaves" not in {line.material for line in plan.recipe.lines}
