"""The engine and the plain evaluator agree, and neither depends on any order or on layers."""

from __future__ import annotations

from collections.abc import Sequence

import toy_garden as toy
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.inference.engine import Consultation, Engine
from advisor.inference.evaluate import Fired, Rulebook, State
from advisor.inference.facts import Fact
from advisor.knowledge.base import Conclusion, Rule
from advisor.knowledge.conditions import Condition
from advisor.knowledge.conditions import Test as Comparison
from advisor.knowledge.shapes import Attribute, Kind

_PLAIN = settings(deadline=None, max_examples=150)

# Few words and few subjects are drawn, so that facts and rules meet often.


def _values(attribute: Attribute) -> st.SearchStrategy[str | float]:
    if attribute.number is None:
        return st.sampled_from(sorted(attribute.words)[:3])
    low, high = attribute.number
    # A few values that thresholds share, so that <, <=, > and >= are told apart, and any others.
    return st.sampled_from([low, (low + high) / 2, high, 25.0, 35.0]).filter(lambda n: low <= n <= high) | st.floats(
        low, high
    ).map(lambda n: round(n, 4))


def _named(kinds: dict[str, Kind]) -> list[tuple[str, str]]:
    return [(kind, name) for kind, shape in kinds.items() for name in shape.attributes]


def _subjects(kind: Kind) -> tuple[str, ...]:
    return toy.STUFF[:2] if kind.subjects == "materials" else tuple(kind.subjects)[:2]


@st.composite
def facts(draw: st.DrawFn, *, concluded: bool = False, least: int = 0) -> list[Fact]:
    """Facts that do not contradict each other."""
    chosen: dict[tuple[str, str, str, object], Fact] = {}
    names = [(k, a) for k, a in _named(toy.KINDS) if concluded or toy.KINDS[k].attributes[a].origin != "concluded"]
    for _ in range(draw(st.integers(least, 20))):
        kind, name = draw(st.sampled_from(names))
        attribute = toy.KINDS[kind].attributes[name]
        subject = draw(st.sampled_from(_subjects(toy.KINDS[kind]))) if toy.KINDS[kind].subjects else ""
        value = draw(_values(attribute))
        chosen[kind, name, subject, value if attribute.many else None] = Fact(kind, name, subject, value)
    return list(chosen.values())


@st.composite
def conditions(draw: st.DrawFn, kinds: list[str]) -> Condition:
    kind, name = draw(st.sampled_from([(k, a) for k, a in _named(toy.KINDS) if k in kinds]))
    attribute = toy.KINDS[kind].attributes[name]
    if attribute.origin == "answer" and draw(st.integers(0, 5)) == 0:
        return Condition(kind, name, (), (), True, f"unknown({kind}.{name})")
    subjects: tuple[str, ...] = ()
    if toy.KINDS[kind].subjects and draw(st.integers(0, 2)) == 0:
        subjects = tuple(draw(st.lists(st.sampled_from(_subjects(toy.KINDS[kind])), min_size=1, max_size=3)))
    if attribute.number is not None:
        signs = draw(st.sampled_from([("<",), ("<=",), (">",), (">=",), (">=", "<"), (">", "<=")]))
        tests = tuple(Comparison(sign, (draw(_values(attribute)),)) for sign in signs)
    elif draw(st.booleans()):
        tests = (Comparison("in", tuple(draw(st.lists(_values(attribute), min_size=1, max_size=4)))),)
    else:
        tests = (Comparison(draw(st.sampled_from(["==", "!="])), (draw(_values(attribute)),)),)
    return Condition(kind, name, subjects, tests, False, f"{kind}.{name} {tests}")


@st.composite
def rule_bases(draw: st.DrawFn) -> list[Rule]:
    concluded = [(k, a) for k, a in _named(toy.KINDS) if toy.KINDS[k].attributes[a].origin == "concluded"]
    rules = []
    for number in range(draw(st.integers(3, 8))):
        kinds = draw(st.lists(st.sampled_from(sorted(toy.KINDS)), min_size=1, max_size=2))
        when = tuple(draw(st.lists(conditions(kinds), min_size=1, max_size=3)))
        about = {condition.kind for condition in when if not condition.unknown}
        then = []
        for _ in range(draw(st.integers(1, 2))):
            kind, name = draw(st.sampled_from(concluded))
            same = kind in about and bool(toy.KINDS[kind].subjects) and draw(st.booleans())
            subject = ""
            if toy.KINDS[kind].subjects and not same:
                subject = draw(st.sampled_from(_subjects(toy.KINDS[kind])))
            then.append(Conclusion(kind, name, subject, same, draw(_values(toy.KINDS[kind].attributes[name]))))
        rules.append(Rule(f"r{number}", "toy", "situation", when, tuple(then), "So.", ("x",), "tradition", "toy"))
    return rules


