"""`heapwright diary`: the entries of the diary, and putting them right."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from advisor.diary.entries import Entry
    from advisor.diary.vessels import Record
    from advisor.knowledge.base import Knowledge

_SHOWN = 30


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("vessel", nargs="?", help="of this heap or bin alone")
    parser.add_argument("--last", metavar="N", type=int, default=_SHOWN, help=f"how many entries (default {_SHOWN})")
    parser.add_argument("--all", action="store_true", help="every entry, and those that were taken back")
    parser.add_argument("--take-back", metavar="N", type=int, help="take back entry number N")
    parser.add_argument(
        "--correct", metavar=("N", "LINE"), nargs=2, help="put entry N right: --correct 12 'turned, 52 C'"
    )
    parser.add_argument("--sure", action="store_true", help="a figure is meant as it stands, however far off it is")
    parser.add_argument("--json", action="store_true", help="as JSON")


def run(arguments: argparse.Namespace) -> int:
    """List entries, or change one and say what it is now."""
    from datetime import date

    from advisor.counsel.in_use import in_use
    from advisor.diary.saying import listed_line
    from advisor.diary.vessels import read_record, take_back
    from advisor.errors import UsageError

    knowledge, today = in_use(), date.today()
    if arguments.take_back is not None and arguments.correct is not None:
        raise UsageError("take an entry back or put it right, not both")
    if arguments.take_back is not None:
        entry = take_back(arguments.take_back)
        sys.stdout.write(f"Taken back: {listed_line(entry, knowledge, today).strip()}\n")
        return 0
    if arguments.correct is not None:
        number, line = arguments.correct
        return _correct(number, line, knowledge, today, sure=arguments.sure)
    record = read_record(taken_back=arguments.all)
    for line in record.amiss:
        print(f"in the diary, what cannot be read: {line}", file=sys.stderr)
    entries = _chosen(record, arguments.vessel)
    shown = entries if arguments.all else entries[-max(1, arguments.last) :]
    return _show(record, shown, len(entries), knowledge, today, json=arguments.json)


def _chosen(record: Record, vessel: str | None) -> tuple[Entry, ...]:
    from advisor.errors import UsageError
    from advisor.knowledge.hints import hint

    if vessel is None:
        return record.entries
    if record.vessel(vessel) is None:
        raise UsageError(f"there is no heap or bin '{vessel}'", hint=hint(vessel, [one.name for one in record.vessels]))
    return record.of(vessel)


def _show(record: Record, shown: Sequence[Entry], of: int, knowledge: Knowledge, today: date, *, json: bool) -> int:
    from advisor.diary.saying import listed_line, vessel_line
    from advisor.safe_text import json_text

    if json:
        vessels = [one.model_dump(mode="json", exclude={"number"}) for one in record.vessels]
        entries = [one.model_dump(mode="json") for one in shown]
        sys.stdout.write(f"{json_text({'vessels': vessels, 'entries': entries})}\n")
        return 0
    if not record.vessels and not record.entries:
        sys.stdout.write("The diary is empty. Begin it with: heapwright log 'turned the north heap, 55 C'\n")
        return 0
    for vessel in record.vessels:
        sys.stdout.write(f"{vessel_line(vessel, record, today)}\n")
    sys.stdout.write("\n")
    for entry in shown:
        sys.stdout.write(f"{listed_line(entry, knowledge, today)}\n")
    if len(shown) < of:
        sys.stdout.write(f"The last {len(shown)} of {of}. --all shows every entry.\n")
    return 0


def _correct(number: str, line: str, knowledge: Knowledge, today: date, *, sure: bool) -> int:
    from advisor.diary.keep_lines import corrected
    from advisor.diary.saying import kept_text
    from advisor.diary.vessels import keep, read_record
    from advisor.errors import UsageError

    if not number.isdigit():
        raise UsageError(f"'{number}' is no number of an entry", hint="--correct 12 'turned, 52 C'")
    record = read_record()
    entry = next((one for one in record.entries if one.number == int(number)), None)
    if entry is None:
        raise UsageError(f"there is no entry {number}", hint="`heapwright diary` lists the entries with their numbers")
    read = corrected(entry, line, knowledge, today, record, sure=sure)
    keep(read.entries, vessels=read.vessels, corrects=entry.number)
    sys.stdout.write(f"{kept_text(read.entries, knowledge, today, read.vessels)} Entry {number} is taken back.\n")
    return 0
