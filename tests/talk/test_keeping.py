"""Nothing said is lost: every line is kept as it is said, and a talk is carried on with as if it had never stopped."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from conversing import ENGINE, KNOWLEDGE, TODAY
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.diary.store import Diary
from advisor.diary.talks import TalkBook
from advisor.errors import HouseholdError
from advisor.household.files import read_household
from advisor.places import scenarios_folder
from advisor.talk.kept_moves import household_read, household_written, moves_read, moves_written
from advisor.talk.memory import Move
from advisor.talk.recap import day_text
from advisor.talk.replies import Reply
from advisor.talk.session import Talk
from advisor.talk.shelf import Shelf

HEAP = "3 sacks of leaves and a bucket of coffee grounds"


@pytest.fixture
def begin(tmp_path: Path) -> Callable[[], Talk]:
    """A program started anew on the same folder."""
    return lambda day=TODAY, household=None: started(tmp_path, day, household)


def started(folder: Path, day: date = TODAY, household=None) -> Talk:
    diary = folder / "diary.sqlite3"
    talk = Talk(
        KNOWLEDGE,
        ENGINE,
        household=household,
        shelf=Shelf(folder / "heaps", KNOWLEDGE),
        diary=Diary(KNOWLEDGE, diary),
        book=TalkBook(diary),
        today=day,
    )
    talk.open()
    return talk


def text(replies: tuple[Reply, ...]) -> str:
    return "\n".join(part for reply in replies for part in (reply.text, *(line.text for line in reply.lines)))


def labels(talk: Talk) -> list[str]:
    assert talk.question is not None
    return [option.label for option in talk.question.options]


def test_what_was_said_is_there_again_though_the_program_never_ended(begin) -> None:
    first = begin()
    for line in (HEAP, "a garden", "I also have 2 buckets of grass"):
        first.hear(line)
    # no farewell: the window was shut, or the power went
    second = begin()
    assert labels(second)[0].startswith("Carry on with your heap of dry autumn leaves, coffee grounds and grass clip")
    said = text(second.hear("1"))
    assert "last seen today" in said and "You told me: 3 sacks of dry autumn leaves" in said
    assert second.household == first.household
    assert second.plan == first.plan
    assert second.question == first.question


def test_it_can_be_taken_back_beyond_the_day_it_was_carried_on(begin) -> None:
    begin().hear(HEAP)
    second = begin()
    second.hear("1")
    second.hear("1 bale of straw")
    third = begin()
    third.hear("1")
    third.hear("go back")
    assert [held.material for held in third.household.holdings] == ["dry-leaves", "coffee-grounds"]
    third.hear("go back")
    assert third.household.holdings == ()
    assert "Carry on" not in labels(begin())[0], "what was all taken back is nothing to carry on with"


def test_what_is_done_on_a_screen_is_kept_as_well(begin) -> None:
    first = begin()
    first.hear(HEAP)
    first.set_amount("dry-leaves", "5 sacks")
    first.remove("coffee-grounds")
    first.set_answer("place.space", ["garden"])
    second = begin()
    second.hear("1")
    assert second.household == first.household


def test_a_sick_heap_is_kept_with_its_verdict(begin) -> None:
    first = begin()
    verdict = [reply for reply in first.hear("my heap stinks of ammonia and is wet") if reply.kind == "verdict"]
    assert verdict
    second = begin()
    carry_on = next(label for label in labels(second) if "heap in trouble (ammonia" in label)
    assert labels(second)[0] == "Heap: mix in browns against the ammonia", "what is due comes first"
    replies = second.hear(carry_on)
    assert [reply for reply in replies if reply.kind == "verdict"] == verdict
    assert second.question == first.question


def fill(talk: Talk, door: str) -> tuple[Reply, ...]:
    """A sheet filled in to its end with the first of all answers; what it says last."""
    replies = talk.hear(door)
    for _ in range(40):
        if talk.question is None or talk._account.interview.blank is None:
            return replies
        example = re.search(r"As in ([^;.,]+)", talk.question.ask)
        figure = "20 weeks" if "weeks" in talk.question.ask else "4 m2"
        first = talk.question.options[0].say
        replies = talk.hear(example[1] if example else figure if talk.question.figures else first)
    raise AssertionError(f"{door} never ends: {talk.question}")


@pytest.mark.parametrize("door", ["manure substitute", "I keep animals, and bed them", "compare quick and slow"])
def test_the_answer_of_a_sheet_can_be_opened_again(begin, door: str) -> None:
    first = begin()
    told = [reply for reply in fill(first, door) if reply.lines]
    assert told
    replies = begin_again(begin)
    assert [(reply.text, [line.text for line in reply.lines]) for reply in replies if reply.lines] == [
        (reply.text, [line.text for line in reply.lines]) for reply in told
    ]


def begin_again(begin) -> tuple[Reply, ...]:
    second = begin()
    assert labels(second)[0].startswith("Carry on with ")
    return second.hear("1")


def test_a_sheet_that_lay_open_is_gone_on_with_at_its_question(begin) -> None:
    first = begin()
    first.hear("check my soil")
    first.hear("3")
    second = begin()
    second.hear("1")
    assert second.question == first.question
    second.hear("go back")
    first.hear("go back")
    assert second.question == first.question


def test_a_check_that_is_in_the_diary_is_not_put_there_twice(begin, tmp_path: Path) -> None:
    first = begin()
    for line in ("check my soil", "2"):
        first.hear(line)
    for _ in range(30):
        if first._account.interview.blank is None:
            break
        question = first.question
        first.hear("12" if question.figures else "yes" if question.options[0].say == "yes" else question.options[0].say)
    checks = Diary(KNOWLEDGE, tmp_path / "diary.sqlite3").read().ground.checks
    begin_again(begin)
    assert Diary(KNOWLEDGE, tmp_path / "diary.sqlite3").read().ground.checks == checks


def test_starting_again_leaves_the_heap_before_it_in_the_book(begin) -> None:
    first = begin()
    first.hear(HEAP)
    first.hear("start again")
    assert "coffee grounds" in labels(first)[0]
    first.hear("4 sacks of straw")
    second = begin()
    second.hear("carry on with a heap")
    assert [label.split(" (")[0] for label in labels(second)[:-1]] == [
        "Your heap of straw",
        "Your heap of dry autumn leaves and coffee grounds",
    ]
    second.hear("2")
    assert [held.material for held in second.household.holdings] == ["dry-leaves", "coffee-grounds"]


def test_a_named_heap_is_offered_once_and_a_file_of_before_as_well(begin, tmp_path: Path) -> None:
    Shelf(tmp_path / "heaps", KNOWLEDGE).keep(read_household(scenarios_folder() / "six-hens.toml", KNOWLEDGE), "Hens")
    first = begin(date.today())
    first.hear(HEAP)
    first.hear("save it as Front garden")
    second = begin(date.today())
    second.hear("carry on with a heap")
    found = [label.split(":")[0] for label in labels(second)[:-1]]
    assert sorted(found) == ["“Front garden”", "“Hens”"]
    second.hear("Hens")
    assert second.household.name == "Hens"
    third = begin(date.today())
    third.hear("carry on with a heap")
    third.hear("Front garden")
    third.hear("2 buckets of grass")
    third.hear("save")
    assert {heap.household.name for heap in Shelf(tmp_path / "heaps", KNOWLEDGE).read().heaps} == {
        "Front garden",
        "Hens",
    }


def test_a_household_of_a_file_is_begun_with_again(begin) -> None:
    household = read_household(scenarios_folder() / "six-hens.toml", KNOWLEDGE)
    first = begin(household=household)
    first.hear("2 sacks of leaves")
    second = begin()
    second.hear("1")
    assert second.household.holdings == first.household.holdings
    assert second.household.answers == first.household.answers


def test_a_talk_in_which_nothing_was_told_is_not_kept(begin, tmp_path: Path) -> None:
    first = begin()
    for line in ("hello", "help", "what about citrus?", "bye"):
        first.hear(line)
    assert not (tmp_path / "diary.sqlite3").exists()


def test_leaving_needs_no_question(begin) -> None:
    first = begin()
    first.hear(HEAP)
    (farewell,) = first.hear("bye")
    assert farewell.kind == "farewell"
    assert "kept" in farewell.text and "not kept" not in farewell.text


# ---------------------------------------------------------------- what may go wrong


def test_every_line_is_there_with_its_words(begin, tmp_path: Path) -> None:
    lines = ["hello", HEAP, "purple monkey", "what if I had no leaves", "no"]
    first = begin()
    for line in lines:
        first.hear(line)
    (talk,) = TalkBook(tmp_path / "diary.sqlite3").talks()
    assert [turn.said for turn in TalkBook(tmp_path / "diary.sqlite3").turns(talk.number)[1]] == lines


def test_with_no_room_on_the_disk_it_says_so_once_and_tries_again(begin, monkeypatch: pytest.MonkeyPatch) -> None:
    first = begin()
    first.hear(HEAP)

    def full(*_: object, **__: object) -> None:
        raise HouseholdError("the diary cannot be used: database or disk is full", where="/somewhere")

    with monkeypatch.context() as patch:
        patch.setattr(TalkBook, "add", full)
        assert "could not keep that: database or disk is full" in text(first.hear("a garden"))
        assert "could not keep" not in text(first.hear("1 bale of straw"))
        (put_off,) = first.hear("bye")
        assert put_off.kind == "lost" and "The last 2 lines are not kept" in put_off.text
        (farewell,) = first.hear("bye")
        assert farewell.kind == "farewell" and "not kept" in farewell.text
    assert "kept again" in text(first.hear("2 buckets of grass"))
    second = begin()
    second.hear("1")
    assert second.household == first.household


def test_two_windows_at_one_heap_both_keep_what_they_were_told(begin) -> None:
    begin().hear(HEAP)
    here, there = begin(), begin()
    here.hear("1")
    there.hear("1")
    here.hear("1 bale of straw")
    assert "I keep this one as well" in text(there.hear("2 buckets of grass"))
    there.hear("a garden")
    here.hear("a paved yard")
    again = begin()
    again.hear("carry on with a heap")
    found = []
    for label in labels(again)[:-1]:
        one = begin()
        one.hear("carry on with a heap")
        one.hear(label)
        found.append(one.household)
    assert here.household in found and there.household in found


def test_a_diary_that_is_thrown_away_meanwhile_is_written_anew(begin, tmp_path: Path) -> None:
    first = begin()
    first.hear(HEAP)
    for file in tmp_path.glob("diary*"):
        file.unlink()
    first.hear("1 bale of straw")
    first.hear("a garden")
    second = begin()
    second.hear("1")
    assert second.household == first.household


def test_what_cannot_be_read_any_more_is_named_and_the_rest_is_there(begin, tmp_path: Path) -> None:
    first = begin()
    first.hear(HEAP)
    first.hear("1 bale of straw")
    import sqlite3

    with sqlite3.connect(tmp_path / "diary.sqlite3") as found:
        found.execute("update turn set made = replace(made, '\"straw\"', '\"moon-dust\"')")
    found.close()
    second = begin()
    said = text(second.hear("1"))
    assert "I cannot read this any more, and leave it out:" in said and "of straw" in said
    assert [held.material for held in second.household.holdings] == ["dry-leaves", "coffee-grounds"]


def test_a_damaged_book_is_told_of_in_a_line_and_the_talk_goes_on(begin, tmp_path: Path) -> None:
    (tmp_path / "diary.sqlite3").write_bytes(b"not a database at all, but long enough to be taken for one" * 40)
    talk = begin()
    assert "cannot be read, and stays as it is" in text(talk.open())
    assert "could not keep" in text(talk.hear(HEAP))
    assert talk.plan is not None


def test_a_damaged_heap_on_the_shelf_is_told_of(begin, tmp_path: Path) -> None:
    (tmp_path / "heaps").mkdir()
    (tmp_path / "heaps" / "shed.toml").write_text("this is = not [ TOML", encoding="utf-8")
    assert "shed.toml" in text(begin().open())


def test_signs_that_are_no_writing_are_kept_as_blanks(begin, tmp_path: Path) -> None:
    begin().hear("3 sacks\x1b of dry leaves\ud800")
    import sqlite3

    with sqlite3.connect(tmp_path / "diary.sqlite3") as found:
        assert found.execute("select said from turn").fetchall() == [("3 sacks  of dry leaves ",)]
        found.execute("update turn set made = replace(made, 'dry leaves', 'dry \\u001b[2Jleaves')")
        assert "u001b" in found.execute("select made from turn").fetchone()[0]
    found.close()
    second = begin()
    second.hear("1")
    assert second.changes
    assert "\x1b" not in "".join(second.changes)


# ---------------------------------------------------------------- moves as JSON

LINES = st.sampled_from(
    (
        HEAP,
        "lots of grass, 2 or 3 sacks of straw",
        "a garden",
        "hens and a goat",
        "my bucket is 12 litres",
        "1.5 by 2 m",
        "no straw",
        "I don't know",
        "my heap stinks of rotten eggs",
        "check my soil",
        "3",
        "go back",
        "start again",
        "never mind",
        "no, 4 sacks",
        "deep bedding",
        "US units",
    )
)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(LINES, max_size=8))
def test_any_talk_is_carried_on_with_as_it_stood(tmp_path_factory: pytest.TempPathFactory, lines: list[str]) -> None:
    folder = tmp_path_factory.mktemp("kept")
    first = started(folder)
    for line in lines:
        first.hear(line)
    moves = first._account.moves
    assert moves_read(json.loads(moves_written(moves)), KNOWLEDGE) == (moves, ())
    second = started(folder)
    if labels(second)[0].startswith("Carry on"):
        second.hear("1")
        if second._account.moves == moves:
            assert second.household == first.household
            assert second._account.state == first._account.state


@pytest.mark.parametrize("path", sorted(scenarios_folder().glob("*.toml")), ids=lambda path: path.stem)
def test_every_shipped_household_comes_back_as_it_was(path: Path) -> None:
    household = read_household(path, KNOWLEDGE)
    assert household_read(household_written(household), KNOWLEDGE) == household
    with pytest.raises((KeyError, ValueError)):
        household_read(household_written(household).replace('"material":"', '"material":"no-'), KNOWLEDGE)
        household_read(household_written(replace(household, holdings=())) + "}", KNOWLEDGE)


def test_a_move_that_is_none_keeps_its_place() -> None:
    assert moves_read([{"changes": [{"kind": "Wish"}], "said": ["a wish"]}, 7], KNOWLEDGE) == (
        (Move((), ()), Move((), ())),
        ("a wish", "something said on a screen"),
    )


@pytest.mark.parametrize(
    ("ago", "said"), [(0, "today"), (1, "yesterday"), (2, "28 November"), (29, "1 November"), (335, "30 December 2025")]
)
def test_days_are_named_as_people_name_them(ago: int, said: str) -> None:
    today = date(2026, 11, 30)
    assert day_text(today - timedelta(days=ago), today) == said
