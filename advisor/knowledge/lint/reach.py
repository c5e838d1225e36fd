"""What can come to be: which facts some rule can conclude, and so which rules can fire at all."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping

from advisor.knowledge.base import Conclusion, Knowledge, Rule
from advisor.knowledge.conditions import Condition, Value
from advisor.knowledge.lint.tables import MATERIAL_WORDS
from advisor.records import dataclass

_ONLY_ONE = frozenset({""})

#: For each kind.attribute, the values that rules can give each subject.
Supply = Mapping[tuple[str, str], Mapping[str, frozenset[Value]]]


@dataclass(frozen=True)
class Reach:
    """The least set of rules closed under "can fire", answers and arithmetic granting whatever they may.

    `idle` says of every other rule what it waits for in vain.
    """

    knowledge: Knowledge
    supply: Supply
    firing: tuple[Rule, ...]
    idle: Mapping[Rule, str]

    @classmethod
    def of(cls, knowledge: Knowledge, rules: Iterable[Rule]) -> Reach:
        """What the given rules can bring about."""
        waiting = list(rules)
        reach = cls(knowledge, {}, (), {})
        while True:
            firing = [rule for rule in waiting if not reach.lack(rule)]
            if not firing:
                return cls(knowledge, reach.supply, reach.firing, {rule: reach.lack(rule) for rule in waiting})
            waiting = [rule for rule in waiting if rule not in firing]
            known = (*reach.firing, *firing)
            reach = cls(knowledge, reach._supplied_by(known), known, {})

    def _supplied_by(self, rules: tuple[Rule, ...]) -> Supply:
        found: dict[tuple[str, str], dict[str, set[Value]]] = defaultdict(lambda: defaultdict(set))
        for rule in rules:
            for conclusion in rule.then:
                for subject in self.concluded_of(rule, conclusion):
                    found[conclusion.kind, conclusion.attribute][subject].add(conclusion.value)
        return {name: {subject: frozenset(values) for subject, values in by.items()} for name, by in found.items()}

    def lack(self, rule: Rule) -> str:
        """What the rule waits for in vain; empty if it can fire."""
        for condition in rule.when:
            if not self.passing(condition):
                return f'nothing can make "{condition.text}" true'
        for kind in {condition.kind for condition in rule.when if not condition.subjects}:
            if not self.matched(rule, kind):
                return f"no {kind} meets all its conditions at once"
        return ""

    def matched(self, rule: Rule, kind: str) -> frozenset[str]:
        """The subjects that can meet all the rule's conditions on its unnamed subject of that kind."""
        pools = [
            self.passing(condition) for condition in rule.when if condition.kind == kind and not condition.subjects
        ]
        return frozenset.intersection(*pools) if pools else frozenset()

    def concluded_of(self, rule: Rule, conclusion: Conclusion) -> frozenset[str]:
        """The subjects that a conclusion of the rule can be about."""
        if not conclusion.same:
            return frozenset({conclusion.subject})
        free = self.matched(rule, conclusion.kind)
        if free:
            return free
        named = (condition for condition in rule.when if condition.kind == conclusion.kind and condition.subjects)
        return next((self.passing(condition) for condition in named), frozenset())

    def passing(self, condition: Condition) -> frozenset[str]:
        """The subjects of which the condition can be true; a lone "" for a kind there is only one of."""
        pool = frozenset(condition.subjects) or self.knowledge.subjects(condition.kind)
        if not self.knowledge.kinds[condition.kind].subjects:
            pool = _ONLY_ONE
        attribute = self.knowledge.kinds[condition.kind].attributes[condition.attribute]
        if attribute.origin == "concluded":
            given = self.supply.get((condition.kind, condition.attribute), {})
            return frozenset(name for name in pool if condition.met_by(given.get(name, ())))
        words = MATERIAL_WORDS.get(condition.attribute)
        if condition.kind == "holding" and words:
            materials = self.knowledge.materials
            return frozenset(name for name in pool if condition.met_by(words(materials[name])))
        if condition.name == "plan.method":
            return pool if condition.met_by(self.knowledge.methods) else frozenset()
        return pool
