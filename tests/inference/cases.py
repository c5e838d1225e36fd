"""Cases made from the rules themselves: facts that meet a rule, and facts that just miss one of its bounds."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from advisor.inference.engine import Engine
from advisor.inference.evaluate import Rulebook
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge, Rule
from advisor.knowledge.conditions import Condition, Value
from advisor.knowledge.load import shipped
from advisor.knowledge.parts import care, paces, replacing, soil, troubles
from advisor.knowledge.shapes import Kind

KNOWLEDGE = shipped()
Part = Callable[[Knowledge], tuple[tuple[Rule, ...], Mapping[str, Kind]]]
PARTS: tuple[Part, ...] = (replacing, paces, troubles, soil, care)

#: The least by which two numbers of facts differ.
STEP = 0.0001


@dataclass(frozen=True, slots=True)
class Bound:
    """Two cases of a rule that differ in one number: just within a bound of a condition, and just beyond it."""

    rule: Rule
    condition: Condition
    within: tuple[Fact, ...]
    beyond: tuple[Fact, ...]


@cache
def both(part: Part) -> tuple[Engine, Rulebook]:
    """A part of the shipped rules, ready for the engine and for the evaluator."""
    rules, kinds = part(KNOWLEDGE)
    return Engine(rules, kinds), Rulebook(rules, kinds)


def witness(rule: Rule, knowledge: Knowledge) -> tuple[Fact, ...] | None:
    """Facts on which a rule fires; None if one value would have to be two things at once."""
    return _told(rule, knowledge, {})


def bounds(rule: Rule, knowledge: Knowledge) -> Iterator[Bound]:
    """Both sides of each numeric bound of a rule that its attribute can pass."""
    for place, condition in enumerate(rule.when):
        low, high = knowledge.kinds[condition.kind].attributes[condition.attribute].number or (0.0, 0.0)
        for test in condition.tests if low < high else ():
            bound = float(test.values[0])
            up = test.operator in (">", ">=")
            inside = bound if "=" in test.operator else bound + (STEP if up else -STEP)
            outside = round(inside - (STEP if up else -STEP), 4)
            within = _told(rule, knowledge, {place: round(inside, 4)})
            beyond = _told(rule, knowledge, {place: outside})
            if within is not None and beyond is not None and low <= outside <= high:
                yield Bound(rule, condition, within, beyond)


def at_value(rule: Rule, knowledge: Knowledge, name: str, figure: float) -> tuple[Fact, ...] | None:
    """Facts that meet a rule but for one attribute, "kind.attribute", which has the figure, meet it or not."""
    places = [place for place, condition in enumerate(rule.when) if condition.name == name and not condition.unknown]
    return _told(rule, knowledge, dict.fromkeys(places, round(figure, 4))) if places else None


class Surroundings:
    """Cases in which a rule fires among others: its own facts, with those of some other rules."""

    def __init__(self, rules: Sequence[Rule], knowledge: Knowledge) -> None:
        self.rules, self.kinds = rules, knowledge.kinds
        self.own = {rule.id: witness(rule, knowledge) or () for rule in rules}

    def of(self, rule: Rule, tries: int, chance: random.Random) -> Iterator[list[Fact]]:
        """Cases of a rule, mostly with rules that speak of the same thing; the first value of an attribute stands."""
        about = {then.subject for then in rule.then}
        kin = [each for each in self.rules if each is not rule and about & {then.subject for then in each.then}]
        silent = {condition.name for condition in rule.when if condition.unknown}
        for _ in range(tries):
            near = chance.sample(kin, chance.randint(0, min(3, len(kin))))
            told: dict[tuple[object, ...], Fact] = {}
            for one in (rule, *near, *chance.sample(self.rules, chance.randint(0, 3))):
                for fact in self.own[one.id]:
                    many = self.kinds[fact.kind].attributes[fact.attribute].many
                    if f"{fact.kind}.{fact.attribute}" not in silent:
                        told.setdefault((fact.kind, fact.attribute, fact.subject, fact.value if many else None), fact)
            yield list(told.values())


def _told(rule: Rule, knowledge: Knowledge, fixed: Mapping[int, float]) -> tuple[Fact, ...] | None:
    told: dict[tuple[str, str, str], list[Value]] = {}
    for place, condition in enumerate(rule.when):
        if condition.unknown:
            continue
        kind = knowledge.kinds[condition.kind]
        name = condition.kind, condition.attribute, _subject(condition, rule, knowledge)
        values = told.setdefault(name, [])
        if place in fixed:
            values[:] = [fixed[place]]
        elif not condition.met_by(values):
            found = _meeting(condition, rule, kind)
            if found is None or (values and not kind.attributes[condition.attribute].many):
                return None
            values.append(found)
    return tuple(Fact(*name, value) for name, values in told.items() for value in values)


def _subject(condition: Condition, rule: Rule, knowledge: Knowledge) -> str:
    """One subject for all conditions of a rule on a kind: one that is named, where any names one."""
    if condition.subjects:
        return condition.subjects[0]
    named = [each.subjects[0] for each in rule.when if each.kind == condition.kind and each.subjects]
    return (named or sorted(knowledge.subjects(condition.kind)) or [""])[0]


def _meeting(condition: Condition, rule: Rule, kind: Kind) -> Value | None:
    """A value that meets a condition and all others of the rule on the same attribute, where one can."""
    attribute = kind.attributes[condition.attribute]
    alike = [each for each in rule.when if each.name == condition.name and not each.unknown]
    candidates: list[Value] = list(attribute.words)
    if attribute.number is not None:
        edges = [float(test.values[0]) for each in alike for test in each.tests]
        near = [round(edge + step, 4) for edge in edges for step in (0.0, STEP, -STEP)]
        candidates = [value for value in near if attribute.number[0] <= value <= attribute.number[1]]
    both = [value for value in candidates if all(each.passes(value) for each in alike)]
    one = [value for value in candidates if condition.passes(value)]
    return (both or one or [None])[0]
