"""The diary: what is put in comes out the same, what is taken back is gone, and nothing bad in the file is fatal."""

import json
import os
import sqlite3
import stat
import time
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.diary.store import Diary
from advisor.errors import HouseholdError
from advisor.knowledge.load import shipped
from advisor.soil_counsel.ground import WANTS, BedTold, bed_entered, bed_entry, check_told
from advisor.soil_counsel.inputs import read_check_text
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.soil import soil_answer

KNOWLEDGE = shipped()
RING = "ring width=6 in water=444 ml minutes=12.5 14"

_FACTS = KNOWLEDGE.kinds["bed"].attributes
BEDS = st.builds(
    BedTold,
    name=st.text(st.characters(categories=["L", "N", "P", "Zs"]), min_size=1, max_size=30).filter(
        lambda name: name == name.strip()
    ),
    area_m2=st.none() | st.floats(0.01, 9e5),
    step=st.sampled_from([None, 1, 2, 3, 4, 5]),
    wants=st.sampled_from(["", *WANTS, "none"]),
    depth_cm=st.none() | st.floats(0.1, 50),
    crops=st.lists(st.sampled_from(sorted(KNOWLEDGE.crop_families)), unique=True, max_size=3).map(tuple),
    facts=st.tuples(
        st.sampled_from(sorted(_FACTS["kind"].words)),
        st.sampled_from(sorted(_FACTS["place"].words)),
        st.lists(st.sampled_from(sorted(_FACTS["crop"].words)), unique=True, max_size=2),
        st.integers(0, 100),
    ).map(
        lambda told: (
            ("kind", told[0]),
            ("place", told[1]),
            *(("crop", word) for word in told[2]),
            ("dressed_years", float(told[3])),
        )
    ),
)


@pytest.fixture
def diary(tmp_path: Path) -> Diary:
    return Diary(KNOWLEDGE, tmp_path / "kept" / "diary.sqlite3")


def _ring(diary: Diary, bed: str = "plot", on: date = date(2026, 4, 1)):
    _, told = read_check_text(RING, KNOWLEDGE.guides, "test")
    check = check_told(RING, KNOWLEDGE, "test", bed, on)
    return check, diary.keep_check(check, told)


def test_an_empty_diary_makes_no_file(diary: Diary) -> None:
    assert diary.read().ground.beds == ()
    assert not diary.path.exists()


@given(BEDS)
def test_a_bed_is_written_as_it_is_read(bed: BedTold) -> None:
    through_json = json.loads(json.dumps(bed_entry(bed)))
    assert bed_entered(through_json, KNOWLEDGE, "test") == bed


@given(st.lists(BEDS, max_size=4, unique_by=lambda bed: bed.name))
@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_beds_come_out_as_they_went_in(tmp_path: Path, beds: list[BedTold]) -> None:
    diary = Diary(KNOWLEDGE, tmp_path / "diary.sqlite3")
    undo = [diary.keep_bed(bed) for bed in beds]
    assert diary.read().ground.beds == tuple(sorted(beds, key=lambda bed: bed.name))
    for each in reversed(undo):
        each()
    assert diary.read().ground.beds == ()


def test_a_check_comes_out_as_it_went_in_with_a_bed_for_it(diary: Diary) -> None:
    check, _ = _ring(diary)
    found = diary.read().ground
    assert found.checks == (check,)
    assert [bed.name for bed in found.beds] == ["plot"]


def test_checks_stand_in_the_order_of_their_days(diary: Diary) -> None:
    for year in (2026, 2024, 2025):
        _ring(diary, on=date(year, 4, 1))
    assert [check.on.year for check in diary.read().ground.checks if check.on] == [2024, 2025, 2026]


def test_what_is_taken_back_is_gone_and_nothing_else(diary: Diary) -> None:
    first, _ = _ring(diary, on=date(2025, 4, 1))
    _, undo = _ring(diary)
    undo()
    assert diary.read().ground.checks == (first,)


def test_a_bed_taken_back_is_as_it_was_before(diary: Diary) -> None:
    diary.keep_bed(BedTold("plot", 8.0))
    undo = diary.keep_bed(BedTold("plot", 9.0))
    assert diary.read().ground.bed("plot").area_m2 == 9.0
    undo()
    assert diary.read().ground.bed("plot").area_m2 == 8.0


def test_a_bed_taken_back_leaves_what_was_kept_of_it_since(diary: Diary) -> None:
    undo = diary.keep_bed(BedTold("plot"))
    check, _ = _ring(diary)
    undo()
    assert diary.read().ground.checks == (check,)


def test_frosts_are_kept_and_taken_back(diary: Diary) -> None:
    diary.keep_frosts(((4, 20), (10, 10)))
    undo = diary.keep_frosts(None)
    assert diary.read().ground.frost_free
    undo()
    found = diary.read().ground
    assert (found.last_frost, found.first_frost) == ((4, 20), (10, 10))


def test_it_is_there_the_next_time(diary: Diary) -> None:
    check, _ = _ring(diary)
    assert Diary(KNOWLEDGE, diary.path).read().ground.checks == (check,)


