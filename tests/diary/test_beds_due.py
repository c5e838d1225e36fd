"""What is due for a bed, by what was told: the sources of each rule are in rules/today.toml.

One thin layer of compost a year in spring: How much compost should you apply to your garden this spring? (University of
Minnesota Extension). Mulch in April: Where to mulch with organic compost (BBC Gardeners' World). Planting four weeks
after fermented food was buried: How to use bokashi compost directly in your yard (SelfGrowth articles); six weeks after
raw food: common practice, no source. Checks again after the months of their guide in rules/guides.toml.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest

from advisor.diary.due import DueList, due_list, is_south, settled, shipped_care_engine
from advisor.diary.due_lines import due_lines
from advisor.diary.entries import BedKept, Entry, Vessel
from advisor.diary.from_words import noted
from advisor.diary.standing import Now
from advisor.diary.vessels import Record
from advisor.knowledge.load import shipped

KNOWLEDGE = shipped()
SPRING, SUMMER, AUTUMN = date(2026, 4, 10), date(2026, 7, 10), date(2026, 10, 10)
BUCKET = Vessel(name="bucket", kind="fermented bucket")


def entry(kind: str, ago: int, today: date, vessel: str = "A", into: str = "") -> Entry:
    day = today - timedelta(ago)
    at = datetime(day.year, day.month, day.day, 12)
    data = {"number": 1, "vessel": vessel, "day": day, "at": at, "kind": kind, "told": {}, "said": "", "into": into}
    return Entry.model_validate(data)


def due(today: date, *entries: Entry, wants: str = "", south: bool = False, **checks: int) -> DueList:
    """What is due for bed A; checks by the name of their guide and how many days ago they were made."""
    bed = BedKept(name="A", wants=wants, checks={guide: today - timedelta(ago) for guide, ago in checks.items()})
    record = Record((Vessel(name="A", kind="bed"), BUCKET), entries, beds=(bed,))
    found = due_list(record, Now(today, south), KNOWLEDGE, shipped_care_engine(), most=99)
    return found.model_copy(update={"deeds": tuple(deed for deed in found.deeds if deed.kind == "bed")})


def names(found: DueList) -> list[str]:
    return [deed.deed for deed in found.deeds]


@pytest.mark.parametrize(
    ("today", "wants", "spread", "deeds"),
    [
        (SPRING, "", None, ["dress-bed"]), (SPRING, "upkeep", 365, ["dress-bed"]), (SPRING, "upkeep", 20, []),
        (SPRING, "new", None, ["dress-new-bed"]), (SPRING, "new", 360, ["dress-bed"]),
        (SPRING, "mulch", None, ["mulch-bed"]), (date(2026, 5, 10), "mulch", None, []),
        (SPRING, "none", None, []), (SPRING, "lawn", None, []), (SUMMER, "upkeep", None, []), (AUTUMN, "", 365, []),
    ],
)  # fmt: skip
def test_compost_is_due_in_spring_once_a_year(today: date, wants: str, spread: int | None, deeds: list[str]) -> None:
    entries = [entry("spread", spread, today)] if spread is not None else []
    assert names(due(today, *entries, wants=wants)) == deeds


def test_spring_is_half_a_year_on_in_the_south() -> None:
    assert names(due(AUTUMN, south=True)) == ["dress-bed"] and names(due(SPRING, south=True)) == []
    assert is_south(Record(last_frost="09-20")) and not is_south(Record(last_frost="04-20"))


@pytest.mark.parametrize(
    ("vessel", "ago", "is_due"), [("bucket", 30, True), ("bucket", 20, False), ("A", 30, False), ("A", 45, True)]
)
def test_it_can_be_planted_some_weeks_after_food_was_buried(vessel: str, ago: int, is_due: bool) -> None:
    buried = entry("buried", ago, SUMMER, vessel, into="A" if vessel != "A" else "")
    assert ("plant-bed" in names(due(SUMMER, buried))) == is_due
    assert names(due(SUMMER, buried, entry("planted", 1, SUMMER))) == []


def test_the_bucket_leaves_that_to_the_bed() -> None:
    record = Record((BUCKET,), (entry("buried", 30, SUMMER, "bucket", into="A"),))
    assert "plant-buried" not in names(due_list(record, Now(SUMMER), KNOWLEDGE, shipped_care_engine(), most=99))
    record = Record((BUCKET,), (entry("buried", 30, SUMMER, "bucket"),))
    assert "plant-buried" in names(due_list(record, Now(SUMMER), KNOWLEDGE, shipped_care_engine(), most=99))


def test_a_check_is_due_again_in_its_season_and_says_which() -> None:
    (deed,) = due(AUTUMN, spade=400).deeds
    assert deed.deed == "check-bed" and deed.reason.startswith("You last did the spade test 13 months ago.")
    assert names(due(AUTUMN, spade=300)) == []
    assert names(due(SUMMER, spade=400)) == []
    assert names(due(AUTUMN, looks=200, spade=300)) == ["check-bed"], "what is to be seen is looked at twice a year"


def test_a_deed_of_a_bed_is_kept_as_what_it_is_and_is_off_the_list() -> None:
    (deed,) = due(SPRING).deeds
    kept = settled(deed, "done", SPRING, KNOWLEDGE)
    assert [(one.vessel, one.vessel_kind, one.kind) for one in kept] == [("A", "bed", "spread"), ("A", "bed", "done")]
    assert names(due(SPRING, entry("spread", 0, SPRING))) == []
    assert [*due_lines(due(SUMMER))] == ["There is nothing to do today for your heap or bin and your bed."]


@pytest.mark.parametrize(
    ("line", "kept"),
    [
        ("spread 3 barrows of compost on bed A", [("A", "spread", "")]),
        ("spread compost from the heap on the A bed", [("heap", "spread", "A")]),
        ("spread compost from the bucket on the A bed", [("bucket", "buried", "A")]),  # what has fermented is dug in
        ("buried the bucket in bed A", [("bucket", "buried", "A")]),
        ("drained a litre off the bucket", [("bucket", "drained", "")]),
        ("turned a heap", [("heap", "turned", "")]),
    ],
)
def test_a_bed_is_meant_only_where_it_is_called_one(line: str, kept: list[tuple[str, str, str]]) -> None:
    read = noted(line, KNOWLEDGE, SPRING, (Vessel(name="A", kind="bed"), BUCKET))
    assert [(one.vessel, one.kind, one.into) for one in read.entries] == kept
