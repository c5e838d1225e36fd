"""The engine: compile the rules once, then hold one consultation after another.

    engine = Engine(knowledge.rules, knowledge.kinds)
    with engine.consultation() as talk:
        talk.tell(facts, "you said so")
        talk.close_answers()
        talk.word("plan", "aim")

Rules only ever add facts, so what is known does not depend on the order in which it was told. A consultation
keeps nothing for the next one, and stays readable after it has ended.
"""

from __future__ import annotations

import threading
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import cached_property
from graphlib import CycleError, TopologicalSorter
from types import MappingProxyType

from advisor.errors import InferenceFault
from advisor.inference.compile import Compiled, compiled, message
from advisor.inference.facts import ABSENCE, Fact, absence, admit, declared, written
from advisor.inference.network import Message, Network
from advisor.inference.spread import in_share, kind_in, shares_reading, spread
from advisor.knowledge.base import Conclusion, Rule
from advisor.knowledge.conditions import Value
from advisor.knowledge.shapes import Kind
from advisor.records import dataclass

#: More firings than this in one consultation means that some rule multiplies facts with facts.
FIRINGS_AT_MOST = 10_000

#: The origin of the facts that `close_answers` adds.
UNANSWERED = "nobody has said"


@dataclass(frozen=True, slots=True, order=True)
class Firing:
    """A rule fired: on which facts, in the order of its conditions, and what follows, new or known before."""

    rule: str
    matched: tuple[str, ...]
    concluded: tuple[str, ...]


#: What makes two firings one and the same: rule, facts in whatever order, conclusions.
_Mark = tuple[str, frozenset[str], tuple[str, ...]]


class Engine:
    """The compiled rules. Make one and keep it: a consultation costs far less than compiling."""

    def __init__(self, rules: Sequence[Rule], kinds: Mapping[str, Kind]) -> None:
        """Compile the rules.

        Args:
            rules: parsed rules; their order does not matter.
            kinds: the registry of fact kinds they speak of.

        Raises:
            InferenceFault: two rules share an id, or one cannot be compiled or concludes what it may not.
        """
        if ABSENCE in kinds:
            raise InferenceFault(f"'{ABSENCE}' is the engine's own kind of fact; call it something else")
        self.rules: Mapping[str, Rule] = {rule.id: rule for rule in sorted(rules, key=lambda rule: rule.id)}
        self.kinds = kinds
        if len(self.rules) < len(rules):
            raise InferenceFault(f"two rules are called '{_repeated(rule.id for rule in rules)}'")
        for rule in self.rules.values():
            for conclusion in rule.then:
                _check(conclusion, rule, kinds)
        self._compiled = {name: compiled(rule) for name, rule in self.rules.items()}
        self._one_at_a_time = threading.Lock()
        self._holder: int | None = None
        self._talk: Consultation | None = None
        self._shares: Mapping[str, tuple[int, ...]] = {}

    @cached_property
    def _network(self) -> Network:
        """The rules in the engine that fires them, made for the first consultation."""
        shares = spread(self._compiled.values())
        self._shares = shares_reading(self._compiled.values(), shares)
        patterns = {
            name: tuple(in_share(pattern, shares[name]) for pattern in rule.patterns)
            for name, rule in self._compiled.items()
        }
        return Network(patterns, self._matched)

    def prepare(self) -> None:
        """Make ready for the first consultation, which is quicker for it.

        Raises:
            EngineMissing: durable-rules is not installed, or was built wrongly.
            InferenceFault: it refuses the rules.
        """
        with self._one_at_a_time:
            _ = self._network

    @contextmanager
    def consultation(self) -> Iterator[Consultation]:
        """A fresh consultation. Another thread waits until this one has ended.

        Raises:
            EngineMissing: durable-rules is not installed, or was built wrongly.
            InferenceFault: this thread has one open already; durable-rules refuses the rules.
        """
        if self._holder == threading.get_ident():
            raise InferenceFault("a consultation is open already; end it before the next begins")
        with self._one_at_a_time:
            network = self._network
            self._holder = threading.get_ident()
            talk = self._talk = Consultation(self.rules, self.kinds, network, self._shares)
            try:
                network.open()
                yield talk
            finally:
                talk._end()
                self._talk = self._holder = None
                network.close()

    def _matched(self, rule: str, ids: Mapping[str, str]) -> list[Message]:
        if self._talk is None:
            raise InferenceFault("a rule fired outside a consultation", where=f"rule {rule}")
        return self._talk._fired(self._compiled[rule], ids)


