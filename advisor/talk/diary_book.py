"""The diary of vessels as it is shown, listed and put right: for a page of it, and for what is asked of it in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Final

from advisor.diary.by_day import Row, by_day, day_title, near_day, rows_of
from advisor.diary.entries import Vessel
from advisor.diary.keep_lines import corrected_line
from advisor.diary.saying import kept_text, spoken_name
from advisor.diary.vessels import Changed, Record, change, keep, read_record
from advisor.errors import HouseholdError
from advisor.hearing.days import read_day
from advisor.hearing.diary_asked import DiaryAsked, diary_asked
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.talk.diary_changes import DiaryChanges
from advisor.talk.replies import DiaryShown, Reply
from advisor.talk.saying import upper

#: How many rows an answer of the talk lists.
_MOST_ROWS: Final = 8
_LISTS = "“Show my diary” lists everything."
_EMPTY = "Your diary is empty. Tell me what you did, as in “turned the heap on Sunday, 58 C”, and it is kept."


@dataclass(frozen=True, slots=True)
class DiaryView:
    """What a page of the diary shows.

    Attributes:
        vessels: heaps, bins and beds, as they were told of first.
        rows: of one of them, or of all, the newest first.
        today: the day.
        amiss: what cannot be read, a line each.
    """

    vessels: tuple[Vessel, ...]
    rows: tuple[Row, ...]
    today: date
    amiss: tuple[str, ...] = ()


class DiaryBook:
    """The diary of vessels of one talk."""

    def __init__(self, path: Path | None, knowledge: Knowledge, day: Callable[[], date], changes: DiaryChanges) -> None:
        """Begin.

        Args:
            path: the diary file; without one there is nothing to show.
            day: tells the day.
            changes: where changes are borne in mind, to be undone.
        """
        self._path, self._knowledge, self._day, self._changes = path, knowledge, day, changes
        self._questioned = ""  # a correction with a far-off figure

    # ------------------------------------------------------------ a page

    def view(self, vessel: str = "") -> DiaryView:
        """What is kept of a vessel, or of all if none is named.

        Raises:
            HouseholdError: the diary cannot be read.
        """
        record = self._record()
        return DiaryView(record.vessels, rows_of(record, self._knowledge, vessel), self._day(), record.amiss)

    def take_back(self, row: Row) -> Reply:
        """Take the entries of a row back."""
        changed = Changed(taken=row.numbers)
        try:
            change(changed, self._path)
        except HouseholdError as error:
            return Reply("lost", upper(f"{error.message}."))
        self._changes.made(changed, alone=True)
        return Reply("answer", f"Taken back: {_said_of(row, self._day())}")

    def correct(self, row: Row, line: str, day: str) -> Reply:
        """Put what a line told right; a far-off figure is questioned, and kept if it is given again.

        Args:
            line: its words now.
            day: its day now, in words; as it was if it is empty.
        """
        try:
            told = read_day(day, "the day", self._knowledge, self._day()) if day.strip() else row.day
            chosen = told if told != row.day or line.strip() == row.said.strip() else None
            record = self._record()
            again = line.strip().casefold() == self._questioned
            self._questioned = line.strip().casefold()
            read = corrected_line(row, line, chosen, self._knowledge, record, sure=again)
            first, *others = row.line
            kept = keep(read.entries, self._path, vessels=read.vessels, corrects=first, with_it=others)
        except HouseholdError as error:
            return Reply("lost", upper(f"{error.message}."))
        self._questioned = ""
        self._changes.made(Changed(kept, row.line), alone=True)
        return Reply("heard", kept_text(read.entries, self._knowledge, self._day(), read.vessels))

    def undo(self) -> Reply:
        """Undo what was changed in the diary last, in this talk."""
        return self._changes.undo() or Reply("lost", "Nothing was changed in the diary since you opened this window.")

    # ------------------------------------------------------------ in words

    def asked(self, text: str, *, moved: bool) -> tuple[Reply, ...]:
        """The answer to "show my diary", "what did I do last week?" and "take back the last entry"; else nothing.

        Args:
            moved: whether the line before changed more than the diary, so that "the last entry" may mean that.

        Raises:
            HouseholdError: the diary cannot be read.
        """
        found = diary_asked(text, self._knowledge, self._day(), self._known)
        if found is None or (found.what == "last" and moved and not found.sure):
            return ()
        if self._path is None:
            return (Reply("answer", "This talk keeps no diary."),) if found.what == "show" else ()
        if found.what == "last":
            return (self._last_taken_back(),)
        return (self._listed(found),)

    def _known(self) -> list[tuple[str, str]]:
        return [(one.name, one.kind) for one in self._record().vessels]

    def _record(self) -> Record:
        return read_record(self._path) if self._path is not None else Record()

    def _last_taken_back(self) -> Reply:
        rows = rows_of(self._record(), self._knowledge)
        last = max(rows, key=lambda row: max(row.numbers), default=None)
        if last is None:
            return Reply("answer", "There is no entry in your diary to take back.")
        said = self.take_back(last)
        return said if said.kind == "lost" else Reply("answer", f"{said.text} “Put it back” restores it.")

    def _listed(self, found: DiaryAsked) -> Reply:
        record = self._record()
        rows = rows_of(record, self._knowledge, found.vessel)
        if not rows:
            return Reply("answer", _EMPTY if not record.entries else f"Nothing is kept of {spoken_name(found.vessel)}.")
        if found.what == "show":
            shown = DiaryShown(found.vessel, tuple(_lines(rows[:_MOST_ROWS], self._day())))
            of = f" of {spoken_name(found.vessel)}" if found.vessel else ""
            count = "1 entry" if len(rows) == 1 else f"{len(rows)} entries"
            return Reply("diary", f"Your diary{of}: {count}, the newest first.", diary=shown)
        return self._of_days(found, rows)

    def _of_days(self, found: DiaryAsked, rows: tuple[Row, ...]) -> Reply:
        first, last = found.first, found.last
        if first is not None and last is not None:
            rows = tuple(row for row in rows if first <= row.day <= last)
        when = upper(found.said) if found.said else "So far"
        of = f" with {spoken_name(found.vessel)}" if found.vessel else ""
        if not rows:
            return Reply("answer", f"{when}: your diary holds nothing{of}. {_LISTS}")
        shown = rows[:_MOST_ROWS]
        single = [f"  {_called(row)}{row.text}" for row in shown]
        lines = [f"{when}{of}:", *(single if first == last and first is not None else _lines(shown, self._day()))]
        if len(rows) > _MOST_ROWS:
            lines.append(f"And {len(rows) - _MOST_ROWS} more. {_LISTS}")
        return Reply("answer", "\n".join(lines))


def _lines(rows: tuple[Row, ...], today: date) -> Iterator[str]:
    for day in by_day(rows, today):
        yield f"  {day.title}"
        yield from (f"    {_called(row)}{row.text}" for row in day.rows)


def _called(row: Row) -> str:
    return f"{upper(row.vessel)}: " if row.vessel else ""


def _said_of(row: Row, today: date) -> str:
    return f"{_called(row)}{row.text} ({near_day(row.day, today) or day_title(row.day, today)})."
