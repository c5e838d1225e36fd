"""How a talk stands is one record: a line maps it to the next, and going back gives what stood before."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest
from conversing import Person

TALKS = {
    "stock": ("3 sacks of dry leaves", "2 sacks of manure", "1", "what if I had no leaves", "yes", "why?", "go back"),
    "trouble": ("a bin of grass", "it stinks of ammonia", "2", "why?", "I added straw", "more"),
    "sheet": ("check my soil", "3", "never mind", "3 sacks of dry leaves", "can I add citrus peel?", "more", "go back"),
    "danger": ("3 sacks of dry leaves", "smoke is coming out of my heap", "it is by the shed", "the fire is out"),
}


@pytest.mark.parametrize("lines", TALKS.values(), ids=TALKS)
def test_what_is_answered_hangs_on_the_record_alone(tmp_path: Path, lines: tuple[str, ...]) -> None:
    person = Person(tmp_path)
    course, account = person.talk._course, person.talk._account
    records, answers = [course.now], []
    for line in lines:
        answers.append(person.says(line).replies)
        records.append(course.now)
    for number in reversed(range(len(lines))):
        course.now = records[number]
        account.work_out()
        assert person.says(lines[number]).replies == answers[number]
        assert course.now.pending == records[number + 1].pending
        assert course.now.state == records[number + 1].state
        assert course.now.cure_told == records[number + 1].cure_told


def test_no_part_of_the_record_can_be_changed(tmp_path: Path) -> None:
    now = Person(tmp_path).says("3 sacks of dry leaves").talk._course.now
    parts = [now, *(getattr(now, one.name) for one in dataclasses.fields(now))]
    frozen = [part for part in parts if dataclasses.is_dataclass(part)]
    assert len(frozen) > 8
    for part in frozen:
        with pytest.raises(dataclasses.FrozenInstanceError):
            setattr(part, dataclasses.fields(part)[0].name, None)


def test_going_back_opens_the_question_about_words_again(tmp_path: Path) -> None:
    person = Person(tmp_path).says("3 sacks of dry leaves", "2 sacks of manure")
    put = person.question
    assert "manure" in put.ask
    person.says("1", "go back")
    assert person.question == put
    person.says("2")
    assert {held.material for held in person.talk.household.holdings} == {
        "dry-leaves",
        person.talk.context.latest,
    }
    assert person.talk.context.latest != "dry-leaves"


def test_an_amount_put_right_after_going_back_is_of_what_stands(tmp_path: Path) -> None:
    person = Person(tmp_path).says("3 sacks of dry leaves", "2 buckets of peelings", "go back", "no, 5 sacks")
    (held,) = person.talk.household.holdings
    assert (held.material, held.quantity.count) == ("dry-leaves", 5)
