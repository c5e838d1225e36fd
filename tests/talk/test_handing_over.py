"""“Give me that on paper”, “put it in my calendar”: a file is written, and the talk says where."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from conversing import TODAY, Person
from icalendar import Calendar

HAVE = "4 sacks dry leaves, 2 buckets grass clippings, 1 bucket coffee grounds"


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


def said(person: Person, line: str) -> str:
    return "\n".join(reply.text for reply in person.talk.hear(line) if reply.kind in ("answer", "lost"))


def test_the_plan_on_paper_is_where_it_says(here: Path, tmp_path: Path) -> None:
    person = Person(tmp_path)
    assert "no plan yet" in said(person, "give me that on paper")
    assert not list(here.iterdir())
    person.talk.hear(HAVE)
    answer = said(person, "could I have it on paper?")
    assert str(here / "heap-plan.html") in answer
    page = (here / "heap-plan.html").read_text(encoding="utf-8")
    assert "<!DOCTYPE html>" in page and "dry autumn leaves" in page


def test_dates_count_from_today_where_no_day_was_told_and_come_again_in_the_same_file(
    here: Path, tmp_path: Path
) -> None:
    person = Person(tmp_path)
    person.talk.hear(HAVE)
    assert "from today" in said(person, "put it in my calendar")
    first = (here / "heap-plan.ics").read_bytes()
    events = Calendar.from_ical(first).walk("VEVENT")
    assert min(event.decoded("DTSTART") for event in events) == TODAY
    person.talk.hear("1 bucket straw")
    said(person, "put the dates in my calendar please")
    assert [each.name for each in here.iterdir()] == ["heap-plan.ics"]
    again = Calendar.from_ical((here / "heap-plan.ics").read_bytes()).walk("VEVENT")
    assert {str(event["UID"]) for event in again} >= {
        str(event["UID"]) for event in events if "Build" in event["SUMMARY"]
    }


def test_while_a_heap_ails_it_is_the_cure(here: Path, tmp_path: Path) -> None:
    person = Person(tmp_path)
    person.talk.hear("my heap stinks of ammonia and is slimy")
    assert "heap-cure.html" in said(person, "print that out please")
    assert "What to do" in (here / "heap-cure.html").read_text(encoding="utf-8")
    said(person, "put it in my calendar")
    events = Calendar.from_ical((here / "heap-cure.ics").read_bytes()).walk("VEVENT")
    days = {event.decoded("DTSTART") for event in events}
    assert min(days) == TODAY and max(days) > TODAY + timedelta(days=1)


def test_a_file_of_somebody_else_stays(here: Path, tmp_path: Path) -> None:
    (here / "heap-plan.html").write_text("mine", encoding="utf-8")
    (here / "heap-plan.ics").mkdir()
    person = Person(tmp_path)
    person.talk.hear(HAVE)
    assert "heap-plan-2.html" in said(person, "give me that on paper")
    assert "heap-plan-2.ics" in said(person, "put it in my calendar")
    assert (here / "heap-plan.html").read_text(encoding="utf-8") == "mine"


def test_what_cannot_be_written_is_told_and_the_talk_goes_on(
    here: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    person = Person(tmp_path)
    person.talk.hear(HAVE)

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("tempfile.mkstemp", full)
    assert "No space left" in said(person, "give me that on paper")
    monkeypatch.undo()
    monkeypatch.chdir(here)
    assert "Written to" in said(person, "give me that on paper")


@pytest.mark.parametrize("line", ["the paper is wet", "I covered it with paper", "can I put printed paper in it?"])
def test_paper_as_stuff_writes_nothing(line: str, here: Path, tmp_path: Path) -> None:
    person = Person(tmp_path)
    person.talk.hear(HAVE)
    person.talk.hear(line)
    assert not list(here.iterdir())
