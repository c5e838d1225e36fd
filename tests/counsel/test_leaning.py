"""Crop and season move the carbon to nitrogen window, and the recipe with it; never out of what is published."""

from __future__ import annotations

import pytest
from told import household

from advisor.counsel.consult import consult
from advisor.counsel.plan import Gauge, Plan
from advisor.counsel.sketch import sketcher_for
from advisor.household.files import read_household
from advisor.household.shapes import Room
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.places import scenarios_folder
from advisor.talk.agenda import LEAST_WORTH, topics
from advisor.talk.intents import Told
from advisor.talk.understand import understand

GARDEN = {"place.space": "garden", "place.container": "none", "wish.aim": "quick", "wish.turning": "often"}
STUFF = ("20 buckets grass clippings", "15 sacks dry leaves", "4 sacks straw")

# The Art and Science of Composting, University of Wisconsin CIAS (2002), Table 1: acceptable carbon to nitrogen.
ACCEPTABLE = (20, 40)

# Nitrogen for a crop on poor soil, kg/ha, RB209 section 6 at index 0; from memory, rounded to tens.
NITROGEN = {
    "cabbage": 340,
    "brussels sprouts": 330,
    "cauliflower": 290,
    "potato": 240,
    "sweet corn": 220,
    "carrot": 100,
    "radish": 100,
    "pea": 0,
    "broad bean": 0,
}


def planned(knowledge: Knowledge, engine: Engine, **more: str) -> Plan:
    answers = {**GARDEN, **{name.replace("__", "."): value for name, value in more.items()}}
    return consult(household(STUFF, answers, Room(3, 3)), knowledge, engine, with_doubts=False)


def ratio(plan: Plan) -> Gauge:
    return next(gauge for gauge in plan.recipe.gauges if gauge.what == "carbon-nitrogen")


def test_the_window_and_the_recipe_move_with_the_crop(knowledge: Knowledge, engine: Engine) -> None:
    richer, plain, browner = (planned(knowledge, engine, wish__crop=crop) for crop in ("hungry", "vegetables", "fruit"))
    goals = [ratio(plan).goal for plan in (richer, plain, browner)]
    assert [(goal.low, goal.aim, goal.high) for goal in goals if goal] == [(23, 28, 33), (25, 30, 35), (27, 32, 37)]
    reached = [ratio(plan).spread.typical for plan in (richer, plain, browner)]
    assert reached == sorted(reached)
    assert reached[0] + 1 < reached[1] < reached[2] - 1
    counts = [{line.material: line.count for line in plan.recipe.lines} for plan in (richer, plain, browner)]
    assert counts[0] != counts[1] != counts[2]


def test_a_rainy_place_leans_to_browns_and_the_line_says_why(knowledge: Knowledge, engine: Engine) -> None:
    mild, wet = planned(knowledge, engine, place__climate="temperate"), planned(knowledge, engine, place__climate="wet")
    assert ratio(wet).spread.typical > ratio(mild).spread.typical + 1
    assert "wet-season-wants-more-carbon" in {because.rule for because in ratio(wet).line.why}


def test_hungry_crops_and_trees_together_leave_it_as_it_was(knowledge: Knowledge, engine: Engine) -> None:
    answers = {**GARDEN, "wish.crop": ("hungry", "fruit")}
    plan = consult(household(STUFF, answers, Room(3, 3)), knowledge, engine, with_doubts=False)
    assert ratio(plan).goal == ratio(planned(knowledge, engine)).goal


@pytest.mark.parametrize("aim", ["quick", "steady"])
@pytest.mark.parametrize("season", ["winter", "summer"])
@pytest.mark.parametrize("climate", ["wet", "temperate"])
@pytest.mark.parametrize("crop", ["hungry", "vegetables", "fruit"])
def test_no_lean_leaves_the_published_range(
    aim: str, season: str, climate: str, crop: str, knowledge: Knowledge, engine: Engine
) -> None:
    plan = planned(knowledge, engine, wish__aim=aim, place__season=season, place__climate=climate, wish__crop=crop)
    goal = ratio(plan).goal
    assert goal is not None
    assert ACCEPTABLE[0] <= goal.low < goal.aim < goal.high <= ACCEPTABLE[1]


