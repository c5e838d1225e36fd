"""What the plain evaluator makes of signs is what the engine concludes, for any signs."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.diagnosis.diagnose import foresight_of, shipped_diagnosis_engine
from advisor.diagnosis.weighing import points
from advisor.inference.facts import Fact
from advisor.knowledge.load import shipped

KNOWLEDGE = shipped()
WORDS = [(name, word) for name, attribute in KNOWLEDGE.kinds["sign"].attributes.items() for word in attribute.words]


def by_engine(signs: dict[str, tuple[str, ...]]) -> tuple[dict[str, float], set[str]]:
    with shipped_diagnosis_engine().consultation() as talk:
        talk.tell([Fact("sign", name, "", value) for name, values in signs.items() for value in values], "told")
        favour: dict[str, float] = {}
        for cause in talk.subjects("cause"):
            told = {
                (firing.rule, float(value))
                for value in talk.values("cause", "favour", cause)
                for firing in talk.fired("cause", "favour", cause, value)
            }
            if told:
                favour[cause] = sum(points(weight) for _, weight in told)
        return favour, {cause for cause in talk.subjects("cause") if talk.values("cause", "ruled_out", cause)}


def drawn(pairs: list[tuple[str, str]]) -> dict[str, tuple[str, ...]]:
    signs: dict[str, tuple[str, ...]] = {}
    for name, word in pairs:
        many = KNOWLEDGE.kinds["sign"].attributes[name].many
        if many or name not in signs:
            signs[name] = (*signs.get(name, ()), word)
    return {name: tuple(dict.fromkeys(words)) for name, words in signs.items()}


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(WORDS), min_size=1, max_size=8))
def test_what_follows_from_signs_is_what_the_engine_concludes(pairs: list[tuple[str, str]]) -> None:
    signs = drawn(pairs)
    seen = foresight_of(KNOWLEDGE).seen(signs)
    favour, out = by_engine(signs)
    assert {cause: weight for cause, weight in seen.favour.items() if weight or cause in favour} == favour
    assert seen.ruled_out == out


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(WORDS), min_size=1, max_size=6), st.sampled_from(WORDS))
def test_a_further_sign_adds_the_difference(pairs: list[tuple[str, str]], further: tuple[str, str]) -> None:
    signs, (name, word) = drawn(pairs), further
    if name in signs:
        return
    foresight = foresight_of(KNOWLEDGE)
    before, after = foresight.seen(signs), foresight.seen({**signs, name: (word,)})
    more = foresight.further(before, name, word)
    for cause in KNOWLEDGE.notices["cause"]:
        assert after.favour.get(cause, 0.0) == before.favour.get(cause, 0.0) + more.favour.get(cause, 0.0)
    assert after.ruled_out == before.ruled_out | more.ruled_out