class Consultation:
    """What is known in one run, and why. Made by `Engine.consultation`.

    Every reading method raises InferenceFault for a kind or attribute that is not declared.
    """

    def __init__(
        self,
        rules: Mapping[str, Rule],
        kinds: Mapping[str, Kind],
        network: Network,
        shares: Mapping[str, tuple[int, ...]] = MappingProxyType({}),
    ) -> None:
        self.rules = rules
        self.kinds = kinds
        self._shares = shares  # in which shares of the rules a kind of message is read, beside the first
        self._network: Network | None = network
        self._broken = False
        self._closed = False
        self._facts: dict[str, Fact] = {}  # everything asserted, by the id the engine knows it by
        self._ids: dict[str, str] = {}  # those ids, by key
        self._known: dict[str, Fact] = {}  # the same facts by key, in the order of the trace
        self._said: dict[str, str] = {}
        self._arrived: dict[_Mark, Firing] = {}
        self._settled: set[_Mark] = set()
        self._firings: list[Firing] = []
        self._by_conclusion: dict[str, list[Firing]] = {}
        self._checked_at, self._circular = 0, False
        self._by_name: dict[tuple[str, str], dict[str, list[Value]]] = {}

    # ------------------------------------------------------------------ telling

    def tell(self, facts: Iterable[Fact], origin: str) -> None:
        """Add facts and let every rule that they satisfy fire.

        Args:
            facts: what is known now; facts known already are welcome and change nothing.
            origin: where they come from, in words for the person ("you said: 3 sacks"); the first one stands.

        Raises:
            InferenceFault: a fact does not fit the registry, contradicts what is known, or was taken as
                unanswered (nothing was added then); a rule broke (it has to end then); it has ended.
        """
        told: dict[str, Fact] = {}
        single: dict[tuple[str, str, str], Value] = {}
        for fact in facts:
            admit(fact, self.kinds)
            name = (fact.kind, fact.attribute, fact.subject)
            if absence(fact.kind, fact.attribute).key in self._known:
                raise InferenceFault("was taken as unanswered when the answers were closed", where=fact.key)
            if not self.kinds[fact.kind].attributes[fact.attribute].many:
                held = single.setdefault(name, next(iter(self.values(*name)), fact.value))
                if held != fact.value:
                    raise InferenceFault(f"contradicts what is known already, {written(held)}", where=fact.key)
            told[fact.key] = fact
        self._assert(told, origin)

    def close_answers(self) -> None:
        """Let the rules know what nobody has told: `unknown(kind.attribute)` for each unanswered attribute.

        To tell such an attribute afterwards is a fault, since rules may have counted on the silence. Calling
        this again changes nothing.
        """
        if self._closed:
            return
        silent = [
            absence(kind, attribute)
            for kind, shape in self.kinds.items()
            for attribute, about in shape.attributes.items()
            if about.origin == "answer" and (kind, attribute) not in self._by_name
        ]
        self._assert({fact.key: fact for fact in silent}, UNANSWERED)
        self._closed = True

    # ------------------------------------------------------------------ reading

    @property
    def known(self) -> Mapping[str, Fact]:
        """Every fact by its key: for each telling the facts told, then what followed from them."""
        return MappingProxyType(self._known)

    @property
    def firings(self) -> tuple[Firing, ...]:
        """Every firing, nearest to what was told first; the same for any order of the facts and rules."""
        return tuple(self._firings)

    def said(self, key: str) -> str:
        """The origin a fact was told with; empty if only rules say so."""
        return self._said.get(key, "")

    def values(self, kind: str, attribute: str, subject: str = "") -> tuple[Value, ...]:
        """All values, words in alphabetical order or numbers from low to high; empty if nothing is known."""
        declared(kind, attribute, self.kinds)
        return _sorted(self._by_name.get((kind, attribute), {}).get(subject, ()))

    def word(self, kind: str, attribute: str, subject: str = "") -> str | None:
        """The one word that holds, or None. Raises InferenceFault if several do, or if it holds numbers."""
        if declared(kind, attribute, self.kinds).number is not None:
            raise InferenceFault("holds a number; ask for number()", where=f"{kind}.{attribute}")
        value = self._single(kind, attribute, subject)
        return None if value is None else str(value)

    def number(self, kind: str, attribute: str, subject: str = "") -> float | None:
        """The one number that holds, in the unit of the registry, or None.

        Raises InferenceFault if several do, or if it holds words.
        """
        if declared(kind, attribute, self.kinds).number is None:
            raise InferenceFault("holds words; ask for word()", where=f"{kind}.{attribute}")
        value = self._single(kind, attribute, subject)
        return None if value is None else float(value)

    def subjects(self, kind: str) -> tuple[str, ...]:
        """The subjects of that kind of which anything is known, in alphabetical order."""
        if kind not in self.kinds:
            raise InferenceFault(f"no fact kind '{kind}'", where=kind)
        found = {subject for (name, _), by_subject in self._by_name.items() if name == kind for subject in by_subject}
        return tuple(sorted(found - {""}))

    def about(self, kind: str, attribute: str) -> Mapping[str, tuple[Value, ...]]:
        """The values of each subject, as `values` has them; the subject is empty for a kind that has none."""
        declared(kind, attribute, self.kinds)
        by_subject = self._by_name.get((kind, attribute), {})
        return {subject: _sorted(values) for subject, values in sorted(by_subject.items())}

    def fired(self, kind: str, attribute: str, subject: str = "", value: Value | None = None) -> tuple[Firing, ...]:
        """The firings that concluded it, with that value or with any.

        Where every reason counts (`method.favour`), count these, not values: two rules may give one value.
        """
        values = self.values(kind, attribute, subject) if value is None else (value,)
        keys = [Fact(kind, attribute, subject, each).key for each in values]
        return tuple(sorted({firing for key in keys for firing in self._by_conclusion.get(key, ())}))

    @property
    def circular(self) -> bool:
        """Whether some fact rests on itself through the rules that fired. The lint keeps the shipped rules from it."""
        if self._checked_at != len(self._firings):
            self._checked_at = len(self._firings)
            self._circular = _goes_round(self._firings)
        return self._circular

    def concluding(self, key: str) -> tuple[Firing, ...]:
        """The firings that concluded the fact of that key, in the order of the trace."""
        return tuple(self._by_conclusion.get(key, ()))

    # ------------------------------------------------------------------ inside

    def _assert(self, told: Mapping[str, Fact], origin: str) -> None:
        if self._network is None or self._broken:
            raise InferenceFault("this consultation has broken" if self._broken else "this consultation has ended")
        for key in told:
            self._said.setdefault(key, origin)
        fresh = [fact for key, fact in sorted(told.items()) if key not in self._ids]
        if not fresh:
            return
        self._broken = True
        self._network.tell([each for fact in fresh for each in self._messages(fact)])
        self._settle(fresh)
        self._broken = False

    def _messages(self, fact: Fact) -> list[Message]:
        """A fact for the engine: a message for each share of the rules that has any for its kind."""
        before = len(self._facts)
        first = message(f"f{before + 1}", fact.kind, fact.attribute, fact.subject, fact.value)
        kind = str(first["kind"])
        others = [
            {**first, "id": f"f{number}", "kind": kind_in(kind, share)}
            for number, share in enumerate(self._shares.get(kind, ()), before + 2)
        ]
        self._ids[fact.key] = str(first["id"])
        self._facts |= {str(each["id"]): fact for each in (first, *others)}
        return [first, *others]

    def _fired(self, rule: Compiled, ids: Mapping[str, str]) -> list[Message]:
        """Note a firing; the facts that are new go back to the engine."""
        matched = [self._facts[ids[name]] for name in rule.order]
        follows = [_fact(conclusion, rule, matched) for conclusion in rule.rule.then]
        keys = tuple(dict.fromkeys(fact.key for fact in matched))
        firing = Firing(rule.rule.id, keys, tuple(dict.fromkeys(fact.key for fact in follows)))
        mark = (firing.rule, frozenset(keys), firing.concluded)
        if len(self._arrived) == FIRINGS_AT_MOST and mark not in self._arrived:
            raise InferenceFault(f"more than {FIRINGS_AT_MOST} firings; the last rule was '{firing.rule}'")
        # Two facts that meet two conditions either way round fire twice; one firing is kept, always the same.
        self._arrived[mark] = min(firing, self._arrived.get(mark, firing))
        new = {fact.key: fact for fact in follows if fact.key not in self._ids}
        return [each for fact in new.values() for each in self._messages(fact)]

    def _settle(self, told: Sequence[Fact]) -> None:
        """Put what has arrived into the order of the trace, which owes nothing to the engine's own order."""
        for fact in told:
            self._note(fact)
        waiting = sorted(firing for mark, firing in self._arrived.items() if mark not in self._settled)
        self._settled.update(self._arrived)
        while waiting:
            ready = [firing for firing in waiting if self._known.keys() >= set(firing.matched)]
            waiting = [firing for firing in waiting if not self._known.keys() >= set(firing.matched)]
            if not ready:
                raise InferenceFault("fired on a fact nobody told", where=f"rule {waiting[0].rule}")
            for firing in ready:
                self._firings.append(firing)
                for key in firing.concluded:
                    self._by_conclusion.setdefault(key, []).append(firing)
            for key in sorted({key for firing in ready for key in firing.concluded}):
                self._note(self._facts[self._ids[key]])

    def _note(self, fact: Fact) -> None:
        if fact.key in self._known:
            return
        self._known[fact.key] = fact
        self._by_name.setdefault((fact.kind, fact.attribute), {}).setdefault(fact.subject, []).append(fact.value)

    def _single(self, kind: str, attribute: str, subject: str) -> Value | None:
        values = self.values(kind, attribute, subject)
        if len(values) > 1:
            found = ", ".join(Fact(kind, attribute, subject, value).key for value in values)
            raise InferenceFault("one value is expected, and several hold", where=found)
        return values[0] if values else None

    def _end(self) -> None:
        self._network = None


