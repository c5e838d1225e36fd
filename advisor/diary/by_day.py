"""The diary by days, the newest first: what each line told of a vessel, as a row that can be put right."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from advisor.counsel.wording import capital
from advisor.diary.entries import Entry
from advisor.diary.saying import entry_text
from advisor.diary.vessels import Record
from advisor.hearing.times import day_text
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """What one line told of one vessel on one day.

    Attributes:
        vessel: its name; empty for the weather and what is of no vessel.
        text: what was told, in the words of the program: "turned; 58 °C in the middle".
        said: the line as it was typed.
        entries: the entries that hold it.
        line: the numbers of all entries of the same line, those of other vessels too; they are put right together.
    """

    vessel: str
    text: str
    said: str
    entries: tuple[Entry, ...]
    line: tuple[int, ...]

    @property
    def day(self) -> date:
        """The day of which it tells."""
        return self.entries[0].day

    @property
    def numbers(self) -> tuple[int, ...]:
        """The numbers of its entries."""
        return tuple(one.number for one in self.entries)


@dataclass(frozen=True, slots=True)
class DayOfDiary:
    """A day and its rows, the latest first."""

    day: date
    title: str
    rows: tuple[Row, ...]


def rows_of(record: Record, knowledge: Knowledge, vessel: str = "") -> tuple[Row, ...]:
    """All rows but those of settings, the newest first; of one vessel, or of all if none is named."""
    lines: dict[tuple[object, ...], list[int]] = {}
    groups: dict[tuple[object, ...], list[Entry]] = {}
    for one in record.entries:
        if one.kind != "place":
            lines.setdefault((one.at, one.said), []).append(one.number)
            groups.setdefault((one.day, one.vessel.casefold(), one.at, one.said), []).append(one)
    wanted = {one.number for one in record.of(vessel)} if vessel else None
    rows = [
        Row(
            entries[0].vessel,
            "; ".join(dict.fromkeys(_text(one, knowledge) for one in entries)),
            entries[0].said,
            tuple(entries),
            tuple(lines[entries[0].at, entries[0].said]),
        )
        for entries in groups.values()
        if wanted is None or any(one.number in wanted for one in entries)
    ]
    rows.sort(key=lambda row: (row.day, row.entries[-1].number), reverse=True)
    return tuple(rows)


def _text(one: Entry, knowledge: Knowledge) -> str:
    return f"“{one.said}”" if one.kind == "note" else entry_text(one.kind, one.told, one.into, knowledge)


def by_day(rows: tuple[Row, ...], today: date) -> Iterator[DayOfDiary]:
    """Rows under their days: "Today, Monday 30 November"."""
    days: dict[date, list[Row]] = {}
    for row in rows:
        days.setdefault(row.day, []).append(row)
    for day, of in days.items():
        yield DayOfDiary(day, day_title(day, today), tuple(of))


def day_title(day: date, today: date) -> str:
    """A day as a heading, with its year if that is another one: "Today, Monday 30 November"."""
    said = day_text(day) if day.year == today.year else f"{day_text(day)} {day.year}"
    near = near_day(day, today)
    return f"{capital(near)}, {said}" if near else said


def near_day(day: date, today: date) -> str:
    """Say "today" or "yesterday"; empty for any other day."""
    return {0: "today", 1: "yesterday"}.get((today - day).days, "")
