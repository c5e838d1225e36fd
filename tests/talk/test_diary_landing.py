"""What is told of a heap in the talk lands in the diary by itself; what is asked, denied or supposed never does."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from conversing import ENGINE, KNOWLEDGE, MONDAY, begin, landed

from advisor.diary.vessels import Record, read_record
from advisor.errors import HouseholdError
from advisor.talk.session import Talk

Say = Callable[[str], str]


def test_deeds_readings_and_troubles_land(path: Path, say: Say) -> None:
    told = say("I turned the heap yesterday and it is 58 C now")
    assert "I put that in your diary for the heap. “Show my diary” lists it" in told
    assert landed(path) == [("heap", "turned", "2026-11-29"), ("heap", "reading", "2026-11-30")]
    assert "in your diary" not in say("it stinks of ammonia")
    assert landed(path)[-1] == ("heap", "trouble", "2026-11-30")


@pytest.mark.parametrize(
    "line",
    [
        "should I turn the heap?", "I did not turn it", "what if it was 70 C in the middle?",
        "I will water it tomorrow", "I have not watered it",
        "does it stink if I add grass?", "if it smells of ammonia I would add straw", "my neighbour turned his heap",
        "I have 3 sacks of leaves and a bucket of coffee grounds", "hello", "is 50 C hot enough?",
    ],
)  # fmt: skip
def test_what_is_not_told_does_not_land(path: Path, say: Say, line: str) -> None:
    say(line)
    assert landed(path) == []


def test_what_went_in_lands_with_its_amounts(path: Path, say: Say) -> None:
    say("I added 2 buckets of sawdust to the heap")
    (entry,) = read_record(path).entries
    assert [(one.material, one.count, one.measure) for one in entry.told.materials] == [("sawdust", 2, "bucket")]


def test_it_lands_with_the_vessel_that_is_named_or_the_only_one(path: Path, say: Say) -> None:
    begin(path, ("shed bin", "bin"))
    say("I watered it today")
    say("spun the tumbler")
    assert landed(path)[1:] == [("shed bin", "watered", "2026-11-30"), ("tumbler", "turned", "2026-11-30")]


def test_where_several_may_be_meant_it_asks_and_nothing_lands(path: Path, say: Say) -> None:
    begin(path, ("north heap", "heap"), ("south heap", "heap"))
    assert "north heap or south heap" in say("I turned it this morning")
    assert len(landed(path)) == 2
    say("turned the south heap this morning")
    assert landed(path)[-1] == ("south heap", "turned", "2026-11-30")


def test_what_is_taken_back_in_the_talk_is_taken_back_in_the_diary(path: Path, say: Say) -> None:
    say("I have 3 sacks of leaves")
    say("I watered the heap")
    assert len(landed(path)) == 1
    assert "out of the diary" in say("undo that")
    assert landed(path) == []
    assert [one.taken_back for one in read_record(path, taken_back=True).entries] == [True]
    assert "sacks of dry autumn leaves" in say("undo that"), "the line before is next"


def test_a_far_off_reading_is_questioned_and_kept_if_it_is_said_again(path: Path, say: Say) -> None:
    assert "580 C?" in say("the heap is at 580 C")
    assert landed(path) == []
    say("the heap is at 580 C")
    assert [one.told.degrees for one in read_record(path).entries] == [580]


def test_a_diary_that_cannot_be_written_is_said_and_the_talk_goes_on(say: Say, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_given: object, **_named: object) -> tuple[int, ...]:
        raise HouseholdError("the diary cannot be used: the disk is full")

    monkeypatch.setattr("advisor.talk.diary_landing.keep", full)
    assert "disk is full. That line is not in the diary" in say("I turned the heap")


def test_a_talk_that_keeps_nothing_lands_nothing() -> None:
    talk = Talk(KNOWLEDGE, ENGINE, today=MONDAY)
    talk.open()
    talk.hear("I turned the heap yesterday")
    assert read_record() == Record()


@pytest.mark.parametrize(
    "line", ["what should I do today?", "what now?", "what needs doing this weekend?", "what is due?"]
)
def test_what_to_do_today_is_asked_of_the_diary(path: Path, say: Say, line: str) -> None:
    begin(path, ("worm bin", "worm bin"), kind="fed", day=date(2026, 11, 20))
    told = say(line)
    assert "1. Worm bin: feed the worms" in told and "“why 1”" in told
    assert "Why: It was last fed 10 days ago." in say("why 1")


def test_the_week_to_come_is_another_question(path: Path, say: Say) -> None:
    begin(path, ("worm bin", "worm bin"), kind="fed", day=date(2026, 11, 26))
    assert "nothing to do today" in say("what should I do today?")
    assert "feed the worms (on Thursday 3 December)" in say("what should I do this week?")


def test_before_going_away(path: Path, say: Say) -> None:
    begin(path, ("worm bin", "worm bin"), kind="fed")
    told = say("I'm going on holiday for three weeks, what should I do before?")
    assert "before you go" in told and "fresh bedding" in told
    assert len(landed(path)) == 1


def test_a_deed_of_the_list_is_done_put_off_or_skipped(path: Path, say: Say) -> None:
    begin(path, ("worm bin", "worm bin"), kind="fed", day=date(2026, 11, 20))
    begin(path, ("tumbler", "tumbler"), kind="trouble")
    say("done 1")
    assert len(landed(path)) == 2, "no list was shown"
    say("what should I do today?")
    assert "no number 9" in say("done 9")
    assert "Put off until Thursday 3 December: Worm bin: feed the worms." in say("put off 1 for 3 days")
    say("what should I do today?")
    assert landed(path)[-1][1] == "put off"


def test_nothing_to_do_is_said_so(path: Path, say: Say) -> None:
    begin(path, ("worm bin", "worm bin"), kind="fed")
    assert "There is nothing to do today for your heap or bin." in say("what should I do today?")


def test_without_vessels_the_talk_answers_as_before(say: Say) -> None:
    assert "to do today" not in say("what should I do next?")
