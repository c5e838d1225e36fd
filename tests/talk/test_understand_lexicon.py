"""The notation of the phrase lexicon, its faults, and what the screen offers typed back."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from advisor.knowledge.base import Knowledge
from advisor.knowledge.load import shipped
from advisor.places import rules_folder
from advisor.talk.intents import Context, Enter, Told
from advisor.talk.reading.lexicon import read_phrases
from advisor.talk.reading.patterns import Fill, Pattern, PatternError, match, parse
from advisor.talk.reading.spelling import Spelling
from advisor.talk.understand import understand

SPELLING = Spelling({"don't": "do not", "mold": "mould"})


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return shipped()


def pattern(text: str) -> Pattern:
    hens = tuple(parse(word, {}, SPELLING.normal) for word in ("hen", "laying hen"))
    return parse(text, {"hens": hens}, SPELLING.normal)


def numbers(words: Sequence[str]) -> Fill:
    """What fills <number>: a word of digits."""

    def fill(place: str, at: int) -> list[tuple[int, int]]:
        assert place == "number"
        return [(at + 1, int(words[at]))] if at < len(words) and words[at].isdecimal() else []

    return fill


@pytest.mark.parametrize(
    ("text", "said", "words_matched"),
    [
        ("the heap", "the heap smells", 2),
        ("(my | the) heap", "my heap", 2),
        ("(my | the) heap", "our heap", None),
        ("[my | the] heap", "heap", 1),
        ("we keep [six] {hens}", "we keep six laying hen", 5),
        ("we keep [six] {hens}", "we keep hen", 3),
        ("<number> {hens}", "6 hen", 2),
        ("<number> {hens}", "some hen", None),
        ("don't turn", "do not turn", 3),
        ("mold", "mould", 1),
        ("no (rat | rat or mouse)", "no rat or mouse", 4),
    ],
)
def test_a_pattern_takes_the_longest_it_can(text: str, said: str, words_matched: int | None) -> None:
    words = said.split()
    found = match(pattern(text), words, 0, numbers(words))
    assert (found[0] if found else None) == words_matched


@pytest.mark.parametrize(
    ("text", "column", "message"),
    [
        ("(my | the heap", 15, "')' is missing"),
        ("my heap)", 8, "a stray ')'"),
        ("hens | ducks", 6, "a stray '|'"),
        ("my (| the) heap", 4, "an empty choice"),
        ("{ducks} and hens", 1, "no list 'ducks'"),
        ("<number hens", 1, "'>' is missing"),
        ("[my] [the]", 1, "it would match no words at all"),
        ("", 1, "there is nothing in it"),
    ],
)
def test_a_broken_pattern_says_where_and_what(text: str, column: int, message: str) -> None:
    with pytest.raises(PatternError) as caught:
        pattern(text)
    assert (caught.value.column, str(caught.value)) == (column, message)


def test_the_shipped_lexicon_has_no_faults(knowledge: Knowledge) -> None:
    assert read_phrases(rules_folder(), knowledge)[1] == ()


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('[[answer]]\nattribute = "place.spce"\nsay = ["here"]', "no such answer"),
        ('[[answer]]\nattribute = "place.space"\nvalue = "castle"\nsay = ["a castle"]', "is never 'castle'"),
        ('[[answer]]\nattribute = "place.space"\nvalue = "flat"\nsay = ["a <thingy>"]', "no place <thingy>"),
        ('[[request]]\nrequest = "sing"\nsay = ["sing"]', "request.0.request"),
        ('[[door]]\ndoor = "start"\nsai = ["start"]', "door.0.sai"),
        ('[implied]\nbucket = "gold"', "no 'gold'"),
        ('[[group]]\nsay = ["gems"]\nreadings = ["ruby", "straw"]', "no 'ruby'"),
        ('[lists]\nflat = ["(flat"]', "')' is missing"),
        ("[lists", "cannot be read"),
    ],
)
def test_a_fault_of_the_lexicon_is_told_with_its_place(
    text: str, message: str, knowledge: Knowledge, tmp_path: Path
) -> None:
    (tmp_path / "phrases.toml").write_text(text, encoding="utf-8")
    problems = read_phrases(tmp_path, knowledge)[1]
    assert problems
    assert any(message in str(problem) for problem in problems), problems
    assert all(str(problem).startswith("rules/phrases.toml") for problem in problems)


def test_a_missing_lexicon_is_a_fault(knowledge: Knowledge, tmp_path: Path) -> None:
    assert "cannot be read" in str(read_phrases(tmp_path, knowledge)[1][0])


def test_every_answer_on_the_screen_is_understood_when_it_is_typed(knowledge: Knowledge) -> None:
    for question in (*knowledge.questions, *knowledge.sign_questions):
        kind, _, attribute = question.attribute.partition(".")
        for value, label in knowledge.kinds[kind].attributes[attribute].words.items():
            for said in (label, label.upper(), f"  {label}!"):
                context = Context(attribute=question.attribute, options=9)
                intents = understand(said, knowledge, context).intents
                assert [(type(each), each.attribute, each.values) for each in intents if isinstance(each, Told)] == [
                    (Told, question.attribute, (value,))
                ], said
                assert len(intents) == 1, said


def test_a_sign_is_told_by_its_name_beside_the_trouble(knowledge: Knowledge) -> None:
    intents = understand("it stinks of ammonia", knowledge, Context()).intents
    assert any(isinstance(each, Enter) and each.door == "trouble" for each in intents)
    assert any(isinstance(each, Told) and each.values == ("ammonia",) for each in intents)


def test_a_chain_of_what_ifs_ends(knowledge: Knowledge) -> None:
    assert understand("what if " * 250, knowledge, Context()).intents


@pytest.mark.parametrize(
    ("said", "meant"),
    [("grond", "ground"), ("leavs", ""), ("untreated", ""), ("paper", ""), ("zzzzzz", ""), ("mnaure", "manure")],
)
def test_only_plain_slips_are_put_right(said: str, meant: str) -> None:
    spelling = Spelling({})
    spelling.learn({"ground", "manure", "treated", "leaf", "paper"}, {"house"})
    assert spelling.corrected(said) == meant
