"""What a further sign would add: the rules of signs and causes run ahead in plain Python, a rule at a time.

The engine answers what is; asking it once for each possible answer would take too long. This does the same for the
part of the rules that leads to causes (they only compare words and numbers of one thing), and a test holds the two
together.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import field
from functools import cached_property

from advisor.diagnosis.weighing import points
from advisor.knowledge.base import Knowledge, Rule
from advisor.knowledge.conditions import Condition, Value, parse
from advisor.knowledge.shapes import Question
from advisor.records import dataclass

#: kind.attribute of signs and states to the values that hold.
Known = dict[str, set[Value]]


@dataclass
class Seen:
    """What holds, and what was said of each cause: its score, and whether it was ruled out."""

    known: Known = field(default_factory=lambda: defaultdict(set))
    fired: set[str] = field(default_factory=set)
    favour: dict[str, float] = field(default_factory=lambda: defaultdict(float))
    ruled_out: set[str] = field(default_factory=set)


@dataclass(frozen=True)
class Foresight:
    """The rules from signs to causes, ready to be run ahead."""

    knowledge: Knowledge

    @cached_property
    def _by_name(self) -> Mapping[str, tuple[tuple[Rule, Condition], ...]]:
        found: dict[str, list[tuple[Rule, Condition]]] = defaultdict(list)
        for rule in self.knowledge.rules:
            if rule.stratum in ("signs", "causes"):
                for condition in rule.when:
                    found[condition.name].append((rule, condition))
        return {name: tuple(pairs) for name, pairs in found.items()}

    @cached_property
    def _by_word(self) -> Mapping[tuple[str, Value], tuple[Rule, ...]]:
        """The rules that a word of an attribute may set off."""
        found: dict[tuple[str, Value], dict[str, Rule]] = defaultdict(dict)
        for name, pairs in self._by_name.items():
            kind, _, attribute = name.partition(".")
            for word in self.knowledge.kinds[kind].attributes[attribute].words:
                for rule, condition in pairs:
                    if _passes(condition, word):
                        found[name, word][rule.id] = rule
        return {key: tuple(rules.values()) for key, rules in found.items()}

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
        state = Seen()
        for attribute, values in signs.items():
            for value in values:
                self._add(state, f"sign.{attribute}", value)
        return state

    def further(self, state: Seen, attribute: str, value: Value) -> tuple[dict[str, float], set[str]]:
        """What one more sign would add to each cause, and which causes it would rule out."""
        trial = Seen(_Layered(state.known), set(), defaultdict(float), set())
        self._add(trial, f"sign.{attribute}", value, state.fired)
        return dict(trial.favour), trial.ruled_out

    def _add(self, state: Seen, name: str, value: Value, before: frozenset[str] | set[str] = frozenset()) -> None:
        waiting = [(name, value)]
        while waiting:
            name, value = waiting.pop()
            if value in state.known[name]:
                continue
            state.known[name] = {*state.known[name], value}
            for rule in self._touched(name, value):
                if rule.id in state.fired or rule.id in before:
                    continue
                if all(_holds(condition, state.known) for condition in rule.when):
                    state.fired.add(rule.id)
                    for then in rule.then:
                        if then.kind == "state":
                            waiting.append(("state.found", then.value))
                        elif then.attribute == "favour" and isinstance(then.value, float):
                            state.favour[then.subject] += points(then.value)
                        elif then.attribute == "ruled_out":
                            state.ruled_out.add(then.subject)

    def _touched(self, name: str, value: Value) -> Iterable[Rule]:
        if isinstance(value, str):
            return self._by_word.get((name, value), ())
        return (rule for rule, condition in self._by_name.get(name, ()) if _passes(condition, value))


class _Layered(defaultdict[str, set[Value]]):
    """What is known, with further signs laid over it and nothing changed below."""

    def __init__(self, below: Known) -> None:
        super().__init__(set)
        self.below = below

    def __missing__(self, name: str) -> set[Value]:
        return self.below.get(name, set())


def _passes(condition: Condition, value: Value) -> bool:
    return all(test.holds(value) for test in condition.tests)


def _holds(condition: Condition, known: Known) -> bool:
    return any(_passes(condition, value) for value in known[condition.name])
