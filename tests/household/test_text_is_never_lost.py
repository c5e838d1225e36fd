"""Whatever is typed, it is read without a crash, and every letter of it is accounted for."""

from __future__ import annotations

from unicodedata import category

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from advisor.errors import HouseholdError
from advisor.household.amounts import Phrase, read_list, read_phrase, split_list
from advisor.household.names import find_material, find_measure
from advisor.household.tokens import DASHES, shown, tokenize
from advisor.knowledge.base import Knowledge
from advisor.safe_text import safe_text

_VOCABULARY = (
    "3 2,5 1/2 ½ half a an two and or a couple of lots no about to - – -2 x × ( ) , ; : . + & / % ' dozen hundred "
    "sack sacks buckets big packed kg L gal m3 40 leaves grass manure dry wet every per week day twice weekly year "
    "between full bags each straw \n 🥔 \u202e ١٢ مرحبا e\u0301 \x00"
)
WORDS = st.sampled_from(_VOCABULARY.split(" "))
PHRASES = st.lists(WORDS, max_size=14).map(" ".join)
ANYTHING = st.one_of(st.text(max_size=120), PHRASES, st.text(alphabet="0123456789½/-.,x kgL(and", max_size=60))

#: What may part items and so belong to none of them.
_PARTING = set(",;.\n!?•·+&*◦▪") | DASHES


def _solid(text: str) -> str:
    return "".join(text.split())


def _check_chunks(text: str, phrase: Phrase) -> None:
    assert text[slice(*phrase.span)] == phrase.said
    at = phrase.span[0]
    for chunk in phrase.chunks:
        assert text[slice(*chunk.span)] == chunk.text
        assert not text[at : chunk.span[0]].strip()
        at = chunk.span[1]
    assert not text[at : phrase.span[1]].strip()


@given(text=ANYTHING)
@example(text="twice " * 50)
@example(text="9" * 500 + "/" + "9" * 500 + " kg")
@example(text="1/0 kg")
@example(text="(" * 200)
@example(text="½½½½ kg")
@settings(deadline=None, max_examples=300)
def test_a_phrase_keeps_every_letter(text: str, knowledge: Knowledge) -> None:
    try:
        phrase = read_phrase(text, knowledge)
    except HouseholdError as error:
        assert len(str(error).splitlines()) == 1
        return
    _check_chunks(text, phrase)
    assert _solid(phrase.said) == _solid(text)
    assert "".join(_solid(chunk.text) for chunk in phrase.chunks) == _solid(text)


@given(text=ANYTHING)
@settings(deadline=None, max_examples=300)
def test_a_list_keeps_every_letter_but_its_separators(text: str, knowledge: Knowledge) -> None:
    try:
        phrases = read_list(text, knowledge)
    except HouseholdError as error:
        assert len(str(error).splitlines()) == 1
        return
    at = 0
    for phrase in phrases:
        _check_chunks(text, phrase)
        _only_separators(text[at : phrase.span[0]])
        at = phrase.span[1]
    _only_separators(text[at:])


def _only_separators(between: str) -> None:
    words = {token.key for token in tokenize(between) if token.kind != "mark"}
    assert words <= {"and", "plus", "also", "as", "well", "along", "together", "with"}
    assert {token.text for token in tokenize(between) if token.kind == "mark"} <= _PARTING


@given(text=ANYTHING)
@settings(deadline=None)
def test_splitting_keeps_the_items_in_order(text: str, knowledge: Knowledge) -> None:
    for items in (split_list(text), split_list(text, knowledge)):
        at = 0
        for item in items:
            at = text.index(item, at) + len(item)


@given(text=ANYTHING)
@settings(deadline=None)
def test_any_name_can_be_looked_up(text: str, knowledge: Knowledge) -> None:
    for match in (find_material(text, knowledge), find_measure(text, knowledge)):
        assert 0 <= match.score <= 100
        assert bool(match.id) == match.found


@given(text=ANYTHING)
def test_tokens_cover_all_but_blanks(text: str) -> None:
    assert _solid("".join(token.text for token in tokenize(text))) == _solid(text)


@given(text=ANYTHING)
def test_what_is_quoted_fits_on_one_line(text: str) -> None:
    line = shown(text)
    assert len(line) <= 60
    assert len(line.splitlines()) <= 1
    assert line == safe_text(line)
    assert not any(category(sign) in ("Cc", "Cs", "Zl", "Zp") for sign in line)


LONG = [
    "leaves and " * 900,
    "3 sacks leaves, " * 620,
    "a " * 5000,
    "1 x " * 2500,
    "🥔" * 10_000,
    "\u202eleaves\u202c " * 900,
    "x" * 10_000,
    "9" * 10_000,
    "half a " * 1400,
    "a bucket and a half " * 500,
    "(3 sacks " * 1100,
]


@pytest.mark.parametrize("text", LONG, ids=[text[:12] for text in LONG])
def test_ten_thousand_characters_are_read_too(text: str, knowledge: Knowledge) -> None:
    try:
        phrases = read_list(text, knowledge)
    except HouseholdError as error:
        assert len(str(error)) < 200
        return
    for phrase in phrases:
        _check_chunks(text, phrase)
