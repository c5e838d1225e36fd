"""Talks in the diary: whole or not there at all, with two programs at one file, and with no room left on the disk."""

from __future__ import annotations

import gc
import json
import sqlite3
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.diary.file import DiaryFile
from advisor.diary.store import Diary
from advisor.diary.talks import CarriedOnElsewhere, TalkBook, TurnKept, moves_json
from advisor.errors import HouseholdError
from advisor.knowledge.load import shipped
from advisor.soil_counsel.ground import BedTold

AT = datetime(2026, 11, 30, 17, 5)


def turn(said: str, stood: int = 0, *made: str, at: datetime = AT) -> TurnKept:
    return TurnKept(said, at, stood, json.dumps(list(made)))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "kept" / "diary.sqlite3"


def test_a_book_without_talks_makes_no_file(path: Path) -> None:
    assert TalkBook(path).talks() == ()
    assert not path.exists()


def test_turns_come_back_in_their_order_and_the_latest_talk_first(path: Path) -> None:
    book = TalkBook(path)
    first = book.begin([turn("leaves", 0, "a")], begun="", name="", about="a heap of leaves")
    later = AT.replace(hour=18)
    book.begin([turn("straw", 0, "b", at=later)], begun="{}", name="shed", about="a heap of straw")
    assert [(talk.name, talk.about, talk.seen) for talk in book.talks()] == [
        ("shed", "a heap of straw", later),
        ("", "a heap of leaves", AT),
    ]
    more = (turn("and grass", 1, "c"), turn("go back", 1))
    book.add(
        first,
        1,
        more,
        name="plot",
        about="leaves",
    )
    assert TalkBook(path).turns(first) == ("", (turn("leaves", 0, "a"), *more))
    assert {talk.number: talk.name for talk in book.talks()}[first] == "plot"


def test_what_is_about_nothing_is_not_offered(path: Path) -> None:
    book = TalkBook(path)
    book.begin([turn("go back")], begun="", name="", about="")
    assert book.talks() == ()


@given(st.lists(st.tuples(st.integers(0, 4), st.lists(st.text(max_size=3), max_size=3)), max_size=8))
def test_moves_that_stand_are_those_that_were_not_taken_back(steps: list[tuple[int, list[str]]]) -> None:
    moves: list[str] = []
    turns = []
    for back, made in steps:
        stood = max(0, len(moves) - back)
        moves = [*moves[:stood], *made]
        turns.append(turn("said", stood, *made))
    assert moves_json(turns) == moves


def test_of_two_programs_the_second_is_told_and_nothing_is_written_over(path: Path) -> None:
    here, there = TalkBook(path), TalkBook(path)
    number = here.begin([turn("leaves", 0, "a")], begun="", name="", about="leaves")
    there.add(number, 1, [turn("grass", 1, "b")], name="", about="leaves and grass")
    with pytest.raises(CarriedOnElsewhere):
        here.add(number, 1, [turn("straw", 1, "c")], name="", about="leaves and straw")
    assert moves_json(here.turns(number)[1]) == ["a", "b"]


def test_a_diary_of_before_there_were_talks_keeps_its_beds(path: Path) -> None:
    path.parent.mkdir()
    first = Path(sys.modules["advisor.diary"].__file__).with_name("001_beds_and_checks.sql").read_text("utf-8")
    with sqlite3.connect(path) as old:
        old.executescript(f"begin;{first};pragma user_version = 1;commit;")
        old.execute("insert into bed (name, told) values ('plot', '{\"name\": \"plot\"}')")
    old.close()
    TalkBook(path).begin([turn("leaves", 0, "a")], begun="", name="", about="leaves")
    assert [bed.name for bed in Diary(shipped(), path).read().ground.beds] == ["plot"]


_TOGETHER = """
import sys, time
from datetime import datetime
from pathlib import Path
from advisor.diary.talks import TalkBook, TurnKept
book = TalkBook(Path(sys.argv[1]))
while time.time() < float(sys.argv[2]):  # all begin at one moment, on a file that is not there yet
    pass
turn = TurnKept("said", datetime(2026, 11, 30), 0, "[]")
number = book.begin([turn], begun="", name=sys.argv[3], about="leaves")
for place in range(1, 20):
    book.add(number, place, [turn], name=sys.argv[3], about="leaves")
"""


