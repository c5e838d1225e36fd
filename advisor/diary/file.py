"""The database file in which things are remembered: opened, brought up to date, and safe with two programs at it."""

from __future__ import annotations

import os
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from importlib.resources import files
from pathlib import Path
from typing import Final

from advisor.errors import HouseholdError
from advisor.places import data_folder
from advisor.text_files import place_of, private_file, private_folder

FILE: Final = "diary.sqlite3"

#: The steps from an empty file to the shape of today, in their order. A file knows how many it has been through.
_STEPS: Final = ("001_beds_and_checks.sql", "002_talks.sql", "003_vessels.sql", "004_beds_and_files.sql")
_PATIENCE_S: Final = 5.0

#: What is wrong in plain words, by the code of SQLite (its documentation "Result and Error Codes"), and what to do.
_PLAINLY: Final = {
    sqlite3.SQLITE_FULL: ("the disk is full", "make room on it and say it again"),
    sqlite3.SQLITE_READONLY: ("it can be read but not written", "see who may write to the file and its folder"),
    sqlite3.SQLITE_CANTOPEN: ("it cannot be opened", "see who may write to the file and its folder"),
    sqlite3.SQLITE_CORRUPT: ("the file is damaged", "move it away, and put a copy of it in its place if you have one"),
    sqlite3.SQLITE_NOTADB: ("the file is damaged, or no diary", "move it away, and put a copy of it in its place"),
    sqlite3.SQLITE_BUSY: ("another program is writing to it", "try again in a moment"),
    sqlite3.SQLITE_IOERR: ("the disk gives an error", "nothing of this line was kept"),
}


class DiaryFile:
    """A file that is made when the first thing is kept."""

    def __init__(self, path: Path | None = None) -> None:
        self.path = path if path is not None else data_folder() / FILE

    def exists(self) -> bool:
        """Whether anything was ever kept."""
        return os.path.exists(self.path)  # noqa: PTH110  Path.exists fails on a path that is too long

    @contextmanager
    def open(self) -> Iterator[sqlite3.Connection]:
        """The file, in the shape of today; everything done to it is on the disk at the end, or none of it.

        Raises:
            HouseholdError: it cannot be read or written, is none of ours, or another program holds it for too long.
        """
        try:
            private_folder(self.path.parent)
            private_file(self.path)
            with closing(sqlite3.connect(self.path, timeout=_PATIENCE_S)) as found:
                found.execute("pragma foreign_keys = off")  # a table that is made anew must not take its entries along
                self._bring_up_to_date(found)
                found.execute("pragma foreign_keys = on")
                with found:
                    yield found
        except OSError as error:
            reason = error.strerror or "no reason given"
            raise HouseholdError(f"no diary here: {reason}", where=place_of(self.path)) from None
        except sqlite3.Error as error:
            code = getattr(error, "sqlite_errorcode", 0) & 0xFF  # what lies above tells more than a person needs
            why, hint = _PLAINLY.get(code, (str(error), ""))
            raise HouseholdError(f"the diary cannot be used: {why}", where=place_of(self.path), hint=hint) from None

    def stay_near(self) -> Callable[[], object]:
        """Hold the file, doing nothing, until what is returned is called.

        The last to leave a file tidies its log away, which takes three times as long as to write a line to it.
        """
        held = sqlite3.connect(self.path, timeout=_PATIENCE_S, check_same_thread=False)
        try:
            held.execute("select count(*) from talk").fetchone()
        except sqlite3.Error:  # then nothing is held, and nothing is lost but time
            held.close()
        return held.close

    def _bring_up_to_date(self, found: sqlite3.Connection) -> None:
        if self._been_through(found) == len(_STEPS):
            return
        # readers and a writer do not wait for each other; the file remembers this, and a fault of the disk undoes it
        _write_ahead(found)
        found.execute("begin immediate")
        try:  # looked at again behind the lock, as another program may have been through the steps meanwhile
            before = self._been_through(found)
            if 0 < before < len(_STEPS):
                self._copy(before)
            for number, name in enumerate(_STEPS[before:], before + 1):
                script = files("advisor.diary").joinpath(name).read_text(encoding="utf-8")
                for statement in _statements(script):
                    found.execute(statement)
                found.execute(f"pragma user_version = {number}")
        except BaseException:
            found.rollback()
            raise
        found.commit()

    def _copy(self, steps: int) -> None:
        """Copy the file into its own folder before its shape is changed; no earlier copy is written over.

        Raises:
            sqlite3.Error, OSError: it cannot be copied; then nothing is changed.
        """
        beside = self.path.with_name(f"{self.path.stem}-before-step-{steps + 1}.sqlite3")
        more = 2
        while beside.exists():
            beside, more = self.path.with_name(f"{self.path.stem}-before-step-{steps + 1}-{more}.sqlite3"), more + 1
        part = beside.with_suffix(".part")
        part.unlink(missing_ok=True)
        private_file(part)
        with (
            closing(sqlite3.connect(self.path, timeout=_PATIENCE_S)) as old,
            closing(sqlite3.connect(part)) as copy,
        ):
            old.backup(copy)
        part.replace(beside)

    def _been_through(self, found: sqlite3.Connection) -> int:
        (steps,) = found.execute("pragma user_version").fetchone()
        if steps > len(_STEPS):
            hint = "use that, or set HEAPWRIGHT_HOME to another folder"
            raise HouseholdError(
                "the diary is of a newer version of this program", where=place_of(self.path), hint=hint
            )
        return int(steps)


def _statements(script: str) -> Iterator[str]:
    """The statements of a script, one by one: `executescript` would end the transaction that holds them together."""
    statement = ""
    for line in script.splitlines(keepends=True):
        statement += line
        if sqlite3.complete_statement(statement):
            yield statement
            statement = ""


def _write_ahead(found: sqlite3.Connection) -> None:
    """Switch to a write-ahead log. SQLite does not wait by itself where another program is at the switch, so we do.

    Raises:
        sqlite3.OperationalError: another program held the file all the while.
    """
    last = time.monotonic() + _PATIENCE_S
    while not _switched(found, last):
        time.sleep(0.02)


def _switched(found: sqlite3.Connection, last: float) -> bool:
    """Whether the switch was made; not while another program is at it, until some moment."""
    try:
        found.execute("pragma journal_mode = wal")
    except sqlite3.OperationalError as error:
        busy = error.sqlite_errorcode & 0xFF in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
        if not busy or time.monotonic() > last:
            raise
        return False
    return True
