"""Beds, frosts and checks in the diary."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final

from advisor.diary.amounts import litres_told
from advisor.diary.beds_standing import bed_of
from advisor.diary.file import DiaryFile
from advisor.diary.vessels import read_record
from advisor.errors import HouseholdError
from advisor.household.days import calendar_day
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.safe_text import one_line, safe_text, safe_value
from advisor.soil_counsel.ground import (
    BedTold,
    CheckTold,
    Ground,
    MonthDay,
    SpreadOn,
    bed_entered,
    bed_entry,
    month_day,
)
from advisor.soil_counsel.inputs import read_values
from advisor.text_files import place_of

NAME: Final = "your beds"

#: Takes back what was kept.
Undo = Callable[[], None]


@dataclass(frozen=True, slots=True)
class Read:
    """What the diary holds. `amiss` names, a line each, what in it cannot be read any more; it is left as it is."""

    ground: Ground
    amiss: tuple[str, ...] = ()


class Diary:
    """Beds, frosts and checks of one person. The file is made when the first thing is kept."""

    def __init__(self, knowledge: Knowledge, path: Path | None = None) -> None:
        self.knowledge = knowledge
        self._file = DiaryFile(path)
        self.path = self._file.path

    # ------------------------------------------------------------ what it holds

    def read(self) -> Read:
        """Everything in it, the checks of each bed oldest first.

        Raises:
            HouseholdError: the file cannot be read, or is none of ours.
        """
        if not self._file.exists():
            return Read(Ground(NAME))
        amiss: list[str] = []
        with self._file.open() as found:
            frosts = dict(found.execute("select which, day from frost").fetchall())
            beds = tuple(
                self._bed(name, told) for name, told in found.execute("select name, told from bed order by name")
            )
            rows = found.execute("select bed, made_on, guide, told from soil_check order by bed, made_on, number")
            checks: list[CheckTold] = []
            for bed, on, guide, told in rows:
                try:
                    checks.append(self._check(bed, on, guide, _held(told)))
                except HouseholdError as error:
                    amiss.append(one_line(f"{bed}, {on}, {guide}: {error}"))
        where = f"{place_of(self.path)}, frost"
        last, first = (month_day(frosts[which], where) if which in frosts else None for which in ("last", "first"))
        if (last is None) != (first is None):
            raise HouseholdError("one of the two frosts is missing", where=where)
        ground = Ground(
            NAME,
            last_frost=last,
            first_frost=first,
            frost_free="never" in frosts,
            beds=beds,
            checks=tuple(checks),
            spread=tuple(self._spread([bed.name for bed in beds])),
        )
        return Read(ground, tuple(amiss))

    def _spread(self, beds: Sequence[str]) -> Iterator[SpreadOn]:
        """What was spread on beds that are known, by entries that tell how much."""
        for one in read_record(self.path).entries if beds else ():
            bed = bed_of(one, beds) if one.kind == "spread" else ""
            litres = sum(litres_told(each, self.knowledge) for each in one.told.materials)
            if bed and litres > 0:
                yield SpreadOn(bed, one.day, litres)

    def _bed(self, name: str, told: object) -> BedTold:
        where = f"{place_of(self.path)}, bed {name}"
        return bed_entered(_held(told, where), self.knowledge, where)

    def _check(self, bed: str, on: str, guide: str, told: Mapping[str, object]) -> CheckTold:
        if guide not in self.knowledge.guides:
            raise HouseholdError(f"there is no check '{guide}' any more")
        day = calendar_day(on, guide)
        return CheckTold(safe_text(bed).strip(), day, guide, read_values(told, self.knowledge.guides[guide], guide))

    # ------------------------------------------------------------ keeping

    def keep_bed(self, bed: BedTold) -> Undo:
        """Keep a bed, in the place of one of that name.

        Raises:
            HouseholdError: it cannot be written.
        """
        with self._file.open() as found:
            before = found.execute("select told from bed where name = ?", (bed.name,)).fetchone()
            self._put_bed(found, bed.name, json.dumps(bed_entry(bed), ensure_ascii=False))

        def undo() -> None:
            with self._file.open() as found:
                if before is None:
                    self._drop_bed(found, bed.name)
                else:
                    self._put_bed(found, bed.name, before[0])

        return undo

    def keep_check(self, check: CheckTold, told: Mapping[str, str]) -> Undo:
        """Keep a check, with the bed it is of if that is not there yet.

        Args:
            check: with its day.
            told: how its figures were told, by the names of the guide.

        Raises:
            HouseholdError: it cannot be written.
            ValueError: it has no day.
        """
        if check.on is None:
            raise ValueError("a check is kept by its day")
        with self._file.open() as found:
            fresh = found.execute("select 1 from bed where name = ?", (check.bed,)).fetchone() is None
            if fresh:
                self._put_bed(found, check.bed, json.dumps(bed_entry(BedTold(check.bed)), ensure_ascii=False))
            number = found.execute(
                "insert into soil_check (bed, made_on, guide, told) values (?, ?, ?, ?)",
                (check.bed, check.on.isoformat(), check.guide, json.dumps(dict(told), ensure_ascii=False)),
            ).lastrowid

        def undo() -> None:
            with self._file.open() as found:
                found.execute("delete from soil_check where number = ?", (number,))
                if fresh:
                    self._drop_bed(found, check.bed)

        return undo

    def keep_frosts(self, frosts: tuple[MonthDay, MonthDay] | None) -> Undo:
        """Keep the last frost of spring and the first of autumn, or that it never freezes.

        Raises:
            HouseholdError: they cannot be written.
        """
        with self._file.open() as found:
            before = found.execute("select which, day from frost").fetchall()
            kept = [("never", "")] if frosts is None else [("last", _day(frosts[0])), ("first", _day(frosts[1]))]
            self._put_frosts(found, kept)

        def undo() -> None:
            with self._file.open() as found:
                self._put_frosts(found, before)

        return undo

    @staticmethod
    def _put_bed(found: sqlite3.Connection, name: str, told: str) -> None:
        found.execute(
            "insert into bed (name, told) values (?, ?) on conflict (name) do update set told = excluded.told",
            (name, told),
        )

    @staticmethod
    def _drop_bed(found: sqlite3.Connection, name: str) -> None:
        """Take a bed out, unless checks were kept of it since: they would go with it."""
        found.execute("delete from bed where name = ? and name not in (select bed from soil_check)", (name,))

    @staticmethod
    def _put_frosts(found: sqlite3.Connection, frosts: list[tuple[str, str]]) -> None:
        found.execute("delete from frost")
        found.executemany("insert into frost (which, day) values (?, ?)", frosts)


def _held(told: object, where: str = "") -> dict[str, object]:
    """What a row tells, every text in it safe to show. Raises HouseholdError if it is no table of JSON."""
    try:
        found = safe_value(json.loads(str(told)))
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, dict):
        raise HouseholdError("what was written there is damaged", where=where)
    return found


def _day(day: MonthDay) -> str:
    return f"{day[0]:02}-{day[1]:02}"
