"""A trouble is asked about five times at most, then the best guess is told."""

from __future__ import annotations

from pathlib import Path

import pytest
from conversing import Person

from advisor.diagnosis.diagnose import QUESTIONS_AT_MOST


@pytest.fixture
def person(tmp_path: Path) -> Person:
    return Person(tmp_path)


def test_after_five_questions_without_an_answer_a_best_guess_is_told(person: Person) -> None:
    person.says("my compost heap is stone cold")
    said = [person.text]
    asked = 0
    while person.talk.question is not None and person.question.attribute.startswith("sign.") and asked < 12:
        person.says("I don't know")
        said.append(person.text)
        asked += 1
    assert asked == QUESTIONS_AT_MOST
    assert any("best guess" in text for text in said)
    assert any("handful" in text for text in said[:1])  # a safe first step from the start
