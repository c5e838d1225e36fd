"""Troubles: every cause can be reached, told apart, spoken against and cured, and no cure harms in silence."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from itertools import combinations

from advisor.knowledge.base import Knowledge, Rule
from advisor.knowledge.conditions import Condition
from advisor.knowledge.lint.pairs import can_meet
from advisor.knowledge.lint.tables import UNREMARKABLE_SIGNS, WORSENED_BY
from advisor.knowledge.lint.view import Finding, View
from advisor.knowledge.shapes import Cause

#: For each cause, the weights that each rule gives it; 0 where a rule rules it out.
Voices = Mapping[str, Mapping[str, frozenset[float]]]


def cause_unreached(view: View) -> Iterator[Finding]:
    """A cause that no rule which can fire speaks for."""
    firing = {rule.id for rule in view.reach.firing}
    for cause, said in _voices(view.knowledge).items():
        if not any(rule in firing and weight > 0 for rule, weights in said.items() for weight in weights):
            yield view.at_notice("cause", cause, "no sign speaks for it, so it is never found")


def cause_without_counter(view: View) -> Iterator[Finding]:
    """A cause that nothing people can say speaks against: once suspected, it would be suspected for ever.

    Where all that speaks for it waits for one and the same sign, which has a single value, any other value clears it.
    """
    for cause, said in _voices(view.knowledge).items():
        speaking = [rule for rule in view.live if any(weight > 0 for weight in said.get(rule.id, ()))]
        waited_for = [set(_single(view, rule)) for rule in speaking]
        cleared = bool(waited_for) and bool(set.intersection(*waited_for))
        if not cleared and not any(weight < 0 for weights in said.values() for weight in weights):
            yield view.at_notice("cause", cause, "no sign speaks against it")


def speaks_against_nothing(view: View) -> Iterator[Finding]:
    """A rule that speaks against a cause where no other rule can speak for it: it never decides a case."""
    speaking: dict[str, list[tuple[Rule, float]]] = defaultdict(list)
    for rule in view.live:
        for then in rule.then:
            if (then.kind, then.attribute) == ("cause", "favour") and isinstance(then.value, float):
                speaking[then.subject].append((rule, then.value))
    for cause, said in speaking.items():
        for rule, weight in said:
            if weight < 0 and not any(mine > 0 and can_meet(view, rule, other) for other, mine in said):
                yield view.at_rule(rule, f"speaks against '{cause}' where nothing can speak for it")


def cause_without_remedy(view: View) -> Iterator[Finding]:
    """A cause with nothing to do about it, or nothing said to put the gardener at ease."""
    cured = {
        subject
        for rule in view.live
        if any((then.kind, then.attribute) == ("remedy", "stands") for then in rule.then)
        for condition in rule.when
        if condition.name == "cause.stands"
        for subject in condition.subjects or tuple(view.knowledge.notices.get("cause", {}))
    }
    for cause in view.knowledge.notices.get("cause", {}):
        if cause not in cured:
            yield view.at_notice("cause", cause, "no rule offers a remedy for it")


def causes_alike(view: View) -> Iterator[Finding]:
    """Two causes that every sign speaks of alike, so that no question could ever tell them apart."""
    voices = _voices(view.knowledge)
    for one, other in combinations(voices, 2):
        if voices[one] and voices[one] == voices[other]:
            yield view.at_notice(
                "cause", one, f"every sign says of it what it says of '{other}': nothing tells them apart"
            )


def unknown_neighbour(view: View) -> Iterator[Finding]:
    """A cause said to come together with one that is not there."""
    causes = view.knowledge.notices.get("cause", {})
    for name, notice in causes.items():
        for other in notice.beside if isinstance(notice, Cause) else ():
            if other not in causes:
                yield view.at_notice("cause", name, f"is said to come with '{other}', which is no cause")


def sign_without_meaning(view: View) -> Iterator[Finding]:
    """A sign people may name that no rule reads, and that is not said to be unremarkable."""
    kind = view.knowledge.kinds.get("sign")
    for name, attribute in (kind.attributes if kind else {}).items():
        if attribute.origin != "answer":
            continue
        conditions = [condition for rule in view.live for condition in rule.when if condition.name == f"sign.{name}"]
        for word in attribute.words:
            if not _read(word, conditions) and word not in UNREMARKABLE_SIGNS.get(name, ()):
                yield Finding("rules/facts.toml", f"sign.{name}", f"no rule makes anything of '{word}'")


def silent_side_effect(view: View) -> Iterator[Finding]:
    """A remedy whose second effect would worsen another trouble, and no rule says so."""
    warned = [rule for rule in view.live if any(then.kind == "proviso" for then in rule.then)]
    for rule in view.live:
        for then in rule.then:
            if (then.kind, then.attribute) != ("remedy", "effect"):
                continue
            for cause in WORSENED_BY.get(str(then.value), ()):
                told = any(_speaks_of(each, then.subject, str(then.value), cause) for each in warned)
                if cause in view.knowledge.notices.get("cause", {}) and not told:
                    message = f"'{then.subject}' makes it {then.value}, and no proviso is said where '{cause}' stands"
                    yield view.at_rule(rule, message)


def _single(view: View, rule: Rule) -> Iterator[str]:
    """The signs a rule waits for that people answer with one of several values."""
    for condition in rule.when:
        attribute = view.knowledge.kinds[condition.kind].attributes[condition.attribute]
        answered = condition.kind == "sign" and attribute.origin == "answer" and not attribute.many
        if answered and not condition.unknown and not all(condition.passes(word) for word in attribute.words):
            yield condition.name


def _voices(knowledge: Knowledge) -> Voices:
    found: dict[str, dict[str, set[float]]] = {name: defaultdict(set) for name in knowledge.notices.get("cause", {})}
    for rule in knowledge.rules:
        for then in rule.then:
            if then.kind == "cause" and then.subject in found:
                weight = then.value if isinstance(then.value, float) else 0.0
                found[then.subject][rule.id].add(weight)
    return {cause: {rule: frozenset(weights) for rule, weights in said.items()} for cause, said in found.items()}


def _read(word: str, conditions: list[Condition]) -> bool:
    return any(condition.passes(word) for condition in conditions)


def _speaks_of(rule: Rule, remedy: str, effect: str, cause: str) -> bool:
    """Whether a rule is on its guard for that effect of that remedy where that cause stands."""
    on_effect = any(
        condition.name == "remedy.effect"
        and (not condition.subjects or remedy in condition.subjects)
        and condition.passes(effect)
        for condition in rule.when
    )
    on_cause = any(
        condition.name == "cause.stands" and (not condition.subjects or cause in condition.subjects)
        for condition in rule.when
    )
    return on_effect and on_cause
