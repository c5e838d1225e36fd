"""Vessels and entries carried from one diary to another: as JSON, whole, or as CSV, the entries alone."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final

from pydantic import Field, ValidationError

from advisor.diary.entries import Entry, Told, Vessel, VesselKind
from advisor.diary.file import DiaryFile
from advisor.diary.vessels import Record, put_vessel, told_text
from advisor.errors import HouseholdError
from advisor.knowledge.shapes import Shape
from advisor.records import dataclass
from advisor.safe_text import safe_value

#: The shape of the file; a file of a higher one is of a newer program.
SHAPE: Final = 1
#: A diary of 10,000 entries has about 3 million bytes.
MOST_BYTES: Final = 50_000_000

_COLUMNS: Final = (
    "number", "vessel", "vessel_kind", "day", "at", "kind", "told", "said", "into", "into_kind", "corrects",
    "taken_back",
)  # fmt: skip


class Carried(Shape):
    """What is carried: vessels, and entries with those that were taken back."""

    heapwright_diary: int = Field(default=SHAPE, ge=1)
    vessels: tuple[Vessel, ...] = ()
    entries: tuple[Entry, ...] = ()


@dataclass(frozen=True, slots=True)
class Brought:
    """How many vessels and entries were new, and how many entries were there already."""

    vessels: int
    entries: int
    there: int


def carried(record: Record, vessel: str = "") -> Carried:
    """What a record holds, or what it holds of one vessel and of those that its batches came from or went into.

    Args:
        record: with the entries that were taken back.
    """
    entries = record.of(vessel) if vessel else record.entries
    named = {name.casefold() for one in entries for name in (one.vessel, one.into) if name} | {vessel.casefold()}
    vessels = [one for one in record.vessels if not vessel or one.name.casefold() in named]
    plain = tuple(one.model_copy(update={"number": 0}) for one in vessels)
    return Carried(vessels=plain, entries=tuple(sorted(entries, key=lambda one: one.number)))


def as_json(what: Carried) -> str:
    """It as JSON, without what was not told."""
    data = {"heapwright_diary": SHAPE, **what.model_dump(mode="json", exclude_defaults=True)}
    return f"{json.dumps(safe_value(data), indent=1, ensure_ascii=False)}\n"


def as_csv(what: Carried) -> str:
    """Its entries as CSV (RFC 4180, 2005), a line each; what an entry tells is one column of JSON."""
    kinds = {one.name: one.kind for one in what.vessels}
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")  # it is shown on a terminal, too
    writer.writerow(_COLUMNS)
    for one in what.entries:
        kind, into = kinds.get(one.vessel, ""), kinds.get(one.into, "")
        row = (one.number, one.vessel, kind, one.day, one.at.isoformat(), one.kind, told_text(one.told), one.said)
        writer.writerow((*row, one.into, into, one.corrects or "", int(one.taken_back)))
    return out.getvalue()


def read_carried(text: str, where: str) -> Carried:
    """What a text of JSON or CSV carries, every text in it safe to show.

    Raises:
        HouseholdError: it is neither, or of a newer program; one line with `where` and the place in it.
    """
    try:
        raw = safe_value(json.loads(text)) if text.lstrip()[:1] == "{" else _of_csv(text, where)
        found = Carried.model_validate(raw)
    except ValidationError as error:
        first = error.errors()[0]
        place = ", ".join(str(part + 1 if isinstance(part, int) else part) for part in first["loc"])
        raise HouseholdError(f"cannot be read at {place}: {first['msg'].lower()}", where=where) from None
    except (ValueError, RecursionError):
        raise HouseholdError("neither JSON nor CSV of a diary", where=where) from None
    if found.heapwright_diary > SHAPE:
        raise HouseholdError("written by a newer version of this program", where=where)
    return found


def _of_csv(text: str, where: str) -> dict[str, Any]:
    rows = list(csv.DictReader(io.StringIO(text)))
    if not rows or not {"vessel", "day", "kind"} <= set(rows[0]):
        hint = f"its first line names the columns: {', '.join(_COLUMNS)}"
        raise HouseholdError("neither JSON nor CSV of a diary", where=where, hint=hint)
    kinds: dict[str, str] = {}
    entries = []
    for place, row in enumerate(rows, 1):
        for name, kind in ((row.get("vessel"), row.get("vessel_kind")), (row.get("into"), row.get("into_kind"))):
            if name:
                kinds.setdefault(name, kind or "heap")
        entries.append(_entry_of(row, place))
    return {
        "vessels": [{"name": safe_value(name), "kind": kind} for name, kind in kinds.items()],
        "entries": safe_value(entries),
    }


def _entry_of(row: Mapping[str, str | None], place: int) -> dict[str, object]:
    day = row.get("day") or ""
    return {
        "number": int(row.get("number") or place),
        "vessel": row.get("vessel") or "",
        "day": day,
        "at": row.get("at") or f"{day}T12:00:00",
        "kind": row.get("kind") or "",
        "told": json.loads(row.get("told") or "{}"),
        "said": row.get("said") or "",
        "into": row.get("into") or "",
        "corrects": int(row.get("corrects") or 0),
        "taken_back": (row.get("taken_back") or "0") not in ("0", "false", "no"),
    }


def bring(what: Carried, record: Record, path: Path | None = None) -> Brought:
    """Keep what was carried, all or nothing; entries that are there already are left out, and numbers stay if free.

    Args:
        record: what the diary holds, with the entries that were taken back.

    Raises:
        HouseholdError: a vessel of that name is of another kind, or the file cannot be written; nothing is changed.
    """
    for vessel in what.vessels:
        there = record.vessel(vessel.name)
        if there is not None and there.kind != vessel.kind:
            hint = "rename it in the file"
            raise HouseholdError(f"“{vessel.name}” is a {there.kind} here and a {vessel.kind} there", hint=hint)
    held = {_mark(one): one.number for one in record.entries}
    taken = {one.number for one in record.entries}
    fresh = [one for one in what.entries if _mark(one) not in held]
    new = [one for one in what.vessels if record.vessel(one.name) is None]
    kinds: dict[str, VesselKind] = {one.name.casefold(): one.kind for one in (*record.vessels, *what.vessels)}
    numbers = {one.number: held[_mark(one)] for one in what.entries if _mark(one) in held}
    with DiaryFile(path).open() as found:
        found.execute("begin immediate")
        for vessel in what.vessels:
            put_vessel(found, vessel)
        for name in _named(fresh, kinds):
            put_vessel(found, Vessel(name=name, kind="heap"))
        for one in fresh:
            free = one.number if one.number > 0 and one.number not in taken else None
            number = found.execute(
                "insert into entry (number, vessel, day, at, kind, told, said, goes_into, corrects, taken_back) values "
                "(?, (select number from vessel where name = ? collate nocase), ?, ?, ?, ?, ?, "
                "(select number from vessel where name = ? collate nocase), ?, ?)",
                (
                    free,
                    one.vessel,
                    one.day.isoformat(),
                    one.at.isoformat(),
                    one.kind,
                    told_text(one.told),
                    one.said,
                    one.into,
                    numbers.get(one.corrects),
                    int(one.taken_back),
                ),
            ).lastrowid
            numbers[one.number] = number or 0
            taken.add(number or 0)
    return Brought(len(new), len(fresh), len(what.entries) - len(fresh))


def _mark(one: Entry) -> tuple[object, ...]:
    """What makes two entries the same one."""
    names = (one.vessel.casefold(), one.into.casefold())
    return (*names, one.day, one.at, one.kind, told_text(one.told or Told()), one.said, one.taken_back)


def _named(entries: list[Entry], kinds: Mapping[str, str]) -> Iterator[str]:
    """Vessels that entries name and nobody describes."""
    for name in dict.fromkeys(name for one in entries for name in (one.vessel, one.into) if name):
        if name.casefold() not in kinds:
            yield name
