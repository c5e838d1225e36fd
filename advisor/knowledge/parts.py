"""The rule base in parts: what plans a heap, what weighs two heaps, what diagnoses one, and what reads the soil.

What one part concludes no other waits for, so each engine holds its own part alone.
"""

from __future__ import annotations

from collections.abc import Mapping

from advisor.knowledge.base import CARE_KINDS, SOIL_KINDS, TROUBLE_KINDS, Knowledge, Rule
from advisor.knowledge.shapes import Kind

#: Fact kinds of what is asked beside a plan. Rules that read none of them are rules of planning.
ASKED_APART = ("replacing", "bedding", "adding")


def speaks_of_trouble(rule: Rule) -> bool:
    """Whether a rule waits for a sign, or for what follows from one."""
    return any(condition.kind in TROUBLE_KINDS for condition in rule.when)


def speaks_of_soil(rule: Rule) -> bool:
    """Whether a rule waits for a check of the soil, or of finished compost."""
    return any(condition.kind in SOIL_KINDS for condition in rule.when)


def speaks_of_care(rule: Rule) -> bool:
    """Whether a rule waits for what is known of a vessel of the diary."""
    return any(condition.kind in CARE_KINDS for condition in rule.when)


def weighs_paces(rule: Rule) -> bool:
    """Whether a rule compares the quick heap with the slow one."""
    return "pace" in {condition.kind for condition in rule.when} | {then.kind for then in rule.then}


def planning(knowledge: Knowledge) -> tuple[tuple[Rule, ...], Mapping[str, Kind]]:
    """Rules and fact kinds for a plan: no signs or checks, whose silence would be noted in every consultation."""
    rules, kinds = replacing(knowledge)
    kept = tuple(rule for rule in rules if all(condition.kind not in ASKED_APART for condition in rule.when))
    return kept, {name: kind for name, kind in kinds.items() if name not in ASKED_APART}


def replacing(knowledge: Knowledge) -> tuple[tuple[Rule, ...], Mapping[str, Kind]]:
    """Rules and fact kinds for substitutes, deep bedding and additions, with those of a plan."""
    apart = (speaks_of_trouble, speaks_of_soil, speaks_of_care, weighs_paces)
    rules = tuple(rule for rule in knowledge.rules if not any(speaks(rule) for speaks in apart))
    elsewhere = {*TROUBLE_KINDS, *SOIL_KINDS, *CARE_KINDS, "pace"}
    return rules, {name: kind for name, kind in knowledge.kinds.items() if name not in elsewhere}


def paces(knowledge: Knowledge) -> tuple[tuple[Rule, ...], Mapping[str, Kind]]:
    """Rules and fact kinds for the choice between a quick heap and a slow one, once both are planned."""
    return _part(knowledge, ("pace",), tuple(rule for rule in knowledge.rules if weighs_paces(rule)))


def troubles(knowledge: Knowledge) -> tuple[tuple[Rule, ...], Mapping[str, Kind]]:
    """Rules and fact kinds for a diagnosis."""
    return _part(knowledge, TROUBLE_KINDS, tuple(rule for rule in knowledge.rules if speaks_of_trouble(rule)))


def soil(knowledge: Knowledge) -> tuple[tuple[Rule, ...], Mapping[str, Kind]]:
    """Rules and fact kinds for finished compost and the soil it goes to."""
    return _part(knowledge, SOIL_KINDS, tuple(rule for rule in knowledge.rules if speaks_of_soil(rule)))


def care(knowledge: Knowledge) -> tuple[tuple[Rule, ...], Mapping[str, Kind]]:
    """Rules and fact kinds for what is to be done today."""
    return _part(knowledge, CARE_KINDS, tuple(rule for rule in knowledge.rules if speaks_of_care(rule)))


def _part(
    knowledge: Knowledge, own: tuple[str, ...], rules: tuple[Rule, ...]
) -> tuple[tuple[Rule, ...], Mapping[str, Kind]]:
    read = {condition.kind for rule in rules for condition in rule.when}
    concluded = {conclusion.kind for rule in rules for conclusion in rule.then}
    names = {*own, *read, *concluded}
    return rules, {name: kind for name, kind in knowledge.kinds.items() if name in names}