def _run(engine: Engine, *told: Sequence[Fact], closed: bool) -> Consultation:
    with engine.consultation() as talk:
        for some in told:
            talk.tell(some, "told")
        if closed:
            talk.close_answers()
    return talk


def _what(talk: Consultation) -> tuple[frozenset[str], frozenset[Fired]]:
    firings = {Fired(f.rule, frozenset(f.matched), frozenset(f.concluded)) for f in talk.firings}
    assert len(firings) == len(talk.firings), "one and the same firing is in the trace twice"
    return frozenset(talk.known), frozenset(firings)


def _plainly(rules: Sequence[Rule], *told: Sequence[Fact], closed: bool) -> tuple[frozenset[str], frozenset[Fired]]:
    """What the evaluator makes of facts, each telling a layer over the one before."""
    state = State(Rulebook(rules, toy.KINDS))
    for some in told:
        state = state.layer()
        state.tell(some)
    if closed:
        state = state.layer()
        state.close_answers()
    firings = list(state.firings)
    assert len(set(firings)) == len(firings), "one and the same firing is in two layers"
    return frozenset(fact.key for fact in state.known), frozenset(firings)


@_PLAIN
@given(facts(concluded=True), st.booleans(), st.integers(0, 12))
def test_random_facts_give_what_the_evaluator_says(told: list[Fact], closed: bool, cut: int) -> None:
    talk = _run(toy.engine(), told, closed=closed)
    assert _what(talk) == _plainly(toy.RULES, told[:cut], told[cut:], closed=closed)


@_PLAIN
@given(rule_bases(), facts(concluded=True, least=10), st.booleans(), st.integers(0, 12))
def test_random_rules_give_what_the_evaluator_says(rules: list[Rule], told: list[Fact], closed: bool, cut: int) -> None:
    talk = _run(Engine(rules, toy.KINDS), told, closed=closed)
    assert _what(talk) == _plainly(rules, told[:cut], told[cut:], closed=closed)


@_PLAIN
@given(facts(), st.randoms(use_true_random=False))
def test_the_order_of_facts_and_rules_leaves_no_mark(told: list[Fact], chance: object) -> None:
    plain = _run(toy.engine(), told, closed=True)
    shuffled_facts, shuffled_rules = list(told), list(toy.RULES)
    chance.shuffle(shuffled_facts)  # type: ignore[attr-defined]
    chance.shuffle(shuffled_rules)  # type: ignore[attr-defined]
    other = _run(Engine(shuffled_rules, toy.KINDS), shuffled_facts, closed=True)
    assert other.firings == plain.firings
    assert list(other.known) == list(plain.known)


@_PLAIN
@given(facts(), st.integers(0, 12))
def test_telling_in_two_goes_comes_to_the_same(told: list[Fact], cut: int) -> None:
    at_once = _run(toy.engine(), told, closed=True)
    in_two = _run(toy.engine(), told[:cut], told[cut:], closed=True)
    assert _what(in_two) == _what(at_once)


@settings(deadline=None, max_examples=300)
@given(st.floats(0, 9e8), st.floats(0, 9e8))
def test_thresholds_are_exact_to_the_fourth_decimal(bound: float, value: float) -> None:
    bound = round(bound, 4)
    above = Rule(
        "above",
        "toy",
        "situation",
        (Condition("stuff", "share", (), (Comparison(">", (bound,)),), False, "above"),),
        (Conclusion("stuff", "note", "", True, "ash"),),
        "So.",
        ("x",),
        "tradition",
        "toy",
    )
    engine = Engine([above], toy.KINDS)
    for number in (value, bound, round(bound + 0.0001, 4)):
        talk = _run(engine, [Fact("stuff", "share", "hay", number)], closed=False)
        assert bool(talk.firings) == (round(number, 4) > bound)
