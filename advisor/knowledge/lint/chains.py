"""How rules hang together: which feeds which, and in what situations a rule fires, its feeders counted in."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import cached_property
from graphlib import CycleError, TopologicalSorter
from itertools import product

from advisor.knowledge.base import Conclusion, Knowledge, Rule
from advisor.knowledge.conditions import Condition
from advisor.knowledge.lint.claims import Claim, Situation, claim, joined
from advisor.knowledge.lint.domains import Domain, Span, Words
from advisor.knowledge.lint.reach import Reach
from advisor.records import dataclass

#: More alternatives than this are not followed: a condition is then taken as it stands, to be safe.
_MOST_ALTERNATIVES = 500


@dataclass(frozen=True)
class Chains:
    """Rules as a graph, each joined to those whose conditions its conclusions can meet."""

    knowledge: Knowledge
    rules: tuple[Rule, ...]
    reach: Reach

    @cached_property
    def _by_name(self) -> Mapping[tuple[str, str], list[tuple[Rule, Conclusion]]]:
        found: dict[tuple[str, str], list[tuple[Rule, Conclusion]]] = defaultdict(list)
        for rule in self.rules:
            for conclusion in rule.then:
                found[conclusion.kind, conclusion.attribute].append((rule, conclusion))
        return found

    def feeders(self, rule: Rule, condition: Condition) -> Iterator[tuple[Rule, Conclusion]]:
        """The rules, and the conclusion of each, that can make a condition of the rule true."""
        if condition.unknown:
            return
        reach = self.reach
        if condition.subjects or not self.knowledge.kinds[condition.kind].subjects:
            wanted = reach.passing(condition)
        else:
            wanted = reach.matched(rule, condition.kind)
        for feeder, conclusion in self._by_name.get((condition.kind, condition.attribute), ()):
            if condition.passes(conclusion.value) and wanted & reach.concluded_of(feeder, conclusion):
                yield feeder, conclusion

    def cycles(self) -> list[tuple[Rule, ...]]:
        """Rings of rules in which each feeds the next and the last feeds the first."""
        edges = {
            rule: {feeder for condition in rule.when for feeder, _ in self.feeders(rule, condition)}
            for rule in self.rules
        }
        found = []
        while True:
            try:
                TopologicalSorter(edges).prepare()
            except CycleError as error:
                ring: list[Rule] = error.args[1]  # first and last are the same; each feeds the next
                found.append(tuple(ring))
                edges[ring[1]].discard(ring[0])
            else:
                return found

    @cached_property
    def _known(self) -> dict[Rule, tuple[Situation, ...]]:
        return {}

    def situations(self, rule: Rule) -> tuple[Situation, ...]:
        """Every way the rule can come to fire, its feeders' conditions drawn in; empty if there is none."""
        if rule not in self._known:
            self._known[rule] = ()  # while it is being worked out: a ring gives no new way
            self._known[rule] = self._worked_out(rule)
        return self._known[rule]

    def _worked_out(self, rule: Rule) -> tuple[Situation, ...]:
        kinds = self.knowledge.kinds
        ways: list[Situation] = [()]
        for condition in rule.when:
            own = claim(condition, kinds)
            options = list(self._options(rule, condition, own))
            if len(ways) * len(options) > _MOST_ALTERNATIVES:
                options = [(own,)]
            met_together = (joined((*way, *option), kinds) for way, option in product(ways, options))
            ways = list(dict.fromkeys(way for way in met_together if way is not None))
        return tuple(ways)

    def _options(self, rule: Rule, condition: Condition, own: Claim) -> Iterator[Situation]:
        kind = self.knowledge.kinds[condition.kind]
        one_fact = not kind.subjects or len(condition.subjects) == 1
        if kind.attributes[condition.attribute].origin != "concluded" or not one_fact:
            yield (own,)
            return
        for feeder, conclusion in self.feeders(rule, condition):
            value: Domain
            if isinstance(conclusion.value, str):
                value = Words(frozenset({conclusion.value}))
            else:
                value = Span(conclusion.value, conclusion.value)
            mine = Claim(own.kind, own.attribute, own.subjects, value)
            for way in self.situations(feeder):
                yield (mine, *(other for other in way if other.subjects or not self._many(other)))

    def _many(self, other: Claim) -> bool:
        """Whether it is about some one subject of many: a feeder's may be another than this rule's."""
        return bool(self.knowledge.kinds[other.kind].subjects)
