"""The beds of the diary beside the talk: the latest of each check."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from conversing import KNOWLEDGE, Person

from advisor.soil_counsel.ground import BedTold, Ground, check_told
from advisor.talk.bed_notes import bed_notes


def test_the_latest_of_each_check_the_last_one_first() -> None:
    told = [
        ("worms counts=3 4 2", date(2025, 4, 10)),
        ("worms counts=30 40 32", date(2026, 4, 10)),
        ("jar sand=4 cm silt=7 cm top=10 cm", date(2025, 5, 1)),
    ]
    checks = tuple(check_told(text, KNOWLEDGE, "", "A", on) for text, on in told)
    (first, second) = bed_notes(Ground("mine", beds=(BedTold("A"), BedTold("B")), checks=checks), KNOWLEDGE, "metric")
    assert [(check.name, check.on) for check in first.checks] == [
        ("earthworm count", date(2026, 4, 10)),
        ("jar test", date(2025, 5, 1)),
    ]
    assert second.checks == ()


def test_nothing_before_the_diary_is_looked_into(tmp_path: Path) -> None:
    person = Person(tmp_path)
    person.says("count worms", "A", "skip", "skip", "3", "20 cm", "yesterday", "yes")
    assert [bed.name for bed in person.talk.beds] == ["A"]
    later = Person(tmp_path)
    assert later.talk.beds == ()
    later.says("my soil diary")
    assert [bed.name for bed in later.talk.beds] == ["A"]
