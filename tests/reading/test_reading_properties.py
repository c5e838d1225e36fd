"""What must hold of any line: figures answer no menu, politeness and order change no fact, a wrapper tells nothing.

The statements are the examples of rules/words/: ways in which people talk, common practice, no source.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.hearing.hear import hear
from advisor.hearing.shapes import Asked
from advisor.hearing.vocabulary import vocabulary_for
from advisor.knowledge.load import shipped

WORDS = vocabulary_for(shipped())
#: Plain statements of one clause that tell a sign, and no time: what a property is tried on.
STATEMENTS = sorted(
    line.rstrip(".!")
    for name, line, says in WORDS.examples
    if says
    and name in WORDS.concepts
    and not WORDS.concepts[name].deed
    and not set(line) & set(",;:?()-'\".!")
    and 3 <= len(line.split()) <= 9
    and any(fact.name.startswith("sign.") for fact in hear(line, shipped()).told)
    and not hear(line, shipped()).times
)
MENU = Asked("Which of these is it?", ("wet", "dry", "warm", "cold", "neither of them"))
_TRIES = settings(max_examples=60, deadline=None)


def _told(line: str) -> frozenset[tuple[str, str]]:
    """The signs that words tell; those worked out of figures and times have tests of their own."""
    told = hear(line, shipped()).told
    return frozenset((fact.name, fact.value) for fact in told if fact.name.startswith("sign.") and fact.concept)


def test_there_are_statements_to_try() -> None:
    assert len(STATEMENTS) > 60


@_TRIES
@given(
    number=st.integers(1, 5),
    frame=st.sampled_from(
        [
            "about {} weeks ago",
            "{}:1",
            "{} x 3 m",
            "{}/11",
            "on the {} of May",
            "mix it {} to 1",
            "{} ft by 2",
            "it took {} days",
        ]
    ),
)
def test_a_figure_inside_a_line_answers_no_menu(number: int, frame: str) -> None:
    assert hear(frame.format(number), shipped(), MENU).options == ()


@_TRIES
@given(
    line=st.sampled_from(STATEMENTS),
    polite=st.sampled_from(["hello, {}", "{} thanks", "{} please", "good morning. {}", "{}, cheers", "hi there, {}"]),
)
def test_a_politeness_changes_no_fact(line: str, polite: str) -> None:
    assert _told(polite.format(line)) == _told(line)


@_TRIES
@given(
    line=st.sampled_from(STATEMENTS),
    aside=st.sampled_from(["I am new to this", "we had a look this morning", "my wife noticed first"]),
)
def test_the_order_of_sentences_changes_no_fact(line: str, aside: str) -> None:
    assert _told(f"{line}. {aside}.") == _told(f"{aside}. {line}.") == _told(line)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("how often do I turn it", "how much compost for the roses"),
        ("it stinks of ammonia", "can I put bread in"),
        ("I turned it yesterday", "what should I do next"),
        ("I've got 3 bags of leaves", "how much water does it need"),
        ("is it ready yet", "can I add citrus"),
    ],
)
def test_two_matters_are_both_heard(one: str, other: str) -> None:
    both = set(hear(f"{one} and also {other}", shipped()).acts)
    assert {hear(one, shipped()).acts[0], hear(other, shipped()).acts[0]} <= both


@_TRIES
@given(
    line=st.sampled_from(STATEMENTS),
    wrapper=st.sampled_from(
        [
            "is it true that {}?",
            "I don't think {}",
            "my neighbour says {}",
            "what if {}",
            "I read that {}",
        ]
    ),
)
def test_a_wrapper_makes_it_no_fact_of_ones_own(line: str, wrapper: str) -> None:
    """What the wrapped statement says is mentioned; a denied one may state its opposite, but never itself."""
    assert not _told(wrapper.format(line)) & _told(line)


@_TRIES
@given(
    line=st.sampled_from(STATEMENTS),
    word=st.from_regex(r"[bdgklmnprtvz][aeiou][xqvzj][aeiou][bdgklmnprtvz][aeiou][xqvz]", fullmatch=True),
)
def test_a_word_that_nobody_knows_is_named_beside_what_is_heard(line: str, word: str) -> None:
    assert word in hear(f"{line}. The {word} did it.", shipped()).unread
