"""The rule base in two parts: what plans a heap, and what diagnoses one. Neither reads the other's answers."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.knowledge.base import TROUBLE_KINDS, Knowledge, Rule
from advisor.knowledge.shapes import Kind


def speaks_of_trouble(rule: Rule) -> bool:
    """Whether a rule waits for a sign, or for what follows from one."""
    return any(condition.kind in TROUBLE_KINDS for condition in rule.when)


def planning(knowledge: Knowledge) -> tuple[tuple[Rule, ...], Mapping[str, Kind]]:
    """Rules and fact kinds for a plan: no signs, whose silence would be noted in every consultation."""
    rules = tuple(rule for rule in knowledge.rules if not speaks_of_trouble(rule))
    return rules, {name: kind for name, kind in knowledge.kinds.items() if name not in TROUBLE_KINDS}


def troubles(knowledge: Knowledge) -> tuple[tuple[Rule, ...], Mapping[str, Kind]]:
    """Rules and fact kinds for a diagnosis."""
    rules = tuple(rule for rule in knowledge.rules if speaks_of_trouble(rule))
    read = {condition.kind for rule in rules for condition in rule.when}
    concluded = {conclusion.kind for rule in rules for conclusion in rule.then}
    names = {*TROUBLE_KINDS, *read, *concluded}
    return rules, {name: kind for name, kind in knowledge.kinds.items() if name in names}
