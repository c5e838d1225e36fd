"""The diary as a database file."""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import Final

from advisor.errors import HouseholdError
from advisor.household.days import calendar_day
from advisor.knowledge.base import Knowledge
from advisor.places import data_folder
from advisor.safe_text import one_line, safe_text, safe_value
from advisor.soil_counsel.ground import BedTold, CheckTold, Ground, MonthDay, bed_entered, bed_entry, month_day
from advisor.soil_counsel.inputs import read_values
from advisor.text_files import place_of, private_file, private_folder

FILE: Final = "diary.sqlite3"
NAME: Final = "your beds"

#: The steps from an empty file to the shape of today, in their order. A file knows how many it has been through.
_STEPS: Final = ("001_beds_and_checks.sql",)
_PATIENCE_S: Final = 5.0

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
        self.path = path if path is not None else data_folder() / FILE

    # ------------------------------------------------------------ what it holds

    def read(self) -> Read:
        """Everything in it, the checks of each bed oldest first.

        Raises:
            HouseholdError: the file cannot be read, or is none of ours.
        """
        if not os.path.exists(self.path):  # noqa: PTH110  Path.exists fails on a path that is too long
            return Read(Ground(NAME))
        amiss: list[str] = []
        with self._open() as found:
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
            NAME, last_frost=last, first_frost=first, frost_free="never" in frosts, beds=beds, checks=tuple(checks)
        )
        return Read(ground, tuple(amiss))

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
        with self._open() as found:
            before = found.execute("select told from bed where name = ?", (bed.name,)).fetchone()
            self._put_bed(found, bed.name, json.dumps(bed_entry(bed), ensure_ascii=False))

        def undo() -> None:
            with self._open() as found:
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
        with self._open() as found:
            fresh = found.execute("select 1 from bed where name = ?", (check.bed,)).fetchone() is None
            if fresh:
                self._put_bed(found, check.bed, json.dumps(bed_entry(BedTold(check.bed)), ensure_ascii=False))
            number = found.execute(
                "insert into soil_check (bed, made_on, guide, told) values (?, ?, ?, ?)",
                (check.bed, check.on.isoformat(), check.guide, json.dumps(dict(told), ensure_ascii=False)),
            ).lastrowid

        def undo() -> None:
            with self._open() as found:
                found.execute("delete from soil_check where number = ?", (number,))
                if fresh:
                    self._drop_bed(found, check.bed)

        return undo

    def keep_frosts(self, frosts: tuple[MonthDay, MonthDay] | None) -> Undo:
        """Keep the last frost of spring and the first of autumn, or that it never freezes.

        Raises:
            HouseholdError: they cannot be written.
        """
        with self._open() as found:
            before = found.execute("select which, day from frost").fetchall()
            kept = [("never", "")] if frosts is None else [("last", _day(frosts[0])), ("first", _day(frosts[1]))]
            self._put_frosts(found, kept)

        def undo() -> None:
            with self._open() as found:
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

    # ------------------------------------------------------------ the file

    @contextmanager
    def _open(self) -> Iterator[sqlite3.Connection]:
        """The file, in the shape of today; everything done to it is kept, or nothing."""
        try:
            private_folder(self.path.parent)
            private_file(self.path)
            with closing(sqlite3.connect(self.path, timeout=_PATIENCE_S)) as found:
                found.execute("pragma foreign_keys = on")
                self._bring_up_to_date(found)
                with found:
                    yield found
        except OSError as error:
            reason = error.strerror or "no reason given"
            raise HouseholdError(f"no diary here: {reason}", where=place_of(self.path)) from None
        except sqlite3.Error as error:
            raise HouseholdError(f"the diary cannot be used: {error}", where=place_of(self.path)) from None

    def _bring_up_to_date(self, found: sqlite3.Connection) -> None:
        (been_through,) = found.execute("pragma user_version").fetchone()
        if been_through > len(_STEPS):
            hint = "use that, or set HEAPWRIGHT_HOME to another folder"
            raise HouseholdError(
                "the diary is of a newer version of this program", where=place_of(self.path), hint=hint
            )
        for number, name in enumerate(_STEPS[been_through:], been_through + 1):
            script = files("advisor.diary").joinpath(name).read_text(encoding="utf-8")
            found.executescript(f"begin immediate;\n{script}\npragma user_version = {number};\ncommit;")


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
