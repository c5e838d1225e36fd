"""Vessels and entries in the diary: kept whole or not at all, and the file through its past shapes."""

from __future__ import annotations

import sqlite3
import sys
from datetime import date, datetime
from pathlib import Path

import pytest

from advisor.diary.entries import MaterialTold, ToKeep, Told, Vessel
from advisor.diary.talks import TalkBook, TurnKept
from advisor.diary.vessels import keep, read_record, take_back
from advisor.errors import HouseholdError

AT = datetime(2026, 11, 30, 17, 5)
DAY = date(2026, 11, 29)


def turned(vessel: str = "north heap", **more: object) -> ToKeep:
    return ToKeep.model_validate({"vessel": vessel, "day": DAY, "kind": "turned", "said": "turned it", **more})


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "kept" / "diary.sqlite3"


def test_entries_come_back_as_they_were_told_by_day(path: Path) -> None:
    told = Told(degrees=140, scale="F", depth_cm=40, signs={"moisture": ("dry",)})
    fed = Told(materials=(MaterialTold(material="dry-leaves", name="leaves", count=2, measure="bucket"),))
    keep([turned(), turned(kind="reading", told=told)], path, at=AT)
    keep([turned("worm bin", vessel_kind="worm bin", kind="fed", told=fed, day=date(2026, 11, 28))], path, at=AT)
    record = read_record(path)
    assert [(one.vessel, one.kind, one.told) for one in record.entries] == [
        ("worm bin", "fed", fed), ("north heap", "turned", Told()), ("north heap", "reading", told),
    ]  # fmt: skip
    assert [(one.name, one.kind) for one in record.vessels] == [("north heap", "heap"), ("worm bin", "worm bin")]
    assert record.entries[2].told.celsius == 60
    assert {one.at for one in record.entries} == {AT}


def test_a_vessel_has_one_name_in_whatever_letters(path: Path) -> None:
    keep([turned(), turned("North Heap")], path)
    assert [one.name for one in read_record(path).vessels] == ["north heap"]


def test_a_batch_that_is_moved_is_found_at_both_ends(path: Path) -> None:
    keep([turned("bay 1", kind="moved", into="bay 2", vessel_kind="bay", into_kind="bay")], path)
    record = read_record(path)
    assert record.of("bay 2") == record.of("bay 1") == record.entries
    assert [one.kind for one in record.vessels] == ["bay", "bay"]


def test_what_is_taken_back_is_read_no_more_and_stays_in_the_file(path: Path) -> None:
    first, second = keep([turned(), turned(kind="watered")], path)
    assert take_back(first, path).kind == "turned"
    assert [one.number for one in read_record(path).entries] == [second]
    assert [one.taken_back for one in read_record(path, taken_back=True).entries] == [True, False]
    with pytest.raises(HouseholdError, match="taken back before"):
        take_back(first, path)
    with pytest.raises(HouseholdError, match="no entry 99"):
        take_back(99, path)


def test_a_correction_takes_the_place_of_what_it_puts_right(path: Path) -> None:
    (first,) = keep([turned()], path)
    (second,) = keep([turned(kind="watered")], path, corrects=first)
    assert [(one.number, one.corrects) for one in read_record(path).entries] == [(second, first)]
    with pytest.raises(HouseholdError, match="taken back before"):
        keep([turned()], path, corrects=first)
    assert len(read_record(path, taken_back=True).entries) == 2, "nothing was written with it"


def test_the_number_of_an_entry_is_never_given_twice(path: Path) -> None:
    (first,) = keep([turned()], path)
    with sqlite3.connect(path) as found:
        found.execute("delete from entry")
    found.close()
    assert keep([turned()], path) == (first + 1,)


def test_the_day_of_building_is_the_day_it_was_begun(path: Path) -> None:
    keep([turned(kind="begun", day=date(2024, 2, 29))], path)
    keep([turned()], path, vessels=[Vessel(name="NORTH heap", kind="heap", ended=DAY)])
    (vessel,) = read_record(path).vessels
    assert (vessel.begun, vessel.ended) == (date(2024, 2, 29), DAY)


def test_a_row_of_another_shape_is_named_and_stays(path: Path) -> None:
    keep([turned()], path)
    with sqlite3.connect(path) as found:
        for told, kind in (
            ('{"heat": 3}', "turned"),
            ("[]", "turned"),
            ("{}", "sung to"),
            ('{"degrees": "x"}', "note"),
        ):
            found.execute(
                "insert into entry (vessel, day, at, kind, told, said) values (1, '2026-11-30', ?, ?, ?, '')",
                (AT.isoformat(), kind, told),
            )
    found.close()
    record = read_record(path)
    assert len(record.entries) == 1
    assert len(record.amiss) == 4
    assert all("north heap" in line and "\n" not in line for line in record.amiss)


def test_what_is_shown_is_safe_text(path: Path) -> None:
    keep([turned("plot\x1b[2J", said="turned\u202e it")], path)
    (entry,) = read_record(path).entries
    assert "\x1b" not in entry.vessel
    assert "\u202e" not in entry.said


