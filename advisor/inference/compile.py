"""Rules as the engine takes them: each condition becomes one pattern on small facts.

To the engine a fact is `{"kind": "holding.trait", "subject": "hay", "value": "seedy", "id": "f7"}`. A pattern
is a list of tests that one fact must pass, in an order that matters to durable-rules 2.0.28:

* plain comparisons first, because rules that begin alike share them;
* then the join, which ties the subject to that of an earlier pattern;
* alternatives (`in`, several named subjects) last: a join that stands after alternatives is never looked at.

Nothing here imports the engine, so the lint can measure the same patterns (limits.py).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from advisor.errors import InferenceFault
from advisor.inference.facts import ABSENCE, plain
from advisor.knowledge.base import Rule
from advisor.knowledge.conditions import Condition, Test, Value
from advisor.records import dataclass

_ENGINE_SIGNS = {"!=": "$neq", "<": "$lt", "<=": "$lte", ">": "$gt", ">=": "$gte"}


@dataclass(frozen=True, slots=True)
class Compare:
    """A part of the fact compared with a constant."""

    part: Literal["kind", "subject", "value"]
    sign: str  # ==, !=, <, <=, >, >=
    constant: Value

    def for_engine(self) -> dict[str, Any]:
        """The test in the engine's notation, which writes equality without a sign."""
        equal: dict[str, Any] = {self.part: self.constant}
        return {_ENGINE_SIGNS[self.sign]: equal} if self.sign in _ENGINE_SIGNS else equal


@dataclass(frozen=True, slots=True)
class Join:
    """The fact has the subject of the one that met the pattern of that name."""

    pattern: str

    def for_engine(self) -> dict[str, Any]:
        """The test in the engine's notation."""
        return {"subject": {self.pattern: "subject"}}


@dataclass(frozen=True, slots=True)
class Either:
    """One of several comparisons holds, and never two: the engine would fire once for each."""

    options: tuple[Compare, ...]

    def for_engine(self) -> dict[str, Any]:
        """The test in the engine's notation."""
        return {"$or": [option.for_engine() for option in self.options]}


@dataclass(frozen=True, slots=True)
class Pattern:
    """The tests one fact must pass. `name` tells the patterns of a rule apart."""

    name: str
    tests: tuple[Compare | Join | Either, ...]

    def for_engine(self) -> dict[str, Any]:
        """The pattern in the engine's notation, made anew each time: the engine alters what it is given."""
        return {self.name: {"$and": [test.for_engine() for test in self.tests]}}


@dataclass(frozen=True, slots=True)
class Compiled:
    """A rule ready for the engine.

    Attributes:
        rule: the rule as written.
        patterns: in the engine's order.
        order: names of the patterns in the order of the rule's conditions.
        leads: for each kind with conditions, the place (from 0) of the condition whose subject a conclusion
            about the "same" takes.
    """

    rule: Rule
    patterns: tuple[Pattern, ...]
    order: tuple[str, ...]
    leads: Mapping[str, int]


def compiled(rule: Rule) -> Compiled:
    """Compile one rule.

    Raises:
        InferenceFault: it compares numbers for equality or more finely than facts are kept, or it concludes
            about the "same" thing of a kind it has no condition on.
    """
    order = tuple(f"p{place}" for place in range(len(rule.when)))
    # The pattern that leads needs no join; let those with alternatives lead, so that fewer have both.
    places = sorted(range(len(rule.when)), key=lambda place: not _has_alternatives(rule.when[place]))
    anchors: dict[str, str] = {}
    patterns = []
    for place in places:
        condition = rule.when[place]
        anchor = anchors.get(condition.kind) if _joins(condition) else None
        patterns.append(Pattern(order[place], tuple(_tests(condition, anchor, rule.id))))
        if _joins(condition):
            anchors.setdefault(condition.kind, order[place])
    return Compiled(rule, tuple(patterns), order, _leads(rule))


def message(fact_id: str, kind: str, attribute: str, subject: str, value: Value) -> dict[str, Value]:
    """A fact in the engine's notation, with an id of ours: the engine would hash one, and hashes collide."""
    return {"kind": _kind(kind, attribute), "subject": subject, "value": value, "id": fact_id}


def _kind(kind: str, attribute: str) -> str:
    return ABSENCE if kind == ABSENCE else f"{kind}.{attribute}"


def _joins(condition: Condition) -> bool:
    """Whether it speaks of the same subject as its neighbours, as all do that name none.

    For a kind without subjects every subject is empty, and the join holds of itself.
    """
    return not condition.unknown and not condition.subjects


def _has_alternatives(condition: Condition) -> bool:
    return len(set(condition.subjects)) > 1 or any(len(set(test.values)) > 1 for test in condition.tests)


def _tests(condition: Condition, anchor: str | None, rule: str) -> list[Compare | Join | Either]:
    if condition.unknown:
        return [Compare("kind", "==", ABSENCE), Compare("subject", "==", condition.name)]
    tests: list[Compare | Join | Either] = [Compare("kind", "==", _kind(condition.kind, condition.attribute))]
    comparisons = [[Compare("subject", "==", subject) for subject in sorted(set(condition.subjects))]]
    for test in condition.tests:
        sign = "==" if test.operator == "in" else test.operator
        values = sorted({_constant(value, test, condition, rule) for value in test.values}, key=str)
        comparisons.append([Compare("value", sign, value) for value in values])
    tests += [options[0] for options in comparisons if len(options) == 1]
    if anchor:
        tests.append(Join(anchor))
    tests += [Either(tuple(options)) for options in comparisons if len(options) > 1]
    return tests


def _constant(value: Value, test: Test, condition: Condition, rule: str) -> Value:
    if isinstance(value, str):
        return value
    where = f"rule {rule}: {condition.text}"
    if test.operator in ("==", "!=", "in"):
        raise InferenceFault("numbers are compared with <, <=, > or >=", where=where)
    kept = plain(value, where)
    if kept != value:
        raise InferenceFault("facts are kept to four decimals, and this bound is finer", where=where)
    return kept


def _leads(rule: Rule) -> dict[str, int]:
    leads: dict[str, int] = {}
    for joining in (True, False):  # a condition that names its subject leads only where all do
        for place, condition in enumerate(rule.when):
            if not condition.unknown and _joins(condition) is joining:
                leads.setdefault(condition.kind, place)
    for conclusion in rule.then:
        if conclusion.same and conclusion.kind not in leads:
            raise InferenceFault(f"no condition is about a {conclusion.kind}", where=f"rule {rule.id}")
    return leads
