"""Whatever is typed: nothing crashes, every intent stands somewhere in the line, and capitals and blanks do not matter.

What carries meaning and was not used is named by `Heard.unread` (tests/reading).
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from test_understand import ENTRIES, Entry

from advisor.knowledge.load import shipped
from advisor.talk.intents import Context, Have, Intent, Understood, WhatIf
from advisor.talk.understand import understand

KNOWLEDGE = shipped()
QUESTIONS = [question.attribute for question in KNOWLEDGE.questions]

CONTEXTS = st.builds(
    Context,
    attribute=st.sampled_from(["", *QUESTIONS]),
    options=st.integers(0, 9),
    materials=st.lists(st.sampled_from(["straw", "dry-leaves", "oak-leaves", "horse-manure"]), unique=True).map(tuple),
    latest=st.sampled_from(["", "straw"]),
    lines=st.sampled_from([(), ("r1", "r2", "m1")]),
)

#: Words of the phrase book and of nobody, in any order.
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


def assert_sound(text: str, understood: Understood) -> None:
    assert understood.text == text
    for intent in everything(understood.intents):
        assert 0 <= intent.span[0] < intent.span[1] <= len(text)
        if isinstance(intent, Have):
            assert intent.holding.material in KNOWLEDGE.materials
            assert intent.holding.quantity.low <= intent.holding.quantity.count <= intent.holding.quantity.high


def everything(intents: tuple[Intent, ...]) -> Iterator[Intent]:
    for intent in intents:
        yield intent
        if isinstance(intent, WhatIf):
            yield from everything(intent.changes)


@given(st.text(max_size=60), CONTEXTS)
@settings(max_examples=200, deadline=None)
@example("\u00ad3\u200bsacks\u202e of leaves", Context())
@example("\x00\x01\x1b[2J", Context())
@example("1\n2\n3", Context(options=3))
def test_any_text_is_read(text: str, context: Context) -> None:
    assert_sound(text, understand(text, KNOWLEDGE, context))


@given(LINES, CONTEXTS)
@settings(max_examples=200, deadline=None)
def test_words_in_any_order_are_read(text: str, context: Context) -> None:
    assert_sound(text, understand(text, KNOWLEDGE, context))


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: f"{entry.line}: {entry.said!r}")
def test_the_phrase_book_is_read_soundly(entry: Entry) -> None:
    assert_sound(entry.said, understand(entry.said, KNOWLEDGE, entry.context))


@given(st.lists(PIECES, min_size=400, max_size=700).map(" ".join))
@settings(max_examples=3, deadline=None)
def test_a_pasted_page_is_read_so_far(text: str) -> None:
    assert_sound(text, understand(text, KNOWLEDGE, Context()))


@given(LINES)
@settings(max_examples=40, deadline=None)
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
