"""What the diary tells of a batch reaches the diagnosis, the cure, "is it ready?", the beds and the year's plan."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from advisor.diary.batches import Batch, batch_told, stored
from advisor.diary.entries import ToKeep
from advisor.diary.from_words import noted
from advisor.diary.store import Diary
from advisor.diary.vessels import keep, read_record
from advisor.knowledge.load import shipped
from advisor.soil_counsel.ground import bed_told
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.ready import ready_answer
from advisor.soil_counsel.spread import spread_answer

KNOWLEDGE = shipped()
TODAY = date(2027, 6, 20)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "diary.sqlite3"


def told(path: Path, *lines: str) -> None:
    """Keep lines of the diary, written on TODAY."""
    for line in lines:
        read = noted(line, KNOWLEDGE, TODAY, read_record(path).vessels)
        assert not read.asks, read.asks
        keep(read.entries, path, vessels=read.vessels)


def batch(path: Path, name: str = "north heap") -> Batch:
    record = read_record(path)
    vessel = record.vessel(name)
    assert vessel is not None
    found = batch_told(record, vessel, TODAY, KNOWLEDGE)
    assert found is not None
    return found


def test_what_went_in_is_there_for_an_account(path: Path) -> None:
    told(path, "1 June: started the north heap with 4 bags of grass and 3 sacks of leaves", "2 buckets of straw on it")
    found = batch(path)
    assert [(one.material, one.quantity.count, one.quantity.measure) for one in found.went_in] == [
        ("grass-clippings", 4, "bag"), ("dry-leaves", 3, "sack"), ("straw", 2, "bucket")
    ]  # fmt: skip
    assert found.signs["mix"] == (
        "balanced",
    )  # C:N 20 to 40: On-Farm Composting Handbook, NRAES-54, 1992 (from memory)


def test_readings_are_a_log_of_the_heat_counted_from_the_day_it_was_begun(path: Path) -> None:
    told(path, "1 June: started the north heap", "4 June: north heap 62C, 30C at the edge", "8 June: turned it, 58C")
    (check,) = batch(path).finished.checks
    assert check.values["days"] == (3, 7)
    assert check.values["degrees"] == (62, 58), "the edge tells nothing of the middle"
    assert check.values["turned"] == (7,)


@pytest.mark.parametrize(
    ("lines", "heat"),
    [
        (("1 June: started the north heap", "4 June: north heap 22C"), "never-hot"),
        (("1 June: started the north heap", "4 June: north heap 60C", "12 June: north heap 30C"), "was-hot"),
        (("1 June: north heap 60C", "5 June: turned the north heap", "12 June: north heap 25C"), "no-reheat"),
    ],
)
def test_the_diagnosis_is_told_whether_it_was_hot(path: Path, lines: tuple[str, ...], heat: str) -> None:
    told(path, *lines)
    assert batch(path).signs["heat_before"] == (heat,)


def test_a_heap_that_is_hot_is_not_ready_whatever_it_smells_of(path: Path) -> None:
    """Finished compost no longer warms after a turn: Is It Done Yet?, home composting handout."""
    told(path, "18 June: started the north heap", "north heap 60C, smells earthy")
    answer = ready_answer(batch(path).finished, KNOWLEDGE, shipped_soil_engine())
    assert "beds" not in answer.fit


@pytest.mark.parametrize(("day", "smell"), [("4 June", "ammonia"), ("1 May", None)])
def test_what_it_smelt_of_more_than_a_month_ago_tells_nothing_of_now(path: Path, day: str, smell: str | None) -> None:
    """Ammonia comes with too many greens and goes with them. That a month is enough is common practice, no source."""
    told(path, "20 April: started the north heap", f"{day}: north heap stinks of ammonia", "north heap turned")
    assert batch(path).finished.words.get("smell") == smell


def test_it_sinks_by_what_was_measured(path: Path) -> None:
    told(path, "1 June: north heap 100 cm high", "north heap sunk to 45 cm")
    assert batch(path).sunk_pct == pytest.approx(55)


def test_manure_that_went_in_is_held_against_it(path: Path) -> None:
    told(path, "1 May: started the north heap with 3 barrows of horse manure and a bale of straw", "smells earthy")
    assert batch(path).finished.holds == ("manure",)


def test_what_is_put_by_is_there_without_what_was_taken(path: Path) -> None:
    told(path, "1 June: put 6 sacks of leaves in the leaf store")
    taken = {"materials": [{"material": "dry-leaves", "name": "leaves", "count": 2, "measure": "sack"}]}
    kept = {"vessel": "store of browns", "vessel_kind": "browns", "day": TODAY, "kind": "harvested", "told": taken}
    keep([ToKeep.model_validate(kept)], path)
    assert [(one.material, one.quantity.count) for one in stored(read_record(path), KNOWLEDGE)] == [("dry-leaves", 4)]


def test_what_was_spread_counts_against_what_a_bed_may_have_in_a_year(path: Path) -> None:
    """An inch or less a year: How much compost should you apply to your garden?, University of Minnesota Extension."""
    diary = Diary(KNOWLEDGE, path)
    diary.keep_bed(bed_told("onion bed, 8 m2, wants upkeep", KNOWLEDGE, "bed"))
    before = spread_answer(diary.read().ground, KNOWLEDGE, shipped_soil_engine(), today=TODAY)
    told(path, "1 June: north heap turned", "spread 60 litres from the north heap on the onion bed")
    after = spread_answer(diary.read().ground, KNOWLEDGE, shipped_soil_engine(), today=TODAY)
    assert after.wanted_litres == pytest.approx(before.wanted_litres - 60)
    assert any("60 L of the last year" in line.text and "phosphate" in line.text for line in after.lines())
    later = spread_answer(diary.read().ground, KNOWLEDGE, shipped_soil_engine(), today=date(2028, 6, 21))
    assert later.wanted_litres == pytest.approx(before.wanted_litres)
