"""How near a rule base comes to the engine's fixed sizes, so that the lint can say so before the engine does.

durable-rules 2.0.28 shares the beginnings of patterns in a tree of tests whose tables have fixed lengths.
Past most of them it reports an error; past one (512 tests after the same test) it hangs. The tree is built here
as the engine builds it, but without the engine, and every table is measured with a margin.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from advisor.errors import InferenceFault
from advisor.inference.compile import Compare, Compiled, Either, Join, Pattern, compiled
from advisor.inference.facts import written
from advisor.knowledge.base import Rule
from advisor.knowledge.conditions import Test, Value

# What is allowed here, and in the comment what the engine bears, read in its sources.
RULES_AT_MOST = 3_000  # 4,096
PATTERNS_IN_A_RULE = 12  # 16
TESTS_IN_A_PATTERN = 24  # 29 if all were joins
TESTS_AFTER_ONE = 400  # 511 different tests after one and the same test
RULES_ON_ONE_PATTERN = 200  # 255
LISTS_ON_ONE_TEST = 100  # 127 conditions whose alternatives share a test
TESTS_PASSED_AT_ONCE = 48  # 64 that one fact has passed and that wait to be followed up


@dataclass(slots=True)
class _Node:
    """A test, what may follow it, where its alternatives meet, and the rules with a pattern ending here."""

    text: str
    test: Compare | Join | None = None
    next: dict[object, _Node] = field(default_factory=dict)
    meetings: list[_Node] = field(default_factory=list)
    ends: list[str] = field(default_factory=list)


def limits(rules: Iterable[Rule]) -> list[str]:
    """What in these rules is too much for the engine, or nearly so: one line each, none if all is well.

    Rules that cannot be compiled, or that speak of the "same" thing where two could be meant, are listed too.
    """
    problems = []
    ready = []
    for rule in sorted(rules, key=lambda rule: rule.id):
        try:
            ready.append(compiled(rule))
        except InferenceFault as fault:
            problems.append(str(fault))
    if len(ready) > RULES_AT_MOST:
        problems.append(f"{len(ready)} rules, of {RULES_AT_MOST} allowed")
    for one in ready:
        problems.extend(_in_rule(one))
    tree = _tree(ready)
    problems.extend(_in_tables(tree))
    problems.extend(_in_passing(tree))
    return problems


def fit_together(rules: Sequence[Compiled]) -> bool:
    """Whether the engine is sure to bear these rules in one tree; it may bear more. This is quick."""
    tree = _tree(rules)
    return not any(_in_tables(tree)) and all(
        _waiting_at_most(node) <= TESTS_PASSED_AT_ONCE for node in tree.next.values()
    )


def _waiting_at_most(node: _Node) -> int:
    """No less than `_waiting` of any fact: a fact equals one constant for its subject and one for its value."""
    tests = [each.test for each in node.next.values()]
    equal = {test.part for test in tests if isinstance(test, Compare) and test.sign == "=="}
    free = sum(not (isinstance(test, Compare) and test.sign == "==") for test in tests)
    passed = free + len(equal) + len(node.meetings)
    deepest = max((_waiting_at_most(each) for each in [*node.next.values(), *node.meetings]), default=1)
    return max(0, passed - 1) + deepest


def _in_rule(one: Compiled) -> Iterator[str]:
    where = f"rule {one.rule.id}"
    if len(one.patterns) > PATTERNS_IN_A_RULE:
        yield f"{where}: {len(one.patterns)} conditions, of {PATTERNS_IN_A_RULE} allowed"
    for pattern in one.patterns:
        if (count := _size(pattern)) > TESTS_IN_A_PATTERN:
            condition = one.rule.when[one.order.index(pattern.name)]
            yield f"{where}: {count} comparisons in {condition.text}, of {TESTS_IN_A_PATTERN} allowed"
    for kind in sorted({conclusion.kind for conclusion in one.rule.then if conclusion.same}):
        about = [condition for condition in one.rule.when if condition.kind == kind and not condition.unknown]
        named = {condition.subjects for condition in about}
        if len(about) > 1 and () not in named and (len(named) > 1 or len(about[0].subjects) > 1):
            yield f"{where}: says {kind} = 'same', but its conditions name the {kind} more than once"


def _size(pattern: Pattern) -> int:
    return sum(len(test.options) if isinstance(test, Either) else 1 for test in pattern.tests)


def _tree(rules: Sequence[Compiled]) -> _Node:
    root = _Node("")
    for one in rules:
        for pattern in one.patterns:
            node = root
            for test in pattern.tests:
                if isinstance(test, Either):
                    meeting = _Node(f"{node.text} one of several")
                    for option in test.options:
                        _step(node, option, option).meetings.append(meeting)
                    node = meeting
                else:
                    # The engine shares comparisons between patterns, and never joins.
                    node = _step(node, test, (one.rule.id, pattern.name) if isinstance(test, Join) else test)
            node.ends.append(one.rule.id)
    return root


def _step(node: _Node, test: Compare | Join, mark: object) -> _Node:
    words = f"{test.sign} {test.constant}" if isinstance(test, Compare) else "of the same subject"
    return node.next.setdefault(mark, _Node(f"{node.text} {words}".removeprefix(" == "), test))


def _in_tables(node: _Node) -> Iterator[str]:
    for count, allowed, what in (
        (len(node.next), TESTS_AFTER_ONE, "different comparisons follow"),
        (len(node.ends), RULES_ON_ONE_PATTERN, "rules have this very condition"),
        (len(node.meetings), LISTS_ON_ONE_TEST, "lists of alternatives share it"),
    ):
        if count > allowed:
            yield f"{node.text or 'fact kinds'}: {count} {what}, of {allowed} allowed"
    for each in [*node.next.values(), *node.meetings]:
        yield from _in_tables(each)


def _in_passing(root: _Node) -> Iterator[str]:
    for node in root.next.values():
        facts = [(subject, value) for subject in _subjects(node) for value in _values(node)]
        waiting, value = max(((_waiting(node, *fact), fact[1]) for fact in facts), key=lambda pair: pair[0])
        if waiting > TESTS_PASSED_AT_ONCE:
            example = written(value) or "any other word"
            yield f"{node.text}: {example} passes {waiting} tests at once, of {TESTS_PASSED_AT_ONCE} allowed"


def _waiting(node: _Node, subject: str, value: Value) -> int:
    """How many passed tests can wait while the engine leads a fact past this node, in the worst order."""
    passed = [each for each in node.next.values() if each.test and _passes(each.test, subject, value)] + node.meetings
    deepest = max((_waiting(each, subject, value) for each in passed), default=1)
    return max(0, len(passed) - 1) + deepest


def _passes(test: Compare | Join, subject: str, value: Value) -> bool:
    if isinstance(test, Join):
        return True  # the engine looks at joins later
    return Test(test.sign, (test.constant,)).holds(subject if test.part == "subject" else value)


def _subjects(node: _Node) -> list[str]:
    """Every subject that is named after this node, and one that is not."""
    return ["", *sorted({str(test.constant) for test in _comparisons(node) if test.part == "subject"})]


def _values(node: _Node) -> list[Value]:
    """A value of every sort that the comparisons after this node tell apart."""
    constants = {test.constant for test in _comparisons(node) if test.part == "value"}
    bounds = sorted(constant for constant in constants if not isinstance(constant, str))
    if not bounds:
        return ["", *sorted(str(constant) for constant in constants)]
    between = [(low + high) / 2 for low, high in pairwise(bounds)]
    return [bounds[0] - 1, *bounds, *between, bounds[-1] + 1]


def _comparisons(node: _Node) -> Iterator[Compare]:
    for each in [*node.next.values(), *node.meetings]:
        if isinstance(each.test, Compare):
            yield each.test
        yield from _comparisons(each)
