"""What is answered to dangers. Each answer first says what to do now, and whom to call."""

from __future__ import annotations

import re

import pytest

from advisor.counsel.danger import danger_reply, feared_reply, past_reply
from advisor.hearing.dangers import KINDS
from advisor.hearing.hear import hear
from advisor.hearing.shapes import HeardDanger
from advisor.hearing.vocabulary import vocabulary_for
from advisor.knowledge.load import shipped

ANSWERS = shipped().danger_answers
DANGERS = [HeardDanger(one.name.partition("/")[0], one.kind, "") for one in vocabulary_for(shipped()).dangers.values()]
#: Kinds in which somebody's life may be at stake: somebody must be called, and the first line says so.
CALL_AT_ONCE = frozenset({"fire", "fumes", "crush", "electric", "breath", "poison", "smoke"})
SOMEBODY = re.compile(
    r"call|ring|emergency number|fire service|poison centre|doctor|vet\b|council|midwife|hospital|health office"
    r"|pest control"
)


def test_every_kind_has_an_answer() -> None:
    assert set(KINDS) <= ANSWERS.keys()


@pytest.mark.parametrize("danger", DANGERS, ids=lambda danger: danger.name)
def test_a_warning_says_whom_to_call_and_stays_short(danger: HeardDanger) -> None:
    lines = danger_reply(danger, ANSWERS)
    assert 2 <= len(lines) <= 5
    assert SOMEBODY.search(" ".join(lines)) or danger.kind == "gas"
    if danger.kind in CALL_AT_ONCE and danger.name not in ("hot-enough-to-char", "mixed-cleaners", "cable"):
        assert SOMEBODY.search(lines[0]), lines[0]
    assert all(len(line) < 260 for line in lines)


@pytest.mark.parametrize("danger", DANGERS, ids=lambda danger: danger.name)
def test_what_is_feared_is_answered_in_three_lines_and_leads_on(danger: HeardDanger) -> None:
    assert 1 <= len(feared_reply(danger, ANSWERS)) <= 3
    assert past_reply(danger, ANSWERS)


@pytest.mark.parametrize(
    ("say", "first", "never"),
    [
        ("my heap is on fire, there are flames at the back", "fire service", "Fork"),
        ("my toddler ate a mushroom off the heap", "poison centre", "nothing to worry"),
        ("our dog ate mouldy bread from the compost and is shaking", "vet", "induce"),
        ("dad is down in the slurry tank and won't answer", "Stay out", "go in and"),
        ("I've got lime in my eye", "Rinse", "rub it"),
        ("stung on the neck and my face is swelling up", "emergency number", "wait and see"),
    ],
)
def test_what_is_said_first(say: str, first: str, never: str) -> None:
    lines = danger_reply(hear(say, shipped()).dangers[0], ANSWERS)
    assert first in lines[0]
    assert never not in " ".join(lines)


def test_nobody_is_told_to_turn_or_dig_into_a_fire() -> None:
    """Air feeds a fire in a heap: The Composting Handbook, chapter 14, Academic Press, 2022."""
    for kind in ("fire", "smoke"):
        text = " ".join(danger_reply(HeardDanger(kind, kind, ""), ANSWERS))
        assert "Don't dig into it and don't turn it" in text


def test_quantities_are_shown_in_the_units_of_the_person() -> None:
    fire = HeardDanger("fire", "fire", "")
    assert "80 °C" in " ".join(feared_reply(fire, ANSWERS))
    assert "°C" not in " ".join(feared_reply(fire, ANSWERS, "us"))


def test_a_danger_without_an_answer_of_its_own_gets_that_of_its_kind() -> None:
    assert danger_reply(HeardDanger("some-new-fire", "fire", ""), ANSWERS) == danger_reply(
        HeardDanger("fire", "fire", ""), ANSWERS
    )
