"""One rule, or one question, by itself: conditions that say nothing, or too much."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

from advisor.knowledge.conditions import Condition
from advisor.knowledge.lint.claims import ALONE, claim, clash, implies, joined, same_fact
from advisor.knowledge.lint.domains import declared, passing
from advisor.knowledge.lint.view import Finding, View


class _Conditioned(NamedTuple):
    file: str
    place: str
    when: tuple[Condition, ...]

    def finding(self, message: str) -> Finding:
        return Finding(self.file, self.place, message)


def _conditioned(view: View) -> Iterator[_Conditioned]:
    for rule in view.knowledge.rules:
        yield _Conditioned(rule.place, rule.id, rule.when)
    for question, when in view.questions:
        yield _Conditioned("rules/questions.toml", question.attribute, when)


def constant_condition(view: View) -> Iterator[Finding]:
    """A comparison that every value passes.

    An attribute of one word (`method.ruled_out`, `caution.stands`) is left alone: that it is known counts.
    """
    for holder in _conditioned(view):
        for condition in holder.when:
            attribute = view.attribute(condition)
            if len(attribute.words) == 1:
                continue
            for test in condition.tests:
                if declared(attribute).within(passing(test, attribute)):
                    values = ", ".join(f"{value}" if isinstance(value, str) else f"{value:g}" for value in test.values)
                    message = f'every value there can be passes "{test.operator} {values}" in "{condition.text}"'
                    yield holder.finding(message)


def impossible_condition(view: View) -> Iterator[Finding]:
    """Conditions that cannot hold together, or one that no value passes."""
    kinds = view.knowledge.kinds
    for holder in _conditioned(view):
        claims = {condition: claim(condition, kinds) for condition in holder.when}
        empty = [condition for condition, made in claims.items() if made.domain is not None and made.domain.empty]
        clashing = [
            pair
            for pair in combinations(claims, 2)
            if same_fact(claims[pair[0]], claims[pair[1]])
            and clash(claims[pair[0]], claims[pair[1]], view.attribute(pair[0]))
            and not set(pair) & set(empty)
        ]
        for condition in empty:
            yield holder.finding(f'no value passes "{condition.text}"')
        for one, other in clashing:
            yield holder.finding(f'"{one.text}" and "{other.text}" cannot both hold')
        if not empty and not clashing and joined(claims.values(), kinds) is None:
            yield holder.finding("its conditions cannot all hold at once")


def redundant_condition(view: View) -> Iterator[Finding]:
    """A condition that another of the same rule already asks."""
    kinds = view.knowledge.kinds
    for holder in _conditioned(view):
        claims = [claim(condition, kinds) for condition in holder.when]
        for index, condition in enumerate(holder.when):
            for other, stronger in enumerate(holder.when):
                twins = claims[index] == claims[other]
                if other == index or (twins and other > index) or not same_fact(claims[other], claims[index]):
                    continue
                if implies((claims[other],), (claims[index],)):
                    yield holder.finding(f'"{condition.text}" adds nothing to "{stronger.text}"')
                    break


def unlike_one_of_many(view: View) -> Iterator[Finding]:
    """`!=` on an attribute of which several values may hold: one other value is enough to make it true.

    `!= 'none'` is left alone: "none" stands by itself, so there it means what it says.
    """
    for holder in _conditioned(view):
        for condition in holder.when:
            attribute = view.attribute(condition)
            for test in condition.tests:
                if attribute.many and test.operator == "!=" and not ALONE.issuperset(test.values):
                    message = (
                        f'"{condition.text}" is true as soon as {condition.name} has any other value too; '
                        "name the words it may have"
                    )
                    yield holder.finding(message)
