"""Whatever a household says, nothing advised is unsafe or contradicts itself.

The invariants are the cautions of the trade, each with its source in rules/safety.toml and rules/keep-out.toml;
households are drawn from everything that can be answered and every material there is.
"""

from __future__ import annotations

import json
import re

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.counsel.consult import consult, shipped_engine
from advisor.counsel.plan import Plan
from advisor.household.shapes import Holding, Household, Quantity, Room
from advisor.knowledge.load import shipped
from advisor.papers.page import page

KNOWLEDGE = shipped()
ANSWERS = {
    f"{kind}.{name}": attribute
    for kind, declared in KNOWLEDGE.kinds.items()
    if kind in ("place", "wish", "household")
    for name, attribute in declared.attributes.items()
    if attribute.origin == "answer" and attribute.words
}
HEAPS = ("open-heap", "bin", "tumbler", "windrow", "leaf-heap")
NEVER_IN_A_HEAP = {
    "meat",
    "dairy",
    "cooked",
    "oily",
    "pet-waste",
    "human-waste",
    "treated",
    "coal-ash",
    "plastic",
    "diseased",
}


@st.composite
def households(draw: st.DrawFn) -> Household:
    asked = draw(st.lists(st.sampled_from(sorted(ANSWERS)), unique=True, max_size=10))
    answers = {name: (draw(st.sampled_from(sorted(ANSWERS[name].words))),) for name in asked}
    if draw(st.booleans()):
        answers["place.holds"] = (draw(st.floats(20, 2000)),)
    materials = draw(st.lists(st.sampled_from(sorted(KNOWLEDGE.materials)), unique=True, max_size=6))
    holdings = []
    for material in materials:
        count = draw(st.integers(1, 40)) / 2
        measure = draw(st.sampled_from(["bucket", "sack", "wheelbarrow", "kg", "L"]))
        per = draw(st.sampled_from(["once", "once", "week", "day", "month"]))
        holdings.append(Holding(material, Quantity(count, count, count, measure, per), f"{count} {measure} {material}"))
    room = draw(st.none() | st.builds(Room, st.floats(0.2, 12), st.floats(0.2, 6), st.none() | st.floats(0.5, 3)))
    return Household("drawn", tuple(holdings), answers, room)


@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(households())
def test_nothing_unsafe_and_nothing_contradictory(household: Household) -> None:
    plan = consult(household, KNOWLEDGE, shipped_engine(), with_doubts=False)
    used = {part.material for part in (*plan.recipe.lines, *plan.recipe.fetch, *plan.recipe.poured)}
    traits = {trait for name in used for trait in KNOWLEDGE.materials[name].traits}
    method = plan.choice.method

    # The method that stands was not ruled out, and what stays out is not in the mix.
    assert not plan.choice.ranking[0].ruled_out
    if method in HEAPS:
        assert not traits & NEVER_IN_A_HEAP
    assert not any(KNOWLEDGE.materials[name].role == "never" for name in used)
    if method == "worm-bin":
        assert not traits & {"citrus", "onion-family", "salty", "meat", "dairy", "concentrate"}

    # Where there are rats or scavengers, what they eat never goes into an open heap, on hand or to be fetched.
    if set(household.answers.get("place.pests", ())) & {"rats", "scavengers"} and "draws-rats" in traits:
        assert method not in ("open-heap", "windrow")
    if household.answers.get("place.space") == ("flat",):
        assert method not in (*HEAPS, "trench")

    cautions = {because.statement for line in plan.cautions for because in line.why}
    text = " ".join(line.text for line in plan.cautions)
    # The cautions that apply, and no others.
    assert ("120 days" in text) == ("farm-manure" in traits)
    assert ("three pots of beans" in text) == ("may-carry-herbicide" in traits)
    assert ("sealed bucket makes gas" in text) == (method == "fermented-bucket")
    assert ("weak lungs" in text) == (household.answers.get("wish.care") == ("yes",))
    if plan.body is not None and plan.body.litres >= 3000 and method in ("open-heap", "bin", "windrow"):
        assert "how heaps catch fire" in text
    assert cautions or not plan.cautions

    _is_in_order(plan)


def _is_in_order(plan: Plan) -> None:
    lines = plan.lines()
    names = [line.id for line in lines]
    assert len(names) == len(set(names))
    for line in lines:
        assert line.text.strip() and not re.search(r"[{}]", line.text), line.text
        assert line.why or line.id == "e0", line
    assert Plan.model_validate(json.loads(plan.model_dump_json())) == plan
    assert "nan" not in page(plan).split()
    for line in plan.recipe.lines:
        assert line.litres > 0
    days = [event.day for event in plan.events]
    assert days == sorted(days)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(households(), st.randoms(use_true_random=False))
def test_the_order_of_what_was_told_does_not_matter(household: Household, random: object) -> None:
    shuffled = list(household.holdings)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    other = Household(household.name, tuple(shuffled), household.answers, household.room)
    one = consult(household, KNOWLEDGE, shipped_engine(), with_doubts=False)
    two = consult(other, KNOWLEDGE, shipped_engine(), with_doubts=False)
    assert {(r.material, r.count) for r in one.recipe.lines} == {(r.material, r.count) for r in two.recipe.lines}
    assert one.choice == two.choice
    assert one.cautions == two.cautions
