"""Vessels and their entries in the diary: kept, read, taken back, put right."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from datetime import date, datetime
from functools import cache, cached_property
from pathlib import Path

from pydantic import ValidationError

from advisor.diary.entries import MOST_ENTRIES, BedKept, Entry, ToKeep, Told, Vessel, VesselKind
from advisor.diary.file import DiaryFile
from advisor.errors import HouseholdError
from advisor.records import dataclass
from advisor.safe_text import one_line, safe_text, safe_value

_COLUMNS = (
    "entry.number, coalesce(of.name, ''), entry.day, entry.at, entry.kind, entry.told, entry.said, "
    "coalesce(goal.name, ''), coalesce(entry.corrects, 0), entry.taken_back"
)
_FROM = (
    "from entry left join vessel of on of.number = entry.vessel left join vessel goal on goal.number = entry.goes_into"
)


#: A vessel is left out once all of its entries were taken back.
_IS_THERE = (
    "where begun <> '' or ended <> '' "
    "or not exists (select 1 from entry where vessel.number in (entry.vessel, goes_into)) "
    "or exists (select 1 from entry where vessel.number in (entry.vessel, goes_into) and taken_back = 0)"
)

_LISTS = "`heapwright diary` lists the entries with their numbers"


@dataclass(frozen=True)
class Record:
    """Vessels and entries, by day and then as they were told.

    Attributes:
        vessels: with the beds that were told of in a form and have no entry yet; those have the number 0.
        amiss: names what cannot be read; it is left alone.
        beds: what was told of the beds themselves.
        last_frost: the month and day of the last frost of spring, as "04-20"; empty if nobody said.
    """

    vessels: tuple[Vessel, ...] = ()
    entries: tuple[Entry, ...] = ()
    amiss: tuple[str, ...] = ()
    beds: tuple[BedKept, ...] = ()
    last_frost: str = ""

    @property
    def heaps(self) -> tuple[Vessel, ...]:
        """All vessels but the beds."""
        return tuple(one for one in self.vessels if one.kind != "bed")

    def of(self, vessel: str) -> tuple[Entry, ...]:
        """The entries of one vessel, and those of batches that came into it; of "" those of no vessel: the weather."""
        return self._by_vessel.get(vessel.casefold(), ())

    @cached_property
    def _by_vessel(self) -> Mapping[str, tuple[Entry, ...]]:
        found: dict[str, list[Entry]] = {}
        for one in self.entries:
            for name in dict.fromkeys((one.vessel.casefold(), (one.into or one.vessel).casefold())):
                found.setdefault(name, []).append(one)
        return {name: tuple(entries) for name, entries in found.items()}

    def vessel(self, name: str) -> Vessel | None:
        """The vessel of that name, in whatever letters."""
        return next((one for one in self.vessels if one.name.casefold() == name.casefold()), None)


def troubled(record: Record) -> frozenset[tuple[str, str]]:
    """Names of vessels, each with a sign of which a trouble was told."""
    return frozenset((one.vessel, name) for one in record.entries if one.kind == "trouble" for name in one.told.signs)


def read_record(path: Path | None = None, *, taken_back: bool = False) -> Record:
    """Everything kept of all vessels.

    Args:
        path: the diary file; that of the data folder if left out.
        taken_back: whether entries that were taken back are there too.

    Raises:
        HouseholdError: the file cannot be read, or is no diary.
    """
    file = DiaryFile(path)
    if not file.exists():
        return Record()
    with file.open() as found:
        kept, there = ("", "") if taken_back else ("where entry.taken_back = 0", _IS_THERE)
        vessels = found.execute(
            f"select name, kind, begun, ended, number from vessel {there} order by number"
        ).fetchall()
        rows = found.execute(f"select {_COLUMNS} {_FROM} {kept} order by entry.day, entry.number").fetchall()
        told = found.execute("select name, told from bed order by name").fetchall()
        checked = found.execute("select bed, guide, max(made_on) from soil_check group by bed, guide").fetchall()
        frost = found.execute("select day from frost where which = 'last'").fetchone()
    amiss: list[str] = []
    beds = tuple(_beds(told, checked))
    of_entries = tuple(_vessels(vessels, amiss))
    named = {one.name.casefold() for one in of_entries}
    fresh = (Vessel(name=one.name, kind="bed") for one in beds if one.name.casefold() not in named)
    entries = tuple(_entries(rows, amiss))
    return Record((*of_entries, *fresh), entries, tuple(amiss), beds, str(frost[0]) if frost is not None else "")


def _beds(rows: Sequence[tuple[str, str]], checked: Sequence[tuple[str, str, str]]) -> Iterable[BedKept]:
    """The beds that can be read; what is amiss with one is told where beds are asked for."""
    for name, told in rows:
        checks = {guide: day for bed, guide, day in checked if bed == name}
        with suppress(ValueError, RecursionError, AttributeError):  # a ValidationError is a ValueError
            wants = json.loads(told).get("wants", "")
            called = Vessel(name=one_line(str(name)), kind="bed").name
            yield BedKept.model_validate({"name": called, "wants": wants, "checks": checks})


def _vessels(rows: Sequence[tuple[object, ...]], amiss: list[str]) -> Iterable[Vessel]:
    for name, kind, begun, ended, number in rows:
        values = {"name": one_line(str(name)), "kind": kind, "begun": begun or None, "ended": ended or None}
        try:
            yield Vessel.model_validate({**values, "number": number})
        except ValidationError:
            amiss.append(one_line(f"the vessel {name}"))


def _entries(rows: Sequence[tuple[object, ...]], amiss: list[str]) -> Iterable[Entry]:
    plain, read = cache(one_line), cache(_told)  # a diary has many entries, and few names and kinds of them
    for number, vessel, day, at, kind, told, said, into, corrects, back in rows:
        try:
            yield Entry.model_validate(
                {
                    "number": number,
                    "vessel": plain(str(vessel)),
                    "day": day,
                    "at": at,
                    "kind": kind,
                    "told": read(str(told)),
                    "said": safe_text(str(said)),
                    "into": plain(str(into)),
                    "corrects": corrects,
                    "taken_back": bool(back),
                }
            )
        except (ValidationError, ValueError, RecursionError):
            amiss.append(one_line(f"entry {number} of {vessel or 'no vessel'}, {day}"))


def _told(text: str) -> Told:
    """What is told in JSON, every text in it safe to show. Raises ValueError or RecursionError if it is no such."""
    if "\\" not in text and safe_text(text) == text:  # what is safe already need not be gone through
        return Told.model_validate_json(text)
    return Told.model_validate(safe_value(json.loads(text)))


def keep(
    entries: Sequence[ToKeep],
    path: Path | None = None,
    *,
    vessels: Sequence[Vessel] = (),
    at: datetime | None = None,
    corrects: int = 0,
    with_it: Sequence[int] = (),
) -> tuple[int, ...]:
    """Keep entries, all or none, with the vessels they name that are not there yet; their numbers.

    Args:
        path: the diary file; that of the data folder if left out.
        vessels: vessels to keep with their days, whether or not an entry names them.
        at: when they were told; now if left out.
        corrects: the number of the entry that they put right, which is taken back.
        with_it: the numbers of other entries of the same line, taken back with it.

    Raises:
        HouseholdError: they cannot be written, or there is no such entry to put right; then nothing is changed.
    """
    moment = (at or datetime.now()).replace(microsecond=0)
    numbers: list[int] = []
    with DiaryFile(path).open() as found:
        found.execute("begin immediate")
        for number in (*((corrects,) if corrects else ()), *with_it):
            _take_back(found, number)
        for vessel in vessels:
            put_vessel(found, vessel)
        for entry in entries:
            numbers.append(put_entry(found, entry, moment.isoformat(), corrects))
    return tuple(numbers)


def put_entry(found: sqlite3.Connection, entry: ToKeep, at: str, corrects: int = 0) -> int:
    """Keep an entry, with the vessels it names that are not there yet; its number. `at` is when it was told."""
    of = _number_of(found, entry.vessel, entry.vessel_kind, entry) if entry.vessel else None
    into = _number_of(found, entry.into, entry.into_kind, entry) if entry.into else None
    row = (of, entry.day.isoformat(), at, entry.kind, told_text(entry.told), entry.said, into, corrects or None)
    made = found.execute(
        "insert into entry (vessel, day, at, kind, told, said, goes_into, corrects) values (?, ?, ?, ?, ?, ?, ?, ?)",
        row,
    )
    return made.lastrowid or 0


def told_text(told: Told) -> str:
    """What an entry tells as JSON, without what was not told."""
    return json.dumps(told.model_dump(mode="json", exclude_defaults=True), ensure_ascii=False)


def put_vessel(found: sqlite3.Connection, vessel: Vessel) -> None:
    """Keep a vessel, or the days that are told of one that is there."""
    begun, ended = _day(vessel.begun), _day(vessel.ended)
    found.execute(
        "insert into vessel (name, kind, begun, ended) values (?, ?, ?, ?) on conflict (name) do update set "
        "begun = case when excluded.begun <> '' then excluded.begun else begun end, "
        "ended = case when excluded.ended <> '' then excluded.ended else ended end",
        (vessel.name, vessel.kind, begun, ended),
    )


def _number_of(found: sqlite3.Connection, name: str, kind: VesselKind, entry: ToKeep) -> int:
    """The number of a vessel, made if it is not there; `begun` is its day."""
    found.execute("insert into vessel (name, kind) values (?, ?) on conflict (name) do nothing", (name, kind))
    (number,) = found.execute("select number from vessel where name = ? collate nocase", (name,)).fetchone()
    if entry.kind == "begun" and name == entry.vessel:
        found.execute("update vessel set begun = ? where number = ?", (entry.day.isoformat(), number))
    return int(number)


def _day(day: date | None) -> str:
    return day.isoformat() if day is not None else ""


def take_back(number: int, path: Path | None = None) -> Entry:
    """Take an entry back; it stays in the file and is read no more. The entry as it was.

    Raises:
        HouseholdError: there is no such entry, or it was taken back before, or the file cannot be written.
    """
    file = DiaryFile(path)
    if not file.exists():
        raise HouseholdError(f"there is no entry {number}", hint=_LISTS)
    with file.open() as found:
        found.execute("begin immediate")
        return _take_back(found, number)


@dataclass(frozen=True, slots=True)
class Changed:
    """What one deed changed in the diary: the numbers of entries that were kept, and of those taken back."""

    kept: tuple[int, ...] = ()
    taken: tuple[int, ...] = ()

    @property
    def reversed(self) -> Changed:
        """What makes it undone."""
        return Changed(self.taken, self.kept)


def change(made: Changed, path: Path | None = None) -> None:
    """Take entries back and put others back that were taken back before, all or none.

    Args:
        made: `kept` are put back, `taken` are taken back.

    Raises:
        HouseholdError: it cannot be written; then nothing is changed.
    """
    with DiaryFile(path).open() as found:
        found.execute("begin immediate")
        for back, numbers in ((0, made.kept), (1, made.taken)):
            rows = [(back, number) for number in numbers]
            found.executemany("update entry set taken_back = ? where number = ?", rows)


def _take_back(found: sqlite3.Connection, number: int) -> Entry:
    asked = (number if 0 < number < MOST_ENTRIES else 0,)
    rows = found.execute(f"select {_COLUMNS} {_FROM} where entry.number = ?", asked).fetchall()
    entries = tuple(_entries(rows, []))
    if not entries:
        raise HouseholdError(f"there is no entry {number}", hint=_LISTS)
    if entries[0].taken_back:
        raise HouseholdError(f"entry {number} was taken back before", hint=_LISTS)
    found.execute("update entry set taken_back = 1 where number = ?", (number,))
    return entries[0]
