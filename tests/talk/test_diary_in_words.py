"""The diary in the talk: the first screen with what is due, what was done asked for, and taking back."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from conversing import KNOWLEDGE, MONDAY, begin, landed, opened

from advisor.diary.entries import ToKeep, Told
from advisor.diary.store import Diary
from advisor.diary.vessels import keep, read_record
from advisor.soil_counsel.ground import BedTold
from advisor.talk.session import Talk

Say = Callable[[str], str]


# ---------------------------------------------------------------- the first screen


def offered(talk: Talk) -> list[str]:
    assert talk.question is not None
    return [option.label for option in talk.question.options]


def test_at_most_three_deeds_come_first_and_the_rest_is_counted(path: Path) -> None:
    signs = {"smell": ("ammonia", "putrid"), "animals": ("flies", "ants", "rats")}
    keep([ToKeep(vessel="bin", vessel_kind="bin", day=MONDAY, kind="trouble", told=Told(signs=signs), said="x")], path)
    talk, said = opened(path)
    assert "Three things to do today, the most needed first." in said and "Two more can wait" in said
    assert offered(talk)[:4] == [
        "Bin: put in no food, and keep the rats out",
        "Bin: mix in browns against the ammonia",
        "Bin: open it and mix in coarse dry stuff",
        "Start a heap",
    ]


def test_nothing_due_and_nothing_kept_are_said_in_one_line(path: Path) -> None:
    assert opened(path)[1].startswith("Good day. Tell me what you have to compost")
    begin(path, ("worm bin", "worm bin"), kind="fed")
    assert opened(path)[1].startswith("Good day. There is nothing to do today for your heap or bin.\n")


def test_a_deed_is_looked_at_with_its_reason_and_settled(path: Path) -> None:
    begin(path, ("worm bin", "worm bin"), kind="fed", day=date(2026, 11, 20))
    talk, _ = opened(path)
    told = "\n".join(reply.text for reply in talk.hear("1"))
    assert "Bury" in told or "bury" in told
    assert "Why: It was last fed 10 days ago." in told
    talk.hear("not yet")
    assert offered(talk)[0].startswith("Worm bin: feed")
    talk.hear("1")
    told = "\n".join(reply.text for reply in talk.hear("put it off for 2 days"))
    assert "Put off until Wednesday 2 December: Worm bin: feed the worms." in told
    assert not offered(talk)[0].startswith("Worm bin: feed")


def test_what_is_told_to_the_first_screen_picks_no_deed_of_it(path: Path) -> None:
    begin(path, ("worm bin", "worm bin"), kind="fed", day=date(2026, 11, 20))
    talk, _ = opened(path)
    talk.hear("fed the worms yesterday")
    assert landed(path)[-1] == ("worm bin", "fed", "2026-11-29")
    assert not offered(talk)[0].startswith("Worm bin: feed")


def test_after_a_long_time_what_has_probably_happened_and_the_one_look_that_tells(path: Path) -> None:
    begin(path, ("north heap", "heap"), day=date(2026, 8, 30))
    _, said = opened(path)
    assert "North heap: you last told of it 3 months ago. It has probably sunk" in said
    assert "Squeeze a handful" in said


@pytest.mark.parametrize("line", ["forgot 2 bags of leaves", "3 sacks of leaves", "did 3 turns"])
def test_a_number_in_a_line_settles_no_deed(path: Path, line: str) -> None:
    begin(path, ("worm bin", "worm bin"), kind="fed", day=date(2026, 11, 20))
    talk, _ = opened(path)
    talk.hear(line)
    assert not {"done", "skipped", "put off"} & {kind for _, kind, _ in landed(path)}


def test_a_bed_has_its_deed_in_spring(path: Path) -> None:
    keep([ToKeep(vessel="front bed", vessel_kind="bed", day=date(2026, 4, 1), kind="spread", said="x")], path)
    talk, said = opened(path)
    assert "nothing to do today for your bed." in said
    talk, said = opened(path, date(2027, 3, 20))
    assert offered(talk)[0].startswith("Front bed: spread compost on it")
    talk.hear("done 1")
    assert landed(path)[-2:] == [("front bed", "spread", "2027-03-20"), ("front bed", "done", "2027-03-20")]


# ---------------------------------------------------------------- asked in words


def test_what_was_done_in_some_days_is_listed(path: Path, say: Say) -> None:
    begin(path, ("north heap", "heap"), ("worm bin", "worm bin"), day=date(2026, 11, 25))
    begin(path, ("north heap", "heap"), kind="watered", day=date(2026, 11, 2))
    last_week = say("what did I do last week?")
    assert "Wednesday 25 November" in last_week and "North heap: turned" in last_week and "watered" not in last_week
    assert "worm" not in say("what have I done to the north heap this month?").casefold()
    assert "holds nothing" in say("what did I do yesterday?")
    assert "Your diary: 3 entries" in say("show my diary")


def test_the_last_entry_is_taken_back_and_put_back(path: Path, say: Say) -> None:
    begin(path, ("north heap", "heap"), kind="watered", day=date(2026, 11, 2))
    begin(path, ("north heap", "heap"), kind="turned", day=date(2026, 11, 1))
    assert "Taken back: North heap: turned" in say("take back the last entry")
    assert [kind for _, kind, _ in landed(path)] == ["watered"]
    say("put it back")
    assert [kind for _, kind, _ in landed(path)] == ["turned", "watered"]


def test_the_last_entry_is_what_was_told_last_if_that_was_no_matter_of_the_diary(path: Path, say: Say) -> None:
    begin(path, ("north heap", "heap"))
    say("3 sacks of leaves")
    assert "sacks of dry autumn leaves" in say("take back the last entry")
    assert len(landed(path)) == 1
    assert "Taken back" in say("delete the last diary entry")
    assert landed(path) == []


def test_what_is_undone_together_is_done_again_together(path: Path, say: Say) -> None:
    say("3 sacks of leaves")
    say("I added 2 buckets of sawdust to the heap")
    before = landed(path)
    say("undo that")
    assert landed(path) == []
    say("redo")
    assert landed(path) == before


# ---------------------------------------------------------------- behind a warning


def test_nothing_is_asked_behind_a_warning_and_the_question_comes_back(path: Path) -> None:
    talk, _ = opened(path)
    talk.hear("3 sacks of leaves and a bucket of coffee grounds")
    asked = talk.question
    assert asked is not None
    assert talk.hear("the heap is smoking and I see flames")[0].kind == "caution"
    assert talk.question is None
    talk.hear("1")
    assert talk.question is None, "a number picks nothing that is not shown"
    talk.hear("it was a false alarm")
    assert talk.question == asked


# ---------------------------------------------------------------- beds and questions about what is kept


@pytest.mark.parametrize(
    ("line", "kept", "asked", "answer"),
    [
        ("spread 2 barrows of compost from the heap on the onion bed", ("heap", "spread", "onion bed"),
         "when did I last spread compost on the onion bed?", "The onion bed last had compost on Monday 30 November"),
        ("turned the heap", ("heap", "turned", ""),
         "when did I last turn the heap?", "The heap was last turned on Monday 30 November"),
    ],
)  # fmt: skip
def test_when_it_was_done_last_is_answered_for_heaps_and_beds(
    path: Path, line: str, kept: tuple[str, str, str], asked: str, answer: str
) -> None:
    Diary(KNOWLEDGE, path).keep_bed(BedTold("onion bed"))
    begin(path, ("heap", "heap"), day=date(2026, 11, 1))
    talk, _ = opened(path)
    talk.hear(line)
    last = max(read_record(path).entries, key=lambda one: one.number)
    assert (last.vessel, last.kind, last.into, last.told.bed) == (*kept, "")
    assert answer in "\n".join(reply.text for reply in talk.hear(asked))


def test_compost_counts_for_a_bed_however_the_bed_was_called(path: Path) -> None:
    """Told before the bed was known by name, it is no less on it: nothing more is due there this spring."""
    Diary(KNOWLEDGE, path).keep_bed(BedTold("long onion bed", wants="upkeep"))
    spring = date(2026, 4, 7)
    assert "Long onion bed: spread compost on it" in opened(path, spring)[1] + "".join(offered(opened(path, spring)[0]))
    told = Told(bed="onion bed")
    keep([ToKeep(vessel="heap", vessel_kind="heap", day=date(2026, 4, 1), kind="spread", told=told, said="x")], path)
    assert "spread compost on it" not in "".join(offered(opened(path, spring)[0]))


def test_what_is_told_with_a_question_lands_once_whether_or_not_the_diary_can_answer(path: Path, say: Say) -> None:
    begin(path, ("heap", "heap"))
    count = len(landed(path))
    say("the compost in the heap looks ready, where does it go?")  # no beds and no litres: the talk answers
    assert len(landed(path)) == count + 1
    say("undo that")
    assert len(landed(path)) == count
