"""Two rules side by side: rules that repeat, swallow or contradict each other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations, product

from advisor.knowledge.base import Conclusion, Rule
from advisor.knowledge.lint.claims import compatible, implies
from advisor.knowledge.lint.tables import ADDED_UP, ADVISED_AND_BANNED, LONGEST_LIST_TWICE
from advisor.knowledge.lint.view import Finding, View


def duplicate_rule(view: View) -> Iterator[Finding]:
    """Two rules with the same conditions and the same conclusions."""
    for one, other in _alike(view):
        if set(one.then) == set(other.then):
            yield view.at_rule(other, f"says the same as {_named(one)}")


def mergeable_rules(view: View) -> Iterator[Finding]:
    """Two rules of a group with the same conditions and the same reason, which one rule could give once."""
    for one, other in _alike(view):
        if (one.group, one.because) == (other.group, other.because) and set(one.then) != set(other.then):
            yield view.at_rule(other, f"has the conditions and the reason of {_named(one)}; make one rule of them")


def list_twice(view: View) -> Iterator[Finding]:
    """Two rules with the same long list of conclusions: one rule should hold it, on a fact that both conclude."""
    holding: dict[frozenset[Conclusion], Rule] = {}
    for rule in view.live:
        said = frozenset(rule.then)
        if len(said) > LONGEST_LIST_TWICE:
            first = holding.setdefault(said, rule)
            if first is not rule:
                yield view.at_rule(rule, f"has all {len(said)} conclusions of {_named(first)}; conclude a fact in both")


def subsumed_rule(view: View) -> Iterator[Finding]:
    """A rule that concludes only what another concludes wherever it fires, and elsewhere too.

    What is added up over rules is left alone: there each rule counts.
    """
    concluding: dict[Conclusion, list[Rule]] = defaultdict(list)
    for rule in view.live:
        for then in dict.fromkeys(rule.then):
            concluding[then].append(rule)
    for narrow in view.live:
        if any(f"{then.kind}.{then.attribute}" in ADDED_UP for then in narrow.then):
            continue
        said = set(narrow.then)
        for wide in concluding[narrow.then[0]]:
            if wide is not narrow and said <= set(wide.then) and _implies(view, narrow, wide):
                if said == set(wide.then) and _implies(view, wide, narrow):
                    continue  # a duplicate, and reported as one
                yield view.at_rule(narrow, f"adds nothing: wherever it fires, {_named(wide)} says as much")


def contradiction(view: View) -> Iterator[Finding]:
    """Advice that is forbidden wherever it is given."""
    for advised, is_advice, banned, is_ban in ADVISED_AND_BANNED:
        bans = [(rule, then) for rule, then in _concluding(view, banned) if is_ban(then.value)]
        for rule, then in _concluding(view, advised):
            if not is_advice(then.value):
                continue
            for ban, forbids in bans:
                if (then.subject, then.same) == (forbids.subject, forbids.same) and _always(view, rule, ban):
                    subject = then.subject or f"the same {then.kind}"
                    advice = f"{advised} = {_said(then)} for {subject}"
                    yield view.at_rule(rule, f"{advice} can never stand: {_named(ban)} always forbids it")


def two_targets(view: View) -> Iterator[Finding]:
    """Two different values, in one situation, for something that can have only one."""
    by_attribute: dict[tuple[str, str], list[tuple[Rule, Conclusion]]] = defaultdict(list)
    for rule in view.live:
        for then in rule.then:
            if not view.attribute(then).many:
                by_attribute[then.kind, then.attribute].append((rule, then))
    rivals: dict[tuple[Rule, Rule, str], list[tuple[Conclusion, Conclusion]]] = defaultdict(list)
    for concluding in by_attribute.values():
        for (one, mine), (other, yours) in combinations(concluding, 2):
            if mine.value == yours.value or not _one_thing(view, one, mine, other, yours):
                continue
            same = frozenset({mine.kind}) if mine.same and yours.same else frozenset()
            if one is other or can_meet(view, one, other, same):
                rivals[one, other, f"{mine.kind} {mine.subject}".strip()].append((mine, yours))
    for (one, other, about), values in rivals.items():
        names = ", ".join(mine.attribute for mine, _ in values)
        theirs = ", ".join(_said(mine) for mine, _ in values)
        own = ", ".join(_said(yours) for _, yours in values)
        message = f"sets {names} of {about} to {own}, {_named(one)} to {theirs}, and both can fire"
        yield view.at_rule(other, message)


def _one_thing(view: View, one: Rule, mine: Conclusion, other: Rule, yours: Conclusion) -> bool:
    return bool(view.reach.concluded_of(one, mine) & view.reach.concluded_of(other, yours))


def can_meet(view: View, one: Rule, other: Rule, same: frozenset[str] = frozenset()) -> bool:
    """Whether two rules can fire in one case; `same` are the kinds of which both speak of one and the same subject."""
    kinds = view.knowledge.kinds
    ways = product(view.chains.situations(one), view.chains.situations(other))
    return any(compatible(mine, yours, kinds, same) for mine, yours in ways)


def _alike(view: View) -> Iterator[tuple[Rule, Rule]]:
    """Pairs of rules with the same conditions. Such rules read the same facts, so no others are compared."""
    reading: dict[frozenset[tuple[str, str]], list[Rule]] = defaultdict(list)
    for rule in view.live:
        claims = view.claims[rule]
        if claims is not None:
            reading[frozenset((claim.kind, claim.attribute) for claim in claims)].append(rule)
    for rules in reading.values():
        for one, other in combinations(rules, 2):
            if _implies(view, one, other) and _implies(view, other, one):
                yield one, other


def _implies(view: View, narrow: Rule, wide: Rule) -> bool:
    asked, given = view.claims[wide], view.claims[narrow]
    return asked is not None and given is not None and implies(given, asked)


def _always(view: View, rule: Rule, ban: Rule) -> bool:
    """Whether the ban holds in every situation in which the rule fires."""
    forbidden = view.claims[ban]
    ways = view.chains.situations(rule)
    return bool(ways) and forbidden is not None and all(implies(way, forbidden) for way in ways)


def _concluding(view: View, name: str) -> Iterator[tuple[Rule, Conclusion]]:
    kind, attribute = name.split(".")
    for rule in view.live:
        for then in rule.then:
            if (then.kind, then.attribute) == (kind, attribute):
                yield rule, then


def _named(rule: Rule) -> str:
    return f"'{rule.id}' in {rule.place}"


def _said(then: Conclusion) -> str:
    return then.value if isinstance(then.value, str) else f"{then.value:g}"
