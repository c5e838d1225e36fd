"""What the lint reckons of two rules, against every small world there is: the worlds decide who is right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import product

from hypothesis import example, given, settings
from hypothesis import strategies as st

from advisor.knowledge.conditions import Condition, Value, parse
from advisor.knowledge.lint.claims import claim, compatible, implies, joined
from advisor.knowledge.lint.domains import Domain, Span, Words
from advisor.knowledge.shapes import Attribute, Kind

KINDS = {
    "place": Kind(
        about="where it stands",
        attributes={
            "space": Attribute(words={"flat": "a", "yard": "b", "garden": "c"}, origin="answer", about="space"),
            "pests": Attribute(
                words={"none": "a", "rats": "b", "foxes": "c"}, origin="answer", many=True, about="animals"
            ),
            "room": Attribute(number=(0, 2), origin="answer", about="ground"),
        },
    ),
    "holding": Kind(
        about="a material",
        subjects="materials",
        attributes={
            "share": Attribute(number=(0, 2), origin="computed", about="its share"),
            "trait": Attribute(words={"mats": "a", "smells": "b"}, origin="computed", many=True, about="traits"),
        },
    ),
}
SUBJECTS = {"holding": frozenset({"hay", "leaves"})}

#: A fact's name and the values that hold of it; none if nobody has told.
World = Mapping[tuple[str, str, str], tuple[Value, ...]]

_SOME_NUMBERS: tuple[tuple[Value, ...], ...] = ((), (0.0,), (0.5,), (1.0,), (1.5,), (2.0,))
_SETS: dict[str, tuple[tuple[Value, ...], ...]] = {
    "place.space": ((), ("flat",), ("yard",), ("garden",)),
    "place.pests": ((), ("none",), ("rats",), ("foxes",), ("rats", "foxes")),
    "place.room": _SOME_NUMBERS,
    "holding.share": _SOME_NUMBERS,
    "holding.trait": ((), ("mats",), ("smells",), ("mats", "smells")),
}


def worlds(conditions: tuple[Condition, ...]) -> Iterator[World]:
    """Every world as far as the conditions can see it."""
    facts = dict.fromkeys(
        (condition.kind, condition.attribute, subject)
        for condition in conditions
        for subject in (sorted(SUBJECTS["holding"]) if condition.kind == "holding" else [""])
    )
    for values in product(*(_SETS[f"{kind}.{attribute}"] for kind, attribute, _ in facts)):
        yield dict(zip(facts, values, strict=True))


def holds(conditions: tuple[Condition, ...], world: World) -> bool:
    """Whether a rule with these conditions fires: for some one holding, where none is named."""
    return any(all(_true(condition, world, chosen) for condition in conditions) for chosen in SUBJECTS["holding"])


def _true(condition: Condition, world: World, chosen: str) -> bool:
    subjects = condition.subjects or (chosen if condition.kind == "holding" else "",)
    told = [world[condition.kind, condition.attribute, subject] for subject in subjects]
    return condition.met_by([value for values in told for value in values])


_NUMBERS = st.sampled_from(["0", "0.5", "1", "1.5", "2"])
_SIGNS = st.sampled_from(["<", "<=", ">", ">="])
_WHICH = st.sampled_from(["", "", "['hay']", "['leaves']", "['hay', 'leaves']"])


def _number(name: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    single = st.tuples(name, _SIGNS, _NUMBERS).map(" ".join)
    up, down = st.sampled_from(["<", "<="]), st.sampled_from([">", ">="])
    span = st.tuples(_NUMBERS, up, name, up, _NUMBERS) | st.tuples(_NUMBERS, down, name, down, _NUMBERS)
    return single | span.map(" ".join)


def _words(name: st.SearchStrategy[str], *words: str) -> st.SearchStrategy[str]:
    one = st.sampled_from([f"{sign} '{word}'" for word in words for sign in ("==", "!=")])
    pairs = [f"in ('{one}', '{other}')" for one in words for other in words if one < other]
    return st.tuples(name, one | st.sampled_from(pairs)).map(" ".join)


_OF = {
    "place.space": _words(st.just("place.space"), "flat", "yard", "garden") | st.just("unknown(place.space)"),
    "place.pests": _words(st.just("place.pests"), "none", "rats", "foxes") | st.just("unknown(place.pests)"),
    "place.room": _number(st.just("place.room")) | st.just("unknown(place.room)"),
    "holding.share": _number(_WHICH.map("holding{}.share".format)),
    "holding.trait": _words(_WHICH.map("holding{}.trait".format), "mats", "smells"),
}


@st.composite
def two_rules(draw: st.DrawFn) -> tuple[tuple[Condition, ...], tuple[Condition, ...]]:
    """The conditions of two rules, on no more than two attributes, so that they often meet."""
    names = draw(st.lists(st.sampled_from(sorted(_OF)), min_size=1, max_size=2, unique=True))
    one_condition = st.one_of(*(_OF[name] for name in names)).map(lambda text: parse(text, KINDS, SUBJECTS))
    rules = st.lists(one_condition, min_size=1, max_size=3).map(tuple)
    return draw(rules), draw(rules)


def pair(one: tuple[str, ...], other: tuple[str, ...] = ("place.room > 1",)) -> tuple[tuple[Condition, ...], ...]:
    """Two rules, written out."""
    return tuple(tuple(parse(text, KINDS, SUBJECTS) for text in texts) for texts in (one, other))


@settings(deadline=None)
@example(pair(("holding['hay', 'leaves'].share < 1", "holding['hay', 'leaves'].share > 1")))
@given(two_rules())
def test_what_is_called_impossible_holds_in_no_world(rules: tuple[tuple[Condition, ...], ...]) -> None:
    conditions = rules[0]
    if joined((claim(condition, KINDS) for condition in conditions), KINDS) is None:
        assert not any(holds(conditions, world) for world in worlds(conditions))


@settings(deadline=None)
@example(
    pair(
        ("holding['hay'].share > 1", "holding['leaves'].trait == 'mats'"),
        ("holding.share > 1", "holding.trait == 'mats'"),
    )
)
@example(pair(("holding.share > 1", "holding['hay'].share < 1"), ("holding['leaves'].share > 1",)))
@given(two_rules())
def test_where_the_narrow_rule_fires_the_wide_one_does(rules: tuple[tuple[Condition, ...], ...]) -> None:
    narrow, wide = (joined((claim(condition, KINDS) for condition in rule), KINDS) for rule in rules)
    if narrow is not None and wide is not None and implies(narrow, wide):
        assert all(holds(rules[1], world) for world in worlds(rules[0] + rules[1]) if holds(rules[0], world))


@settings(deadline=None)
@example(pair(("holding.share < 1",), ("holding.share > 1",)))
@example(pair(("holding['hay'].share < 1",), ("holding['leaves'].share > 1",)))
@given(two_rules())
def test_rules_that_fire_in_one_world_are_called_compatible(rules: tuple[tuple[Condition, ...], ...]) -> None:
    one, other = (joined((claim(condition, KINDS) for condition in rule), KINDS) for rule in rules)
    if any(holds(rules[0], world) and holds(rules[1], world) for world in worlds(rules[0] + rules[1])):
        assert one is not None
        assert other is not None
        assert compatible(one, other, KINDS)


@settings(deadline=None)
@given(two_rules())
def test_a_rule_of_single_facts_is_impossible_only_if_no_world_makes_it_true(
    rules: tuple[tuple[Condition, ...], ...],
) -> None:
    """The other way round, where it can be exact: facts there is one of, a value between any two bounds."""
    conditions = tuple(condition for condition in rules[0] if condition.kind == "place" and not condition.unknown)
    told = joined((claim(condition, KINDS) for condition in conditions), KINDS)
    tight = any(_narrower_than_the_grid(made.domain) for made in told or ())
    if told is not None and not tight:
        assert any(holds(conditions, world) for world in worlds(conditions))


def _narrower_than_the_grid(domain: Domain | None) -> bool:
    return isinstance(domain, Span) and not any(
        Span(value, value).within(domain) for (value,) in _SOME_NUMBERS[1:] if isinstance(value, float)
    )


_EDGES = st.integers(0, 4).map(float)
_SPANS = st.builds(Span, _EDGES, _EDGES, st.booleans(), st.booleans())
_POINTS = [value / 4 for value in range(-1, 18)]


def _inside(span: Span) -> set[float]:
    above = {point for point in _POINTS if (point > span.low if span.low_open else point >= span.low)}
    return {point for point in above if (point < span.high if span.high_open else point <= span.high)}


@given(_SPANS, _SPANS)
def test_spans_lie_as_their_points_do(one: Span, other: Span) -> None:
    both = one.both(other)
    assert isinstance(both, Span)
    assert _inside(both) == _inside(one) & _inside(other)
    assert both.empty == (not _inside(both))
    assert one.within(other) == (_inside(one) <= _inside(other))


@given(st.sets(st.sampled_from("abc")), st.sets(st.sampled_from("abc")))
def test_words_lie_as_sets_do(one: set[str], other: set[str]) -> None:
    mine, yours = Words(frozenset(one)), Words(frozenset(other))
    assert mine.both(yours) == Words(frozenset(one & other))
    assert mine.within(yours) == (one <= other)
    assert mine.empty == (not one)
