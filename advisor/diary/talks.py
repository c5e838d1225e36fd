"""Talks in the diary: every line said, as it is said, so that nothing is lost however the program ends."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Sequence
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from weakref import finalize

from advisor.diary.file import DiaryFile
from advisor.errors import HouseholdError
from advisor.records import dataclass
from advisor.safe_text import one_line, safe_text
from advisor.text_files import place_of


class CarriedOnElsewhere(HouseholdError):
    """Another program has added to the same talk."""


@dataclass(frozen=True, slots=True)
class TurnKept:
    """A line that was said.

    Attributes:
        said: as it was typed; empty for what was done on a screen.
        at: when.
        stood: so many of the moves before it still stand.
        made: the moves it added, as a JSON list; what they mean is no matter of the diary.
    """

    said: str
    at: datetime
    stood: int
    made: str


@dataclass(frozen=True, slots=True)
class TalkKept:
    """A talk as a list shows it.

    Attributes:
        number: by which it is found again.
        name: of the heap; empty if it has none.
        about: what it is about, in words.
        seen: when the last line was said.
    """

    number: int
    name: str
    about: str
    seen: datetime


class TalkBook:
    """The talks of one person."""

    def __init__(self, path: Path | None = None) -> None:
        self._file = DiaryFile(path)
        self.path = self._file.path
        self._near: object = None  # once a talk is kept, more of it will be

    def talks(self) -> tuple[TalkKept, ...]:
        """Those that can be carried on with, the latest first.

        Raises:
            HouseholdError: the file cannot be read.
        """
        if not self._file.exists():
            return ()
        with self._file.open() as found:
            rows = found.execute(
                "select number, name, about, seen from talk where about <> '' order by seen desc, number desc"
            ).fetchall()
        return tuple(
            TalkKept(number, one_line(str(name)), one_line(str(about)), self._moment(seen))
            for number, name, about, seen in rows
        )

    def turns(self, number: int) -> tuple[str, tuple[TurnKept, ...]]:
        """What a talk began with, as JSON of a household or nothing, and its turns in their order.

        Raises:
            HouseholdError: the file cannot be read, or there is no such talk.
        """
        with self._file.open() as found:
            begun = found.execute("select begun from talk where number = ?", (number,)).fetchone()
            rows = found.execute(
                "select said, at, stood, made from turn where talk = ? order by place", (number,)
            ).fetchall()
        if begun is None:
            raise HouseholdError("that heap is no longer in the diary")
        turns = (TurnKept(safe_text(str(said)), self._moment(at), stood, str(made)) for said, at, stood, made in rows)
        return str(begun[0]), tuple(turns)

    def _moment(self, told: object) -> datetime:
        """A day and an hour as they are written. Raises HouseholdError."""
        with suppress(ValueError):
            found = datetime.fromisoformat(str(told))
            if found.tzinfo is None:
                return found
        raise HouseholdError("when a talk was held is damaged", where=place_of(self._file.path))

    def begin(self, turns: Sequence[TurnKept], *, begun: str, name: str, about: str) -> int:
        """Keep a new talk, and return its number.

        Args:
            turns: at least one.

        Raises:
            HouseholdError: it cannot be written; then nothing of it is there.
        """
        with self._file.open() as found:
            number = found.execute(
                "insert into talk (name, about, begun, seen) values (?, ?, ?, ?)",
                (name, about, begun, turns[-1].at.isoformat()),
            ).lastrowid
            assert number is not None
            _put(found, number, 0, turns)
        self._stay()
        return number

    def add(self, number: int, place: int, turns: Sequence[TurnKept], *, name: str, about: str) -> None:
        """Keep further turns of a talk.

        Args:
            place: of the first of them, which is how many there were before.

        Raises:
            CarriedOnElsewhere: there are others in that place already; nothing is changed.
            HouseholdError: they cannot be written; nothing is changed.
        """
        with self._file.open() as found:
            found.execute("begin immediate")  # nobody adds between the counting and the writing
            (there,) = found.execute("select count(*) from turn where talk = ?", (number,)).fetchone()
            if there != place:
                raise CarriedOnElsewhere("another window has carried on with this heap")
            _put(found, number, place, turns)
            found.execute(
                "update talk set name = ?, about = ?, seen = ? where number = ?",
                (name, about, turns[-1].at.isoformat(), number),
            )
        self._stay()

    def _stay(self) -> None:
        if self._near is None:
            self._near = finalize(self, self._file.stay_near())


def _put(found: sqlite3.Connection, number: int, place: int, turns: Sequence[TurnKept]) -> None:
    found.executemany(
        "insert into turn (talk, place, said, at, stood, made) values (?, ?, ?, ?, ?, ?)",
        [
            (number, each, turn.said, turn.at.isoformat(), turn.stood, turn.made)
            for each, turn in enumerate(turns, place)
        ],
    )


def moves_json(turns: Sequence[TurnKept]) -> list[object]:
    """The moves that stand after some turns, each as JSON values.

    Raises:
        HouseholdError: what was written is no list of JSON.
    """
    moves: list[object] = []
    for turn in turns:
        try:
            made = json.loads(turn.made)
        except (ValueError, RecursionError):
            made = None
        if not isinstance(made, list):
            raise HouseholdError("what was kept of that heap is damaged")
        moves = [*moves[: turn.stood], *made]
    return moves
