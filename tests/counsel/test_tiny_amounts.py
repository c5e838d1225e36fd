"""Whatever is told, however little, stands in the mix, among what goes with it, or among what is left."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.counsel.consult import consult, shipped_engine
from advisor.counsel.plan import Plan
from advisor.household.files import household_from_options
from advisor.knowledge.load import shipped

KNOWLEDGE = shipped()
OTHERS = ["", "3 sacks dry leaves, 2 buckets grass clippings", "3 sacks dry leaves", "2 buckets grass clippings"]
MATERIALS = ["coffee grounds", "straw", "wood ash", "sawdust", "horse manure", "hedge clippings", "eggshells"]


def planned(have: str) -> Plan:
    return consult(household_from_options(have, KNOWLEDGE), KNOWLEDGE, shipped_engine())


def places(plan: Plan, name: str) -> list[str]:
    """The lines of the mix, of what is added, left over and kept out that speak of a material."""
    lines = [*(line.line for line in plan.recipe.lines), *plan.recipe.additions, *plan.left_over, *plan.stays_out]
    return [line.text for line in lines if name.casefold() in line.text.casefold()]


@given(
    st.sampled_from(OTHERS),
    st.sampled_from(MATERIALS),
    st.sampled_from(["0.001 L", "0.01 L", "0.05 L", "0.1 L", "0.3 L", "0.001 kg", "1 g", "0.03 sacks", "0.001 L"]),
    st.sampled_from(["", " a week"]),
)
@settings(max_examples=60, deadline=None)
def test_nothing_told_is_gone(others: str, name: str, amount: str, often: str) -> None:
    plan = planned(", ".join(part for part in (others, f"{amount} {name}{often}") if part))
    held = next(heard for heard in plan.heard if name.split()[-1] in heard.line.text)
    assert places(plan, KNOWLEDGE.materials[held.material].name), plan.left_over


def test_a_thousandth_of_a_litre_is_left_over_with_its_reason() -> None:
    plan = planned("3 sacks dry leaves, 2 buckets grass clippings, 0.001 L coffee grounds")
    (line,) = [line for line in plan.left_over if "coffee" in line.text]
    assert line.text == "1 ml of coffee grounds"
    assert "put it in with the rest" in line.why[0].because


def test_less_than_half_a_sack_is_counted_in_something_smaller() -> None:
    plan = planned("2 buckets grass clippings, 0.03 sacks straw")
    (straw,) = [line for line in plan.recipe.lines if line.material == "straw"]
    assert "L of straw" in straw.line.text


@pytest.mark.parametrize("amount", ["1 L", "4.9 L"])
def test_the_rest_of_a_measure_is_no_news(amount: str) -> None:
    plan = planned(f"3 sacks dry leaves, 2 buckets grass clippings, {amount} coffee grounds")
    assert [line for line in plan.recipe.lines if line.material == "coffee-grounds"]
    assert not [line for line in plan.left_over if "coffee" in line.text]