def test_a_file_that_is_no_diary_is_named_in_one_line(diary: Diary) -> None:
    diary.path.parent.mkdir()
    diary.path.write_bytes(b"no database at all" * 100)
    with pytest.raises(HouseholdError) as caught:
        diary.read()
    assert str(diary.path) in str(caught.value)
    assert "\n" not in str(caught.value)
    assert diary.path.read_bytes().startswith(b"no database")


def test_a_folder_that_cannot_be_made_is_named_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("here")
    with pytest.raises(HouseholdError, match="no diary here"):
        Diary(KNOWLEDGE, tmp_path / "file" / "diary.sqlite3").keep_bed(BedTold("plot"))


def test_a_diary_of_a_newer_version_is_left_alone(diary: Diary) -> None:
    _ring(diary)
    with sqlite3.connect(diary.path) as found:
        found.execute("pragma user_version = 99")
    found.close()
    with pytest.raises(HouseholdError, match="newer version"):
        diary.read()


def test_what_cannot_be_read_any_more_is_named_and_stays(diary: Diary) -> None:
    check, _ = _ring(diary)
    with sqlite3.connect(diary.path) as found:
        found.execute("insert into soil_check (bed, made_on, guide, told) values ('plot', '2026-05-01', 'gone', '{}')")
        found.execute("insert into soil_check (bed, made_on, guide, told) values ('plot', '2026-06-01', 'ring', '{}')")
    found.close()
    read = diary.read()
    assert read.ground.checks == (check,)
    assert len(read.amiss) == 2
    assert "gone" in read.amiss[0]


@pytest.mark.parametrize(
    ("told", "on"),
    [("[]", "2026-05-01"), ("3", "2026-05-01"), ('"x"', "2026-05-01"), ("null", "2026-05-01"), ('{"width": []}', ""),
     ("{}", "9999-12-31"), ('{"width": [[]], "water": {}, "minutes": []}', "2026-05-01"), ('{"hours": 3}', "May")],
)  # fmt: skip
def test_a_row_of_another_shape_is_named_and_stays(diary: Diary, told: str, on: str) -> None:
    check, _ = _ring(diary)
    with sqlite3.connect(diary.path) as found:
        found.execute("insert into soil_check (bed, made_on, guide, told) values ('plot', ?, 'ring', ?)", (on, told))
    found.close()
    read = diary.read()
    assert read.ground.checks == (check,)
    assert len(read.amiss) == 1 and "\n" not in read.amiss[0]


@pytest.mark.parametrize("told", ["[]", "3", '{"name": []}', '{"name": "plot", "crops": [[]]}', '{"nmae": "plot"}'])
def test_a_bed_of_another_shape_is_one_line(diary: Diary, told: str) -> None:
    _ring(diary)
    with sqlite3.connect(diary.path) as found:
        found.execute("update bed set told = ?", (told,))
    found.close()
    with pytest.raises(HouseholdError) as caught:
        diary.read()
    assert "bed plot" in str(caught.value) and "\n" not in str(caught.value)


def test_half_of_the_frosts_is_one_line(diary: Diary) -> None:
    diary.keep_frosts(((4, 20), (10, 10)))
    with sqlite3.connect(diary.path) as found:
        found.execute("delete from frost where which = 'first'")
    found.close()
    with pytest.raises(HouseholdError, match="one of the two frosts"):
        diary.read()


@pytest.mark.parametrize("make", [os.mkfifo, os.mkdir], ids=["pipe", "folder"])
def test_what_is_no_file_is_not_waited_for(diary: Diary, make: Callable[[Path], None]) -> None:
    diary.path.parent.mkdir()
    make(diary.path)
    with pytest.raises(HouseholdError, match="no plain file"):
        diary.read()


def test_a_path_without_end_is_one_line() -> None:
    diary = Diary(KNOWLEDGE, Path("x" * 5000) / "diary.sqlite3")
    assert diary.read().ground.beds == ()
    with pytest.raises(HouseholdError, match="no diary here"):
        diary.keep_bed(BedTold("plot"))


def test_it_is_for_its_owner_alone(diary: Diary) -> None:
    _ring(diary)
    rights = [stat.S_IMODE(path.stat().st_mode) for path in (diary.path.parent, diary.path)]
    assert rights == [0o700, 0o600]
    diary.path.chmod(0o644)
    diary.read()
    assert stat.S_IMODE(diary.path.stat().st_mode) == 0o600


def test_ten_thousand_checks_are_shown_at_once(diary: Diary) -> None:
    _, told = read_check_text(RING, KNOWLEDGE.guides, "test")
    diary.keep_bed(BedTold("plot"))
    with sqlite3.connect(diary.path) as found:
        found.executemany(
            "insert into soil_check (bed, made_on, guide, told) values ('plot', ?, 'ring', ?)",
            [((date(1990, 1, 1) + timedelta(days=day)).isoformat(), json.dumps(told)) for day in range(10_000)],
        )
    found.close()
    begun = time.monotonic()
    answer = soil_answer(diary.read().ground, KNOWLEDGE, shipped_soil_engine())
    assert time.monotonic() - begun < 10  # it takes one; with every pair of checks it took over 20
    assert len(answer.trends[0].marks) == 10_000


def test_a_check_without_a_day_is_refused(diary: Diary) -> None:
    with pytest.raises(ValueError, match="day"):
        diary.keep_check(check_told(RING, KNOWLEDGE, "test", "plot", None), {})
