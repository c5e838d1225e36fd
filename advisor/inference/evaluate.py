"""The rules in plain Python: told facts, concluded facts and firings, without the rule engine.

    rulebook = Rulebook(knowledge.rules, knowledge.kinds)
    state = State(rulebook)
    state.tell(facts)
    trial = state.layer()  # adds to what is known and leaves `state` as it is
    trial.tell(further_facts)
    trial.close_answers()

An answer that nobody has given yet can so be tried in a fraction of a millisecond. Whatever is shown to a person comes
from the engine; tests/inference holds both to the same facts and firings, for any rules and any facts. Facts are taken
as they are: whether the registry allows them is checked by the engine.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import product

from advisor.inference.facts import ABSENCE, Fact, absence
from advisor.knowledge.base import Conclusion, Rule
from advisor.knowledge.conditions import Condition, Value
from advisor.knowledge.shapes import Kind
from advisor.records import dataclass

#: A condition of a rule: the rule, and the place of the condition among its conditions.
_Place = tuple["_Ready", int]


@dataclass(frozen=True, slots=True)
class Fired:
    """A rule fired: its id, the keys of the facts that met its conditions, and the keys of what it concluded."""

    rule: str
    matched: frozenset[str]
    concluded: frozenset[str]


class _Ready:
    """A rule with what its conditions look up worked out beforehand."""

    __slots__ = ("follows", "leads", "names", "rule", "shared", "words")

    def __init__(self, rule: Rule, kinds: Mapping[str, Kind]) -> None:
        self.rule = rule
        self.names = tuple(_looked_up(condition) for condition in rule.when)
        self.words = tuple(_words(condition, kinds) for condition in rule.when)
        # conditions with no subject in brackets speak of one subject for each kind
        self.shared = tuple(
            "" if condition.unknown or condition.subjects else condition.kind for condition in rule.when
        )
        self.leads = {then.kind: _lead(then.kind, rule) for then in rule.then if then.same}
        self.follows = tuple(None if then.same else _fact(then, then.subject) for then in rule.then)

    def meets(self, place: int, fact: Fact) -> bool:
        """Whether a fact of what the condition at a place looks up meets it."""
        condition, words = self.rule.when[place], self.words[place]
        if condition.subjects and fact.subject not in condition.subjects:
            return False
        return fact.value in words if words else condition.passes(fact.value)

    def conclusions(self, matched: Sequence[Fact]) -> Iterator[Fact]:
        for then, fact in zip(self.rule.then, self.follows, strict=True):
            yield fact or _fact(then, matched[self.leads[then.kind]].subject)


class Rulebook:
    """Rules, sorted by what may set them off. Make one for a set of rules and keep it."""

    def __init__(self, rules: Iterable[Rule], kinds: Mapping[str, Kind]) -> None:
        self._by_word: dict[tuple[str, Value], list[_Place]] = defaultdict(list)
        self._by_number: dict[str, list[_Place]] = defaultdict(list)
        for rule in rules:
            ready = _Ready(rule, kinds)
            for place, name in enumerate(ready.names):
                for word in ready.words[place]:
                    self._by_word[name, word].append((ready, place))
                if not ready.words[place]:
                    self._by_number[name].append((ready, place))
        self.absences = tuple(
            (f"{kind}.{name}", absence(kind, name))
            for kind, shape in kinds.items()
            for name, attribute in shape.attributes.items()
            if attribute.origin == "answer"
        )

    def places(self, fact: Fact) -> Iterator[_Place]:
        """The conditions that a fact meets."""
        name, value = _name(fact), fact.value
        found = self._by_word.get((name, value), ()) if isinstance(value, str) else self._by_number.get(name, ())
        return (one for one in found if one[0].meets(one[1], fact))


class State:
    """What is known, and what follows from it by the rules. A state with a layer over it must not be told more."""

    def __init__(self, rulebook: Rulebook, below: State | None = None) -> None:
        self._rulebook = rulebook
        self._layers: tuple[State, ...] = (self, *(below._layers if below is not None else ()))
        self._known: dict[str, Fact] = {}
        self._by_name: dict[str, list[Fact]] = {}
        self._fired: dict[Fired, None] = {}
        self._by_conclusion: dict[str, list[Fired]] = {}

    def layer(self) -> State:
        """A state that knows all of this one and may be told more."""
        return State(self._rulebook, self)

    # ------------------------------------------------------------------ telling

    def tell(self, facts: Iterable[Fact]) -> None:
        """Add facts, and all that follows from them."""
        waiting = list(facts)
        while waiting:
            fact = waiting.pop()
            if self._knows(fact.key):
                continue
            self._known[fact.key] = fact
            self._by_name.setdefault(_name(fact), []).append(fact)
            for ready, place in self._rulebook.places(fact):
                waiting.extend(self._fire(ready, place, fact))

    def close_answers(self) -> None:
        """Conclude `unknown(kind.attribute)` of each answer of which nothing is known."""
        self.tell(
            fact for name, fact in self._rulebook.absences if not any(name in state._by_name for state in self._layers)
        )

    # ------------------------------------------------------------------ reading

    @property
    def known(self) -> Iterator[Fact]:
        """Every fact, of this layer first."""
        for state in self._layers:
            yield from state._known.values()

    @property
    def firings(self) -> Iterator[Fired]:
        """Every firing, of this layer first."""
        for state in self._layers:
            yield from state._fired

    @property
    def fresh(self) -> Iterable[Fired]:
        """The firings of this layer alone."""
        return self._fired

    def values(self, kind: str, attribute: str, subject: str = "") -> tuple[Value, ...]:
        """All values of an attribute, in no particular order."""
        return tuple(fact.value for fact in self._facts(f"{kind}.{attribute}") if fact.subject == subject)

    def word(self, kind: str, attribute: str, subject: str = "") -> str | None:
        """A word that holds, or None."""
        return next((str(value) for value in self.values(kind, attribute, subject)), None)

    def number(self, kind: str, attribute: str, subject: str = "") -> float | None:
        """A number that holds, or None."""
        return next((float(value) for value in self.values(kind, attribute, subject)), None)

    def about(self, kind: str, attribute: str) -> dict[str, tuple[Value, ...]]:
        """The values of each subject of which the attribute is known."""
        found: dict[str, tuple[Value, ...]] = {}
        for fact in self._facts(f"{kind}.{attribute}"):
            found[fact.subject] = (*found.get(fact.subject, ()), fact.value)
        return found

    def concluding(self, key: str) -> tuple[Fired, ...]:
        """The firings that concluded the fact of that key."""
        return tuple(firing for state in self._layers for firing in state._by_conclusion.get(key, ()))

    # ------------------------------------------------------------------ inside

    def _knows(self, key: str) -> bool:
        return any(key in state._known for state in self._layers)

    def _facts(self, name: str) -> Iterator[Fact]:
        for state in self._layers:
            yield from state._by_name.get(name, ())

    def _fire(self, ready: _Ready, place: int, fact: Fact) -> Iterator[Fact]:
        """Fire a rule on a new fact and whatever meets its other conditions; yield what it concludes."""
        for matched in self._matches(ready, place, fact):
            facts = tuple(ready.conclusions(matched))
            concluded = frozenset(one.key for one in facts)
            firing = Fired(ready.rule.id, frozenset(one.key for one in matched), concluded)
            if firing not in self._fired:
                self._fired[firing] = None
                for key in concluded:
                    self._by_conclusion.setdefault(key, []).append(firing)
                yield from facts

    def _matches(self, ready: _Ready, place: int, fact: Fact) -> Iterator[tuple[Fact, ...]]:
        """Facts for all the conditions of a rule, with the given one at its place."""
        if len(ready.names) == 1:
            yield (fact,)
            return
        pools: list[Sequence[Fact]] = []
        for other, name in enumerate(ready.names):
            pool = (fact,) if other == place else [one for one in self._facts(name) if ready.meets(other, one)]
            if not pool:
                return
            pools.append(pool)
        for matched in product(*pools):
            subjects: dict[str, str] = {}
            if all(
                not kind or subjects.setdefault(kind, one.subject) == one.subject
                for kind, one in zip(ready.shared, matched, strict=True)
            ):
                yield matched


def _name(fact: Fact) -> str:
    """What a condition looks a fact up by: its attribute, or for an absence what is unknown."""
    return f"{ABSENCE} {fact.subject}" if fact.kind == ABSENCE else f"{fact.kind}.{fact.attribute}"


def _looked_up(condition: Condition) -> str:
    return f"{ABSENCE} {condition.name}" if condition.unknown else condition.name


def _words(condition: Condition, kinds: Mapping[str, Kind]) -> frozenset[Value]:
    """The words that meet a condition; none for one about a number."""
    if condition.unknown:
        return frozenset({absence(condition.kind, condition.attribute).value})
    words = kinds[condition.kind].attributes[condition.attribute].words
    return frozenset(word for word in words if condition.passes(word))


def _lead(kind: str, rule: Rule) -> int:
    """The condition whose subject a conclusion on the same subject takes: one without brackets comes first."""
    about = [
        (bool(condition.subjects), place)
        for place, condition in enumerate(rule.when)
        if condition.kind == kind and not condition.unknown
    ]
    return min(about)[1]


def _fact(then: Conclusion, subject: str) -> Fact:
    return Fact(then.kind, then.attribute, subject, then.value)