def test_a_slow_heap_keeps_its_own_window(knowledge: Knowledge, engine: Engine) -> None:
    goal = ratio(planned(knowledge, engine, wish__aim="fungal", wish__crop="hungry", place__climate="wet")).goal
    assert goal is not None and (goal.low, goal.high) == (40, 50)


def test_every_rule_that_leans_says_that_it_is_tradition(knowledge: Knowledge) -> None:
    leaning = [rule for rule in knowledge.rules if any(then.attribute == "shift" for then in rule.then)]
    assert len(leaning) == 4
    assert {rule.evidence for rule in leaning} == {"tradition"}


# ------------------------------------------------------------ what is said of it, and what is asked


@pytest.mark.parametrize(
    ("said", "crops"),
    [
        ("it's for my pumpkins and tomatoes", {"hungry"}),
        ("for roses and fruit bushes", {"flowers", "fruit"}),
        ("to feed the salads", {"vegetables"}),
    ],
)
def test_what_it_is_for_is_understood(said: str, crops: set[str], knowledge: Knowledge) -> None:
    found = {
        value
        for intent in understand(said, knowledge).intents
        if isinstance(intent, Told) and intent.attribute == "wish.crop"
        for value in intent.values
    }
    assert found == crops


def test_crops_called_hungry_are_those_the_rotation_calls_so(knowledge: Knowledge) -> None:
    """Hunger in rules/crop-families.toml is common practice; the order agrees with RB209's nitrogen (from memory)."""
    hungry = {crop for family in knowledge.crop_families.values() if family.hunger == "hungry" for crop in family.crops}
    for crop in sorted(hungry - {"mustard greens", "rocket", "radish"}):
        found = [intent for intent in understand(f"for my {crop}", knowledge).intents if isinstance(intent, Told)]
        assert [intent.values for intent in found] == [("hungry",)], crop
    assert min(NITROGEN[crop] for crop in NITROGEN if crop in hungry - {"radish"}) > max(
        NITROGEN[crop] for crop in NITROGEN if crop not in hungry - {"radish"}
    )


def test_it_is_asked_only_where_it_changes_something(knowledge: Knowledge, engine: Engine) -> None:
    def worth(have: str, answers: dict[str, str]) -> float:
        found = {topic.attribute: topic.worth for topic in topics(household([have], answers), knowledge, engine)}
        return found.get("wish.crop", 0.0)

    assert 0 < worth("6 buckets grass clippings", {"place.space": "garden"}) < LEAST_WORTH  # not before it is asked for
    assert worth("6 L kitchen scraps a week", {"place.space": "flat", "place.container": "worm-bin"}) == 0
    assert worth("20 sacks dry leaves", {"place.space": "garden", "wish.aim": "leaf-mould"}) == 0
    assert worth("2 m3 wood chips", {"place.space": "garden", "wish.aim": "fungal"}) == 0


def test_the_sketch_leans_as_the_consultation_does(knowledge: Knowledge, engine: Engine) -> None:
    sketcher = sketcher_for(knowledge, engine)
    view = sketcher.view(household(STUFF, GARDEN, Room(3, 3)))
    for attribute, values in {
        "wish.crop": ("hungry", "fruit", "pots"),
        "place.climate": ("wet", "temperate"),
        "place.season": ("winter", "summer"),
    }.items():
        for value, drawn in zip(values, view.tried(attribute, values), strict=True):
            told = sketcher.view(household(STUFF, {**GARDEN, attribute: value}, Room(3, 3))).now
            assert drawn.browner == told.browner
            assert (told.browner != 0) == (value in ("hungry", "fruit", "wet", "winter"))


# ------------------------------------------------------------ a season's bedding at once


def test_a_winters_bedding_is_stacked_in_rows(knowledge: Knowledge, engine: Engine) -> None:
    """Forked out all at once it is a windrow's work (common practice); a load a week goes into bays, as the University
    of Minnesota's page on horse manure has it (method_cases.toml)."""
    shipped = read_household(scenarios_folder() / "goats-and-a-pony.toml", knowledge)
    assert consult(shipped, knowledge, engine, with_doubts=False).choice.method == "windrow"
    weekly = household(["10 barrows horse manure a week"], {"place.space": "smallholding"}, Room(20, 6))
    assert consult(weekly, knowledge, engine, with_doubts=False).choice.method == "bin"
