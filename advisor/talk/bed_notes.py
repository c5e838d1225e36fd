"""What stands beside the talk while it is about the soil: the beds of the diary, each with its latest checks."""

from __future__ import annotations

from datetime import date

from advisor.errors import HouseholdError
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.soil_counsel.ground import CheckTold, Ground
from advisor.units import Units


@dataclass(frozen=True, slots=True)
class CheckNote:
    """The latest of one kind of check: its name, its day, and what it showed, in a word where it has one."""

    name: str
    on: date
    showed: str


@dataclass(frozen=True, slots=True)
class BedNote:
    """A bed, and the latest of each kind of check that was made of it, the last one first."""

    name: str
    checks: tuple[CheckNote, ...] = ()


def bed_notes(ground: Ground, knowledge: Knowledge, units: Units) -> tuple[BedNote, ...]:
    """The beds of a ground with their latest checks. A check that cannot be read is left out, as it is in the diary."""
    return tuple(
        BedNote(bed.name, tuple(_notes([made for made in ground.checks if made.bed == bed.name], knowledge, units)))
        for bed in ground.beds
    )


def _notes(checks: list[CheckTold], knowledge: Knowledge, units: Units) -> list[CheckNote]:
    from advisor.soil_counsel.checks import read_check

    latest: dict[str, tuple[date, CheckTold]] = {}
    for made in checks:
        if made.on is not None and (made.guide not in latest or latest[made.guide][0] <= made.on):
            latest[made.guide] = (made.on, made)
    notes = []
    for guide, (on, made) in sorted(latest.items(), key=lambda item: item[1][0], reverse=True):
        try:
            read = read_check(guide, made.values, knowledge, units)
        except HouseholdError:
            continue
        notes.append(CheckNote(knowledge.guides[guide].name, on, read.word or read.text))
    return notes
