"""A diagnosis: what it says, what it asks, and what it never does."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.diagnosis.diagnose import diagnose, shipped_diagnosis_engine
from advisor.diagnosis.shapes import Diagnosis
from advisor.diagnosis.weighing import TROUBLED, causes_of
from advisor.diagnosis.signs import read_signs
from advisor.errors import InferenceFault
from advisor.knowledge.load import shipped

KNOWLEDGE = shipped()
WORDS = [(name, word) for name, attribute in KNOWLEDGE.kinds["sign"].attributes.items() for word in attribute.words]


def told(text: str) -> Diagnosis:
    return diagnose(read_signs(text, KNOWLEDGE)[0], KNOWLEDGE, shipped_diagnosis_engine())


def standing(found: Diagnosis) -> set[str]:
    return {one.cause for one in found.standing}


def test_cold_alone_asks_and_lists_suspicions() -> None:
    found = told("it is cold")
    assert found.verdict == "unsettled"
    assert [cure.remedy for cure in found.remedies] == ["squeeze-first"]  # safe whichever of them it is
    assert len(found.causes) >= 3
    assert found.questions
    assert found.questions[0].ease <= 2  # before a thermometer


def test_nothing_known_asks() -> None:
    found = told("")
    assert (found.verdict, found.causes) == ("unsettled", ())
    assert [cure.remedy for cure in found.remedies] == ["squeeze-first"]
    assert found.questions


# From memory of Cornell Composting, troubleshooting (1996), and common practice.
@pytest.mark.parametrize(
    ("text", "causes"),
    [
        ("wet, slimy, smells of rotten eggs", {"too-wet", "airless"}),
        ("small heap in winter, frozen", {"too-small", "cold-weather"}),
        ("very dry and too hot", {"too-dry", "overheated"}),
        ("small heap, dry and cold", {"too-small", "too-dry"}),
    ],
)
def test_causes_that_come_together_are_found_together(text: str, causes: set[str]) -> None:
    assert causes <= standing(told(text))


@pytest.mark.parametrize(
    "text",
    [
        "white threads in the heap",
        "soldier fly larvae",
        "woodlice and millipedes",
        "the heap sinks fast",
        "steam in the morning and it smells earthy",
        "a little brown liquid, no smell",
        "filled a little at a time, never gets hot, no smell",
        "dark, crumbly, smells earthy, no longer heats",
        "fermented bucket with white mould that smells of pickles",
        "fermenting bucket gives no liquid and smells sour",
    ],
)
def test_what_is_normal_is_said_plainly(text: str) -> None:
    found = told(text)
    assert found.verdict == "normal"
    assert found.summary.text.startswith("Nothing is wrong")


def test_a_third_of_the_causes_is_nothing_wrong() -> None:
    causes = causes_of(KNOWLEDGE).values()
    assert sum(cause.normal for cause in causes) >= len(causes) / 3


def test_a_harmless_find_does_not_hide_a_trouble() -> None:
    found = told("cold, nothing happens, woodlice in it")
    assert found.verdict != "normal"
    assert found.questions


def test_smoke_comes_first_and_nobody_is_sent_to_dig() -> None:
    found = told("smoke comes from the large dry heap")
    assert found.cautions[0].id == "g1"
    assert "fire" in found.cautions[0].text
    assert found.remedies[0].remedy == "keep-away-and-call"
    assert found.avoid[0].text.startswith("Don't open up a heap that smoulders")
    assert [cure.remedy for cure in found.remedies] == ["keep-away-and-call"]


def test_no_lime_on_a_sour_heap_with_manure() -> None:
    found = told("sour smell, wet, horse manure")
    assert any("lime" in line.text for line in found.avoid)
    assert any("120 days" in line.text for line in found.cautions)


def test_weeds_in_hay_call_for_beans() -> None:
    found = told("tomato leaves twist and cup where hay was used")
    (test, *_) = found.remedies
    assert test.remedy == "bean-test"
    assert all(f"{step}:" in test.line.text for step in (1, 2, 3, 4))


def test_a_second_effect_is_told() -> None:
    found = told("ammonia smell, dry, falls apart when squeezed")
    assert standing(found) == {"too-dry", "too-rich"}
    browns = next(cure for cure in found.remedies if cure.remedy == "fork-in-browns")
    assert any("wet them" in line.text for line in browns.provisos)


def test_each_cause_keeps_what_speaks_for_and_against_it() -> None:
    found = told("ammonia, balanced and well mixed, hot")
    rich = next(one for one in found.causes if one.cause == "too-rich")
    assert rich.speaks_for
    assert rich.speaks_against


def test_an_unknown_sign_is_a_fault_with_a_hint() -> None:
    with pytest.raises(InferenceFault, match="purple"):
        diagnose({"smell": ("purple",)}, KNOWLEDGE, shipped_diagnosis_engine())


def test_what_was_asked_in_vain_is_not_asked_again() -> None:
    signs = {"warmth": ("cold",)}
    first = diagnose(signs, KNOWLEDGE, shipped_diagnosis_engine()).questions[0].attribute
    name = first.partition(".")[2]
    again = diagnose(signs, KNOWLEDGE, shipped_diagnosis_engine(), declined={name})
    assert first not in {question.attribute for question in again.questions}


def drawn(pairs: list[tuple[str, str]]) -> dict[str, tuple[str, ...]]:
    signs: dict[str, tuple[str, ...]] = {}
    for name, word in pairs:
        if KNOWLEDGE.kinds["sign"].attributes[name].many or name not in signs:
            signs[name] = (*signs.get(name, ()), word)
    return {name: tuple(dict.fromkeys(words)) for name, words in signs.items()}


@settings(max_examples=80, deadline=None)
@given(st.lists(st.sampled_from(WORDS), max_size=9), st.randoms(use_true_random=False))
def test_the_same_signs_in_any_order_get_the_same_answer(pairs: list[tuple[str, str]], dice: random.Random) -> None:
    signs = drawn(pairs)
    shuffled = list(signs.items())
    dice.shuffle(shuffled)
    one = diagnose(signs, KNOWLEDGE, shipped_diagnosis_engine())
    other = diagnose(dict(shuffled), KNOWLEDGE, shipped_diagnosis_engine())
    assert one.model_copy(update={"signs": ()}) == other.model_copy(update={"signs": ()})


@settings(max_examples=150, deadline=None)
@given(st.lists(st.sampled_from(WORDS), max_size=9))
def test_no_diagnosis_is_unsafe_or_at_odds_with_itself(pairs: list[tuple[str, str]]) -> None:
    signs = drawn(pairs)
    found = diagnose(signs, KNOWLEDGE, shipped_diagnosis_engine())
    advised = {cure.remedy for cure in found.remedies}
    told_of = {line.text for line in found.cautions}
    if "smouldering" in standing(found):
        assert any("fire service" in text for text in told_of)
        assert "turn-it" not in advised
    if {"wasps", "snakes"} & set(signs.get("animals", ())):
        assert not {"turn-it", "break-mats"} & advised
    if "bucket-failed" in standing(found):
        assert not {"bucket-shut", "drain-bucket"} & advised
    if {"herbicide-residue", "pet-waste", "treated-wood", "unripe"} & standing(found):
        assert "rest-and-use" not in advised
    if "pet-waste" in signs.get("holds", ()):
        assert any("Pet waste" in text for text in told_of)
    if {"rats", "mice"} & set(signs.get("animals", ())):
        assert any("urine" in text for text in told_of)
    if "manure" in signs.get("holds", ()):
        assert any("120 days" in text for text in told_of)
    assert not ("bucket-bury-away" in advised and "bucket-carry-on" in advised)
    assert [line.id for line in found.cautions] == sorted(
        (line.id for line in found.cautions), key=lambda name: (name[0] != "g", int(name[1:]))
    )
    names = [line.id for line in found.lines()]
    assert len(names) == len(set(names))
    for line in found.lines():
        assert "{" not in line.text
    assert bool(found.standing) or found.verdict in ("tied", "unsettled")
    if not found.sure:
        assert found.verdict != "tied" or len(found.causes) > 1


def test_the_states_that_want_explaining_are_states() -> None:
    assert set(KNOWLEDGE.kinds["state"].attributes["found"].words) >= TROUBLED
