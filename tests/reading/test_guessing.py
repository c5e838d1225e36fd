"""A question that guesses at the cause of a trouble asks for the cause, and says nothing of what it names.

Lines of our own (no source: examples of ordinary speech).
"""

from __future__ import annotations

import pytest

from advisor.hearing.hear import hear
from advisor.knowledge.load import shipped

GUESSED = [
    "the bin reeks of sick, is it the banana skins?",
    "my beans went yellow after I forked the shavings in, too little rain?",
    "the wormery stinks, is it because I never gave them any lime?",
    "nothing has come up in the trays I filled from the heap, duff seed?",
    "there are rats in it, did somebody leave the lid off?",
    "it went slimy and it hums, could it be the grass?",
    "the worms are all dead, are they sick?",
]


@pytest.mark.parametrize("said", GUESSED)
def test_the_trouble_comes_first_and_the_guess_asks_why(said: str) -> None:
    read = hear(said, shipped())
    assert read.acts[0] == "trouble"
    assert "ask_why" in read.acts
    assert not {"ask_material", "ask_use", "correct"} & set(read.acts)
    assert all(not question.topic for question in read.asked)


def test_what_is_guessed_at_is_not_taken_as_told() -> None:
    read = hear("the heap smells of vinegar, is it too wet?", shipped())
    assert not [fact for fact in read.facts if fact.name == "sign.moisture" and fact.stance == "told"]
    assert [fact for fact in read.facts if fact.name == "sign.smell" and fact.stance == "told"]


@pytest.mark.parametrize(
    ("said", "act"),
    [
        ("it smells of earth and is black and crumbly, ready?", "ask_ready"),
        ("the heap is slimy, can I put it on the roses?", "ask_use"),
        ("there are slugs in it, is that ok?", "trouble"),
        ("I have leaves, straw and some banana skins, any use?", "stock"),
    ],
)
def test_a_verdict_a_use_or_a_time_is_no_guess(said: str, act: str) -> None:
    read = hear(said, shipped())
    assert "ask_why" not in read.acts
    assert act in read.acts[:2]
