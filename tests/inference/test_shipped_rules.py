"""The engine and the plain evaluator agree on the program's own rules, whatever is told."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

import pytest
from cases import KNOWLEDGE, PARTS, Part, both
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.inference.evaluate import Fired, State
from advisor.inference.facts import Fact
from advisor.knowledge.shapes import Kind


@cache
def tellable(part: Part) -> tuple[Fact, ...]:
    """Facts that a condition of the part's rules may meet: its own words, and numbers on both sides of its bounds."""
    rules, kinds = part(KNOWLEDGE)
    found: dict[Fact, None] = {}
    for rule in rules:
        for condition in rule.when:
            declared = kinds[condition.kind].attributes[condition.attribute]
            if condition.unknown or declared.origin == "concluded":
                continue
            subjects = condition.subjects or sorted(KNOWLEDGE.subjects(condition.kind))[::7] or ("",)
            values: list[str | float] = [word for word in declared.words if condition.passes(word)]
            if declared.number is not None:
                bounds = [float(test.values[0]) for test in condition.tests]
                near = [bound + step for bound in bounds for step in (-0.0001, 0.0, 0.0001)]
                values = [value for value in near if declared.number[0] <= value <= declared.number[1]]
            found |= dict.fromkeys(
                Fact(condition.kind, condition.attribute, subject, value) for subject in subjects for value in values
            )
    return tuple(found)


def without_contradictions(facts: list[Fact], kinds: Mapping[str, Kind]) -> list[Fact]:
    kept: dict[tuple[object, ...], Fact] = {}
    for fact in facts:
        many = kinds[fact.kind].attributes[fact.attribute].many
        kept.setdefault((fact.kind, fact.attribute, fact.subject, fact.value if many else None), fact)
    return list(kept.values())


@pytest.mark.parametrize("part", PARTS)
@settings(max_examples=25, deadline=None)
@given(st.data())
def test_the_engine_and_the_evaluator_agree_on_our_rules(part: Part, data: st.DataObject) -> None:
    engine, rulebook = both(part)
    drawn = data.draw(st.lists(st.sampled_from(tellable(part)), max_size=25, unique=True))
    told = without_contradictions(drawn, engine.kinds)
    with engine.consultation() as talk:
        talk.tell(told, "told")
        talk.close_answers()
    state = State(rulebook)
    state.tell(told[::2])
    state = state.layer()
    state.tell(told[1::2])
    state.close_answers()
    assert {fact.key for fact in state.known} == talk.known.keys()
    firings = [Fired(one.rule, frozenset(one.matched), frozenset(one.concluded)) for one in talk.firings]
    assert sorted(state.firings, key=repr) == sorted(firings, key=repr)
