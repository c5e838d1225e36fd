"""What the rules mean, said plainly: try every combination of facts until nothing new follows.

Slow, and without any of the engine's ways, so that the engine can be held against it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import product

from advisor.inference.facts import Fact, absence
from advisor.knowledge.base import Conclusion, Rule
from advisor.knowledge.conditions import Condition
from advisor.knowledge.shapes import Kind

#: A firing, without regard to the order in which the facts were seen.
Fired = tuple[str, frozenset[str], frozenset[str]]


def fixpoint(
    rules: Iterable[Rule], told: Iterable[Fact], kinds: Mapping[str, Kind], *, closed: bool
) -> tuple[frozenset[str], frozenset[Fired]]:
    """The keys of all facts that hold, and all firings; with `closed`, what nobody told is known to be unknown."""
    known = {fact.key: fact for fact in told}
    if closed:
        heard = {(fact.kind, fact.attribute) for fact in known.values()}
        for kind, shape in kinds.items():
            for name, attribute in shape.attributes.items():
                if attribute.origin == "answer" and (kind, name) not in heard:
                    fact = absence(kind, name)
                    known[fact.key] = fact
    firings: set[Fired] = set()
    while True:
        new = {firing: facts for rule in rules for firing, facts in _fire(rule, tuple(known.values()))}
        if firings.issuperset(new):
            return frozenset(known), frozenset(firings)
        firings.update(new)
        known.update({fact.key: fact for facts in new.values() for fact in facts})


def _fire(rule: Rule, known: tuple[Fact, ...]) -> Iterator[tuple[Fired, tuple[Fact, ...]]]:
    for chosen in product(*([fact for fact in known if _meets(condition, fact)] for condition in rule.when)):
        if _one_subject_a_kind(rule, chosen):
            facts = tuple(_follows(conclusion, rule, chosen) for conclusion in rule.then)
            keys = frozenset(fact.key for fact in facts)
            yield (rule.id, frozenset(fact.key for fact in chosen), keys), facts


def _meets(condition: Condition, fact: Fact) -> bool:
    if condition.unknown:
        return fact == absence(condition.kind, condition.attribute)
    return (
        (fact.kind, fact.attribute) == (condition.kind, condition.attribute)
        and (not condition.subjects or fact.subject in condition.subjects)
        and all(test.holds(fact.value) for test in condition.tests)
    )


def _one_subject_a_kind(rule: Rule, chosen: tuple[Fact, ...]) -> bool:
    subjects: dict[str, set[str]] = {}
    for condition, fact in zip(rule.when, chosen, strict=True):
        if not condition.unknown and not condition.subjects:
            subjects.setdefault(condition.kind, set()).add(fact.subject)
    return all(len(found) == 1 for found in subjects.values())


def _follows(conclusion: Conclusion, rule: Rule, chosen: tuple[Fact, ...]) -> Fact:
    subject = conclusion.subject
    if conclusion.same:
        about = [
            (bool(condition.subjects), place)
            for place, condition in enumerate(rule.when)
            if condition.kind == conclusion.kind and not condition.unknown
        ]
        subject = chosen[min(about)[1]].subject
    return Fact(conclusion.kind, conclusion.attribute, subject, conclusion.value)
