"""What a further sign would add to each cause: the rules of signs and causes, put to the plain evaluator.

The engine answers what is. It would take too long to ask it once for each answer that a question may get.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from functools import cached_property

from advisor.diagnosis.weighing import points
from advisor.inference.evaluate import Rulebook, State
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge, Rule
from advisor.knowledge.conditions import Condition, Value, parse
from advisor.knowledge.shapes import Question
from advisor.records import dataclass


@dataclass(frozen=True)
class Seen:
    """What follows from signs: the rules that fired, the score of each cause, and the causes that are ruled out."""

    state: State
    fired: frozenset[str]
    favour: Mapping[str, float]
    ruled_out: frozenset[str]


@dataclass(frozen=True)
class Foresight:
    """The rules from signs to causes, ready to be tried."""

    knowledge: Knowledge

    @cached_property
    def _rules(self) -> Mapping[str, Rule]:
        return {rule.id: rule for rule in self.knowledge.rules if rule.stratum in ("signs", "causes")}

    @cached_property
    def _rulebook(self) -> Rulebook:
        return Rulebook(self._rules.values(), self.knowledge.kinds)

    @cached_property
    def questions(self) -> tuple[tuple[Question, tuple[Condition, ...]], ...]:
        """Every question with the conditions under which it is worth asking."""
        kinds = self.knowledge.kinds
        return tuple(
            (question, tuple(parse(text, kinds, {}) for text in question.when))
            for question in self.knowledge.sign_questions
        )

    def seen(self, signs: Mapping[str, Iterable[Value]]) -> Seen:
        """What follows from signs."""
        return self._seen(
            State(self._rulebook),
            [Fact("sign", attribute, "", value) for attribute, values in signs.items() for value in values],
        )

    def further(self, seen: Seen, attribute: str, value: Value) -> Seen:
        """What one more sign adds: to the score of each cause, and to the causes that are ruled out."""
        return self._seen(seen.state.layer(), [Fact("sign", attribute, "", value)], seen.fired)

    def _seen(self, state: State, facts: Iterable[Fact], counted: Collection[str] = ()) -> Seen:
        """What facts told to a state bring; each rule counts once, and not again if it was counted before."""
        state.tell(facts)
        fired = frozenset(firing.rule for firing in state.fresh if firing.rule not in counted)
        favour: dict[str, float] = defaultdict(float)
        ruled_out: set[str] = set()
        for name in fired:
            for then in self._rules[name].then:
                if then.attribute == "favour" and isinstance(then.value, float):
                    favour[then.subject] += points(then.value)
                elif then.attribute == "ruled_out":
                    ruled_out.add(then.subject)
        return Seen(state, fired, favour, frozenset(ruled_out))