def _goes_round(firings: Sequence[Firing]) -> bool:
    """Whether the facts of these firings cannot be put in an order in which each comes after what it rests on."""
    order: TopologicalSorter[str] = TopologicalSorter()
    for firing in firings:
        for key in firing.concluded:
            order.add(key, *firing.matched)
    try:
        order.prepare()
    except CycleError:
        return True
    return False


def _fact(conclusion: Conclusion, rule: Compiled, matched: Sequence[Fact]) -> Fact:
    subject = matched[rule.leads[conclusion.kind]].subject if conclusion.same else conclusion.subject
    return Fact(conclusion.kind, conclusion.attribute, subject, conclusion.value)


def _check(conclusion: Conclusion, rule: Rule, kinds: Mapping[str, Kind]) -> None:
    try:
        _admit(conclusion, kinds)
    except InferenceFault as fault:
        raise InferenceFault(fault.message, where=f"rule {rule.id}: {fault.where}", hint=fault.hint) from None


def _admit(conclusion: Conclusion, kinds: Mapping[str, Kind]) -> None:
    kind, attribute = conclusion.kind, conclusion.attribute
    origin = declared(kind, attribute, kinds).origin
    if origin != "concluded":
        raise InferenceFault(f"it is {origin}, so no rule may conclude it", where=f"{kind}.{attribute}")
    subjects = kinds[kind].subjects
    some_subject = subjects[0] if isinstance(subjects, tuple) else "same"
    admit(Fact(kind, attribute, some_subject if conclusion.same else conclusion.subject, conclusion.value), kinds)


def _sorted(values: Iterable[Value]) -> tuple[Value, ...]:
    return tuple(sorted(values, key=lambda value: (value, 0.0) if isinstance(value, str) else ("", value)))


def _repeated(names: Iterable[str]) -> str:
    seen: set[str] = set()
    for name in names:
        if name in seen:
            return name
        seen.add(name)
    return ""