def test_programs_that_begin_at_one_moment_lose_nothing(path: Path) -> None:
    start = str(datetime.now().timestamp() + 2)
    running = [
        subprocess.Popen([sys.executable, "-c", _TOGETHER, str(path), start, name], stderr=subprocess.PIPE, text=True)
        for name in ("one", "two", "three")
    ]
    assert [(program.communicate()[1], program.returncode) for program in running] == [("", 0)] * 3
    book = TalkBook(path)
    assert sorted(talk.name for talk in book.talks()) == ["one", "three", "two"]
    assert {len(book.turns(talk.number)[1]) for talk in book.talks()} == {20}


def test_a_full_disk_is_an_error_in_one_line_and_what_was_there_stays(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = TalkBook(path)
    number = book.begin([turn("leaves", 0, "a")], begun="", name="", about="leaves")
    connect = sqlite3.connect

    def full(*given: object, **named: object) -> sqlite3.Connection:
        found = connect(*given, **named)  # type: ignore[call-overload]
        found.execute("pragma max_page_count = 1")  # no page more than there are: SQLite's own "disk is full"
        return found

    monkeypatch.setattr("advisor.diary.file.sqlite3.connect", full)
    with pytest.raises(HouseholdError, match="disk is full"):
        book.add(number, 1, [turn("x" * 100_000, 1, "b")], name="", about="leaves")
    monkeypatch.undo()
    assert moves_json(book.turns(number)[1]) == ["a"]
    book.add(number, 1, [turn("grass", 1, "b")], name="", about="leaves")


def test_what_is_no_diary_is_an_error_and_is_let_be(path: Path) -> None:
    path.parent.mkdir()
    path.write_bytes(b"this is a shopping list, and long enough to be looked into" * 40)
    before = path.read_bytes()
    with pytest.raises(HouseholdError, match="cannot be used"):
        TalkBook(path).talks()
    with pytest.raises(HouseholdError):
        DiaryFile(path).open().__enter__()
    assert path.read_bytes() == before


def test_beds_and_talks_live_in_one_file(path: Path) -> None:
    Diary(shipped(), path).keep_bed(BedTold("plot"))
    book = TalkBook(path)
    book.begin([turn("leaves", 0, "a")], begun="", name="", about="leaves")
    del book  # while it is there, so is the log of the file
    gc.collect()
    assert [file.name for file in path.parent.iterdir()] == [path.name]


def test_a_file_that_is_taken_away_meanwhile_is_made_anew(path: Path) -> None:
    book = TalkBook(path)
    number = book.begin([turn("leaves", 0, "a")], begun="", name="", about="leaves")
    for file in path.parent.iterdir():
        file.unlink()
    with pytest.raises(HouseholdError):
        book.add(number, 1, [turn("grass", 1, "b")], name="", about="leaves")
    book.begin([turn("leaves", 0, "a")], begun="", name="", about="leaves")
    assert [talk.about for talk in TalkBook(path).talks()] == ["leaves"]


@pytest.mark.parametrize("seen", ["", "yesterday", "2026-11-30T17:05:00+01:00"])
def test_a_talk_of_no_day_is_an_error_in_one_line(path: Path, seen: str) -> None:
    TalkBook(path).begin([turn("leaves", 0, "a")], begun="", name="", about="leaves")
    with sqlite3.connect(path) as found:
        found.execute("update talk set seen = ?", (seen,))
    found.close()
    with pytest.raises(HouseholdError, match="damaged") as caught:
        TalkBook(path).talks()
    assert str(path) in str(caught.value) and "\n" not in str(caught.value)


@pytest.mark.parametrize("made", ["", "{}", "3", "[" * 100_000])
def test_moves_of_another_shape_are_an_error_in_one_line(made: str) -> None:
    with pytest.raises(HouseholdError, match="damaged"):
        moves_json([TurnKept("leaves", AT, 0, made)])


def test_what_is_shown_of_a_talk_is_safe_text(path: Path) -> None:
    book = TalkBook(path)
    number = book.begin([turn("a\x1b[2Jb")], begun="", name="pl\x07ot", about="leaves\u202e\nand straw")
    (talk,) = book.talks()
    assert (talk.name, talk.about) == ("pl ot", "leaves and straw")
    assert book.turns(number)[1][0].said == "a [2Jb"