def past(path: Path, steps: int) -> None:
    """A diary as it was after so many steps, with a bed in it, and a talk from the second on."""
    path.parent.mkdir(exist_ok=True)
    folder = Path(sys.modules["advisor.diary"].__file__ or "").parent
    names = ("001_beds_and_checks.sql", "002_talks.sql", "003_vessels.sql")[:steps]
    with sqlite3.connect(path) as old:
        for name in names:
            old.executescript((folder / name).read_text("utf-8"))
        old.execute(f"pragma user_version = {steps}")
        old.execute("insert into bed (name, told) values ('plot', '{\"name\": \"plot\"}')")
        if steps > 1:
            old.execute("insert into talk (name, about, begun, seen) values ('', 'leaves', '', ?)", (AT.isoformat(),))
        if steps > 2:
            old.executemany(
                "insert into vessel (number, name, kind) values (?, ?, 'bay')", [(4, "bay 1"), (7, "bay 2")]
            )
            old.execute(
                "insert into entry (number, vessel, day, at, kind, told, said, goes_into) "
                "values (9, 4, '2026-11-28', ?, 'moved', '{}', 'moved it', 7)",
                (AT.isoformat(),),
            )
    old.close()


def test_entries_stay_with_their_vessels_when_the_table_of_vessels_is_made_anew(path: Path) -> None:
    past(path, 3)
    keep([turned("front bed", vessel_kind="bed", kind="spread")], path)
    record = read_record(path)
    assert [(one.number, one.vessel, one.into) for one in record.entries] == [
        (9, "bay 1", "bay 2"),
        (10, "front bed", ""),
    ]
    assert [(one.number, one.kind) for one in record.vessels if one.number] == [(4, "bay"), (7, "bay"), (8, "bed")]
    with sqlite3.connect(path) as found:
        assert found.execute("pragma foreign_key_check").fetchall() == []
        assert found.execute("pragma integrity_check").fetchone() == ("ok",)
    found.close()


@pytest.mark.parametrize("steps", [1, 2, 3])
def test_an_older_diary_is_copied_before_its_shape_is_changed(path: Path, steps: int) -> None:
    past(path, steps)
    keep([turned()], path)
    assert len(read_record(path).entries) == (2 if steps > 2 else 1)
    assert len(TalkBook(path).talks()) == min(1, steps - 1)
    (copy,) = path.parent.glob("diary-before-step-*.sqlite3")
    assert copy.stat().st_mode & 0o077 == 0
    with sqlite3.connect(copy) as old:
        assert old.execute("select name from bed").fetchall() == [("plot",)]
        assert old.execute("pragma user_version").fetchone() == (steps,)
    old.close()


def test_no_copy_is_written_over(path: Path) -> None:
    past(path, 2)
    (path.parent / "diary-before-step-3.sqlite3").write_text("mine")
    keep([turned()], path)
    assert (path.parent / "diary-before-step-3.sqlite3").read_text() == "mine"
    assert (path.parent / "diary-before-step-3-2.sqlite3").exists()


def test_if_no_copy_can_be_made_nothing_is_changed(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    past(path, 2)

    def full(_file: object, _steps: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("advisor.diary.file.DiaryFile._copy", full)
    with pytest.raises(HouseholdError, match="No space left"):
        keep([turned()], path)
    with sqlite3.connect(path) as old:
        assert old.execute("pragma user_version").fetchone() == (2,)
    old.close()


def test_a_disk_that_is_full_is_said_plainly_and_what_was_kept_stays(path: Path) -> None:
    keep([turned()], path)
    with sqlite3.connect(path) as found:
        (pages,) = found.execute("pragma page_count").fetchone()
    found.close()
    connect = sqlite3.connect

    def small(*given: object, **named: object) -> sqlite3.Connection:
        made = connect(*given, **named)  # type: ignore[call-overload]
        made.execute(f"pragma max_page_count = {pages}")
        return made

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sqlite3, "connect", small)
        with pytest.raises(HouseholdError, match="the disk is full"):
            keep([turned(said="turned " * 2000)] * 5, path)
    assert len(read_record(path).entries) == 1


def test_a_diary_that_may_only_be_read_is_said_plainly(path: Path) -> None:
    keep([turned()], path)
    connect = sqlite3.connect

    def only_read(*given: object, **named: object) -> sqlite3.Connection:
        made = connect(*given, **named)  # type: ignore[call-overload]
        made.execute("pragma query_only = on")
        return made

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sqlite3, "connect", only_read)
        with pytest.raises(HouseholdError, match="not written"):
            keep([turned()], path)
    assert len(read_record(path).entries) == 1


def test_a_damaged_diary_is_named_and_left_alone(path: Path) -> None:
    keep([turned(said="turned " * 500)] * 20, path)
    whole = path.read_bytes()
    path.write_bytes(whole[:4096] + b"\xff" * (len(whole) - 4096))
    damaged = path.read_bytes()
    with pytest.raises(HouseholdError, match="damaged") as caught:
        read_record(path)
    assert str(path) in str(caught.value) and "\n" not in str(caught.value)
    assert path.read_bytes() == damaged


def test_a_talk_and_entries_live_in_one_file(path: Path) -> None:
    keep([turned()], path)
    TalkBook(path).begin([TurnKept("leaves", AT, 0, "[]")], begun="", name="", about="leaves")
    assert len(read_record(path).entries) == 1
