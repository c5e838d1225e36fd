"""What is mixed beside a plan aims where the rules aim, and moves with them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from advisor.counsel.aims import window_for
from advisor.counsel.deep_bed import Season, deep_bed
from advisor.counsel.herds import herds_told
from advisor.counsel.substitutes import shipped_replacing_engine
from advisor.knowledge.base import Knowledge
from advisor.knowledge.load import shipped
from advisor.soil_counsel.gather import goal_for

KNOWLEDGE = shipped()


def aiming(rule_id: str, aim: float) -> Knowledge:
    """The rule base with another aim, and its window about it, in one rule."""
    edges = {"low": aim - 1, "aim": aim, "high": aim + 1}
    rule = KNOWLEDGE.rule(rule_id)
    then = tuple(each._replace(value=edges.get(each.attribute, each.value)) for each in rule.then)
    return replace(
        KNOWLEDGE, rules=tuple(each._replace(then=then) if each is rule else each for each in KNOWLEDGE.rules)
    )


def bedding_kg(knowledge: Knowledge) -> float:
    found = deep_bed(herds_told("2 goats"), Season(26), knowledge, shipped_replacing_engine())
    return sum(each.kilograms for each in found.laid)


def test_the_windows_are_those_that_are_written_in_the_rules() -> None:
    """25 to 35 and 20 to 40 parts of carbon: art-and-science-table-1."""
    hot = window_for("carbon-nitrogen", "open-heap", "quick", KNOWLEDGE)
    row = window_for("carbon-nitrogen", "windrow", "steady", KNOWLEDGE)
    assert (hot.low, hot.aim, hot.high) == (25, 30, 35)
    assert (row.low, row.aim, row.high) == (20, 30, 40)


def test_a_method_that_is_not_balanced_has_no_window() -> None:
    with pytest.raises(ValueError, match="no window of carbon-nitrogen"):
        window_for("carbon-nitrogen", "worm-bin", "steady", KNOWLEDGE)


def test_bedding_follows_the_aim_of_the_rules() -> None:
    assert bedding_kg(aiming("steady-row-carbon-nitrogen", 60)) > 1.2 * bedding_kg(KNOWLEDGE)


def test_what_is_gathered_for_the_beds_follows_the_aim_of_the_rules() -> None:
    assert goal_for("open-heap", aiming("hot-heap-carbon-nitrogen", 37)).carbon_nitrogen == 37
