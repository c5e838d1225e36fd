"""Whatever is typed: nothing crashes, and no word is lost without being named."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from test_understand import ENTRIES, Entry

from advisor.household.tokens import tokenize
from advisor.knowledge.load import shipped
from advisor.talk.intents import Context, Intent, Lost, Understood, WhatIf
from advisor.talk.reading.lexicon import lexicon
from advisor.talk.reading.line import LONGEST
from advisor.talk.understand import understand

KNOWLEDGE = shipped()
WORDS = lexicon(KNOWLEDGE)
QUESTIONS = [question.attribute for question in KNOWLEDGE.questions]

CONTEXTS = st.builds(
    Context,
    attribute=st.sampled_from(["", *QUESTIONS]),
    options=st.integers(0, 9),
    materials=st.lists(st.sampled_from(["straw", "dry-leaves", "oak-leaves", "horse-manure"]), unique=True).map(tuple),
    latest=st.sampled_from(["", "straw"]),
    lines=st.sampled_from([(), ("r1", "r2", "m1")]),
)

#: Words of the phrase book, of the lexicon and of nobody, in any order.
SAID = sorted({word for entry in ENTRIES for word in entry.said.split()})
PIECES = st.one_of(
    st.sampled_from(SAID),
    st.sampled_from(sorted(entry.said for entry in ENTRIES)),
    st.sampled_from(
        [",", ".", "?", "!", ";", "\n", "-", "&", "and", "or", "not", "(", ")", "…", "3", "2,5", "½", "r2"]
    ),
    st.text(max_size=8),
)
LINES = st.lists(PIECES, max_size=14).map(" ".join)


def reaches(understood: Understood) -> set[int]:
    """Every character that lies in the span of an intent."""
    return {place for intent in understood.intents for place in range(*intent.span)}


def words_of(text: str) -> Iterator[tuple[set[int], str]]:
    """The words and numbers that can be seen in a text, with the places of their characters.

    The numbers that count the lines of a list are not among them.
    """
    seen = [
        place for place, sign in enumerate(text) if unicodedata.category(sign) != "Cf" and sign not in "\ufe0e\ufe0f"
    ]
    shown = "".join(text[place] for place in seen)
    numbering = {found.start(1) for found in re.finditer(r"(?:^|[\n\x85\u2028\u2029])\s*(\d+)[.)]\s", shown)}
    for token in tokenize(shown):
        if token.kind != "mark" and any(sign.isalnum() for sign in token.text) and token.start not in numbering:
            yield {seen[at] for at in range(token.start, token.end)}, token.key


def is_small_talk(key: str) -> bool:
    return all(form in WORDS.small_talk for form in WORDS.spelling.normal(key))


def assert_sound(text: str, understood: Understood) -> None:
    assert understood.text == text
    reached = reaches(understood)
    silent = [key for places, key in words_of(text) if not is_small_talk(key) and not places & reached]
    assert not silent, f"{silent} of {text!r} in none of {understood.intents}"
    for intent in everything(understood.intents):
        assert 0 <= intent.span[0] < intent.span[1] <= len(text)
        if isinstance(intent, Lost):
            assert intent.words.isprintable()


def everything(intents: tuple[Intent, ...]) -> Iterator[Intent]:
    for intent in intents:
        yield intent
        if isinstance(intent, WhatIf):
            yield from everything(intent.changes)


@given(st.text(max_size=60), CONTEXTS)
@settings(max_examples=300, deadline=None)
@example("\u00ad3\u200bsacks\u202e of leaves", Context())
@example("\x00\x01\x1b[2J", Context())
@example("1\n2\n3", Context(options=3))
def test_any_text_is_read(text: str, context: Context) -> None:
    assert_sound(text, understand(text, KNOWLEDGE, context))


@given(LINES, CONTEXTS)
@settings(max_examples=400, deadline=None)
def test_no_word_is_lost_in_silence(text: str, context: Context) -> None:
    assert_sound(text, understand(text, KNOWLEDGE, context))


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: f"{entry.line}: {entry.said!r}")
def test_no_word_of_the_phrase_book_is_lost_in_silence(entry: Entry) -> None:
    assert_sound(entry.said, understand(entry.said, KNOWLEDGE, entry.context))


@given(st.lists(PIECES, min_size=400, max_size=700).map(" ".join))
@settings(max_examples=5, deadline=None)
def test_a_pasted_page_is_read_so_far_and_the_rest_is_named(text: str) -> None:
    understood = understand(text, KNOWLEDGE, Context())
    assert_sound(text, understood)
    if len(text) > LONGEST:
        last = understood.intents[-1]
        assert isinstance(last, Lost)
        assert last.span[1] == len(text)
        assert last.span[0] <= LONGEST
        assert len(last.words) < 100


@given(LINES)
@settings(max_examples=60, deadline=None)
def test_capitals_and_blanks_around_do_not_matter(text: str) -> None:
    plain = understand(text.lower(), KNOWLEDGE, Context()).intents
    padded = understand("  " + text.lower() + "   ", KNOWLEDGE, Context()).intents
    assert [type(intent) for intent in plain] == [type(intent) for intent in padded]


def test_one_word_of_two_thousand_letters() -> None:
    text = "a" * 2500
    assert_sound(text, understand(text, KNOWLEDGE, Context()))


def test_silence_means_nothing() -> None:
    for text in ("", " ", "\n", "\t \u00a0", "\u200b"):
        assert understand(text, KNOWLEDGE, Context()).intents == ()
