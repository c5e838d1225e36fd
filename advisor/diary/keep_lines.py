"""Lines for the diary: read one after another, and kept together or not at all."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from advisor.diary.by_day import Row
from advisor.diary.entries import Entry, ToKeep, Told, Vessel
from advisor.diary.from_words import Noted, noted
from advisor.diary.vessels import Record, keep, troubled
from advisor.errors import HouseholdError
from advisor.hearing.vessels import vessel_kind
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.safe_text import one_line, safe_text


@dataclass(frozen=True, slots=True)
class LineRead:
    """A line and how it was read."""

    said: str
    noted: Noted


def read_lines(
    lines: Sequence[str],
    knowledge: Knowledge,
    today: date,
    record: Record,
    *,
    vessel: str = "",
    sure: bool = False,
) -> tuple[LineRead, ...]:
    """Read lines; a vessel that one of them names is known to the next. Empty lines are left out.

    Args:
        today: the day from which "yesterday" counts.
        vessel: the name of the vessel that they are about where they name none; it may be new.
        sure: whether far-off figures were confirmed.
    """
    there = {one.name.casefold(): one for one in record.vessels}
    of = vessel_called(vessel, record, knowledge) if vessel else None
    if of is not None:
        there.setdefault(of.name.casefold(), of)
    found: list[LineRead] = []
    had = set(troubled(record))
    for line in lines:
        said = safe_text(line).strip()
        if not said:
            continue
        read = noted(said, knowledge, today, tuple(there.values()), of=of, sure=sure, troubled=had)
        had |= {(one.vessel, name) for one in read.entries if one.kind == "trouble" for name in one.told.signs}
        found.append(LineRead(said, read))
        for one in made_by(read):
            there.setdefault(one.name.casefold(), one)
    return tuple(found)


def made_by(read: Noted) -> tuple[Vessel, ...]:
    """The vessels that a line names, as they would be made."""
    named = [(one.vessel, one.vessel_kind) for one in read.entries if one.vessel]
    named += [(one.into, one.into_kind) for one in read.entries if one.into]
    return (*read.vessels, *(Vessel(name=name, kind=kind) for name, kind in dict.fromkeys(named)))


def vessel_called(name: str, record: Record, knowledge: Knowledge) -> Vessel:
    """The vessel of a name, or a new one whose kind the name tells: "shed bin" is a bin; a heap if it tells none.

    Raises:
        HouseholdError: the name is empty or too long.
    """
    plain = one_line(name).strip()
    if not 0 < len(plain) <= _LONGEST_NAME:
        hint = f"give it a name of at most {_LONGEST_NAME} letters"
        raise HouseholdError("that is no name for a heap or bin", hint=hint)
    found = record.vessel(plain)
    if found is not None:
        return found
    kind = vessel_kind(plain, knowledge) or "heap"
    return Vessel.model_validate({"name": plain, "kind": kind})


_LONGEST_NAME = 80


def keep_lines(read: Sequence[LineRead], path: Path | None = None) -> tuple[int, ...]:
    """Keep the entries of lines, all or none, and return their numbers.

    Raises:
        HouseholdError: it cannot be written; then nothing is changed.
    """
    entries = [entry for one in read for entry in one.noted.entries]
    vessels = [vessel for one in read for vessel in one.noted.vessels]
    return keep(entries, path, vessels=vessels)


def corrected(entry: Entry, line: str, knowledge: Knowledge, today: date, record: Record, *, sure: bool) -> Noted:
    """What takes the place of an entry: its vessel and day stay where the line tells no other.

    Raises:
        HouseholdError: the line must be asked about first.
    """
    of = record.vessel(entry.vessel) if entry.vessel else None
    read = noted(safe_text(line).strip(), knowledge, today, record.vessels, of=of, sure=sure, troubled=troubled(record))
    if read.asks:
        raise HouseholdError(read.asks, hint="nothing was changed")
    if read.dated:
        return read
    entries = tuple(_on(one, entry.day) for one in read.entries)
    return Noted(entries, read.vessels, heard=read.heard)


def corrected_line(
    row: Row, line: str, day: date | None, knowledge: Knowledge, record: Record, *, sure: bool = False
) -> Noted:
    """What takes the place of all that a line told, once its words or its day are others.

    Args:
        row: of the line; its vessel is the one that is meant where the line names none.
        line: the words; "yesterday" in them counts from the day on which the line was told first.
        day: the day that was told beside the words; None if the words decide.
        sure: whether far-off figures were confirmed.

    Raises:
        HouseholdError: the line must be asked about first.
    """
    of = record.vessel(row.vessel) if row.vessel else None
    said = safe_text(line).strip()
    read = noted(said, knowledge, row.entries[0].at.date(), record.vessels, of=of, sure=sure, troubled=troubled(record))
    if read.asks or not read.entries:
        raise HouseholdError((read.asks or "nothing is told in that").removesuffix("."), hint="nothing was changed")
    chosen = day if day is not None else (None if read.dated else row.day)
    if chosen is None:
        return read
    entries = (one.model_copy(update={"told": _one_day(one.told)}) for one in read.entries)
    return Noted(tuple(_on(one, chosen) for one in entries), read.vessels, heard=read.heard)


def _one_day(told: Told) -> Told:
    return told.model_copy(update={"first": None, "last": None})


def _on(entry: ToKeep, day: date) -> ToKeep:
    return entry.model_copy(update={"day": day})
