"""The vocabulary of what is told and asked, its faults, and what the screen offers typed back."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest

from advisor.hearing.lint import words_lint
from advisor.hearing.meanings import Door as HeardDoor
from advisor.hearing.vocabulary import vocabulary_for
from advisor.knowledge.base import Knowledge
from advisor.knowledge.load import shipped
from advisor.places import rules_folder
from advisor.talk.intents import Context, Door, Request, Told
from advisor.talk.understand import understand


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return shipped()


def test_the_shipped_vocabulary_has_no_faults(knowledge: Knowledge) -> None:
    faults, _ = words_lint(knowledge, rules_folder())
    assert not faults


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('[told.here]\nfact = "place.spce=flat"\nsays = ["here"]', "no such fact as 'place.spce'"),
        ('[told.here]\nfact = "place.space=castle"\nsays = ["a castle"]', "no 'castle'"),
        ('[told.here]\nfact = "place.space=flat"\nsays = ["a <thingy>"]', "names <thingy>, which is no class"),
        ('[told.here]\nfact = "place.space=flat"\nsay = ["flat"]', "no such field as 'say'"),
        ('[[door]]\ndoor = "start"\nsai = ["start"]', "no such field as 'sai'"),
        ('[implied]\nbucket = "gold"', "no 'gold'"),
        ('[near."bed.crop"]\ngems = ["ruby"]', "no 'gems'"),
        ("[told", "cannot be read"),
    ],
)
def test_a_fault_of_the_vocabulary_is_told_with_its_place(
    text: str, message: str, knowledge: Knowledge, tmp_path: Path
) -> None:
    (tmp_path / "words").mkdir()
    (tmp_path / "words" / "told.toml").write_text(text, encoding="utf-8")
    faults, _ = words_lint(knowledge, tmp_path)
    of_words = [str(fault) for fault in faults if fault.check in ("unread-words", "not-declared")]
    assert any(message in fault for fault in of_words), of_words


def test_every_door_and_request_is_one_of_the_talk(knowledge: Knowledge) -> None:
    every = vocabulary_for(knowledge).door_index
    meant = {said.of for index in (every.by_word, every.by_thing) for saids in index.values() for said in saids}
    doors = {one.name for one in meant if isinstance(one, HeardDoor) and not one.request}
    requests = {one.name for one in meant if isinstance(one, HeardDoor) and one.request}
    assert doors == set(get_args(Door))
    assert requests <= {*get_args(Request), "why"}


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


def test_a_chain_of_what_ifs_ends(knowledge: Knowledge) -> None:
    understand("what if " * 250, knowledge, Context())
