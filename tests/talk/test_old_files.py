"""Heaps kept in files by former versions are taken over into the diary: once, whole, the file left where it is.

The files below are each of a form that a former version wrote: of heaps alone, with a table where the words do not read
back, with what comes in through the year, and with own figures. Their contents are invented.
"""

from __future__ import annotations

import sqlite3
from datetime import date, datetime
from os import utime
from pathlib import Path

import pytest
from conversing import ENGINE, KNOWLEDGE, TODAY

from advisor.diary.store import Diary
from advisor.diary.talks import TalkBook
from advisor.diary.vessels import read_record
from advisor.household.files import read_household
from advisor.talk.session import Talk
from advisor.talk.shelf import Shelf

WORDS = """name = "front garden"
have = [
    "3 sacks of dry autumn leaves",
    "1 bucket of coffee grounds a week",
]

[place]
space = "garden"

[wish]
aim = "steady"
"""
FORMS = {
    "the first form": WORDS,
    "with a start": f'about = "by the gate"\nstart = 2026-10-04\n{WORDS}',
    "written out": """name = "written out"
have = [
    { material = "dry-leaves", count = 3, low = 2, high = 4, measure = "sack", packed = true, said = "some sacks" },
]

[place]
room = "1.2 x 1.5 x 1 m"

[measures]
bucket = "12 L"
""",
    "with a year": f"""{WORDS}
[year]
arrives = ["Oct-Nov: 4 sacks dry leaves a week"]
""",
    "with own figures": f"""{WORDS}
[own]
"coffee grounds" = "moisture 60 %, C:N 22"
""",
}


@pytest.fixture(params=FORMS)
def file(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    path = tmp_path / "my-heap.toml"
    path.write_text(FORMS[request.param], encoding="utf-8")
    utime(path, (datetime(2026, 3, 1, 12).timestamp(),) * 2)
    return path


def begin(folder: Path, day: date = TODAY) -> Talk:
    diary = folder / "diary.sqlite3"
    shelf, held = Shelf(folder, KNOWLEDGE), Diary(KNOWLEDGE, diary)
    talk = Talk(KNOWLEDGE, ENGINE, shelf=shelf, diary=held, book=TalkBook(diary), today=day)
    talk.open()
    return talk


def carry_on(talk: Talk) -> None:
    assert talk.question is not None
    talk.hear(next(option.say for option in talk.question.options if option.label.startswith("Carry on with")))


def test_a_file_becomes_a_talk_to_carry_on_with_and_nothing_of_it_is_lost(file: Path) -> None:
    household, text = read_household(file, KNOWLEDGE), file.read_text(encoding="utf-8")
    talk = begin(file.parent)
    carry_on(talk)
    assert talk.household == household
    assert file.read_text(encoding="utf-8") == text
    with sqlite3.connect(file.parent / "diary.sqlite3") as found:
        assert found.execute("select name, text from old_file").fetchall() == [("my-heap.toml", text)]
    found.close()


def test_it_is_a_heap_of_the_diary_with_what_was_told(file: Path) -> None:
    begin(file.parent)
    record = read_record(file.parent / "diary.sqlite3")
    (vessel,), (entry,) = record.vessels, record.entries
    household = read_household(file, KNOWLEDGE)
    assert (vessel.name, vessel.begun) == (household.name, household.start)
    assert (entry.kind, entry.day) == ("note", date(2026, 3, 1))
    assert all(holding.said in entry.said for holding in household.holdings)


def test_it_is_taken_over_once_and_again_only_if_it_was_changed_by_hand(file: Path) -> None:
    for _ in range(3):
        begin(file.parent)
    assert len(TalkBook(file.parent / "diary.sqlite3").talks()) == 1
    assert len(read_record(file.parent / "diary.sqlite3").entries) == 1
    file.write_text(file.read_text(encoding="utf-8").replace("3 sacks", "5 sacks") + "# by hand\n", encoding="utf-8")
    begin(file.parent)
    begin(file.parent)
    assert len(TalkBook(file.parent / "diary.sqlite3").talks()) == 2


def test_what_is_saved_now_is_in_the_diary_already(tmp_path: Path) -> None:
    talk = begin(tmp_path, date.today())
    talk.hear("3 sacks of leaves and a bucket of coffee grounds")
    talk.hear("save it as Front garden")
    assert len(list(tmp_path.glob("*.toml"))) == 1
    begin(tmp_path, date.today())
    assert len(TalkBook(tmp_path / "diary.sqlite3").talks()) == 1
    assert read_record(tmp_path / "diary.sqlite3").entries == ()


def test_a_file_that_cannot_be_read_is_told_of_and_stays(tmp_path: Path) -> None:
    (tmp_path / "old.toml").write_text('name = "old"\nhave = ["3 sacks of moon dust"]\n', encoding="utf-8")
    diary = tmp_path / "diary.sqlite3"
    talk = Talk(KNOWLEDGE, ENGINE, shelf=Shelf(tmp_path, KNOWLEDGE), book=TalkBook(diary), today=TODAY)
    assert any("moon dust" in reply.text for reply in talk.open())
    assert not diary.exists() and (tmp_path / "old.toml").exists()


def test_a_diary_that_cannot_be_written_leaves_the_file_to_carry_on_with(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from advisor.errors import HouseholdError

    def full(*_given: object) -> bool:
        raise HouseholdError("the diary cannot be used: the disk is full")

    monkeypatch.setattr("advisor.talk.old_files.keep_old_file", full)
    talk = begin(file.parent)
    carry_on(talk)
    assert talk.household == read_household(file, KNOWLEDGE)
