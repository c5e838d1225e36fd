"""`heapwright export` and `heapwright import`: the diary of heaps and bins as a file, and back."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options of the one or the other."""
    if parser.prog.endswith("import"):
        parser.add_argument("file", help="a file that `heapwright export` wrote, JSON or CSV; - for standard input")
        parser.add_argument("--dry-run", action="store_true", help="read it, and keep nothing")
        return
    parser.add_argument("vessel", nargs="?", default="", help="of this heap or bin alone")
    parser.add_argument("--csv", action="store_true", help="the entries as CSV, for a spreadsheet; otherwise JSON")
    parser.add_argument("--to", metavar="FILE", help="write it there and not to the standard output")
    parser.epilog = "It holds heaps, bins and their entries, also those taken back; not beds, soil checks and talks."


def run(arguments: argparse.Namespace) -> int:
    """Write the diary out, or read one in."""
    return _import(arguments.file, dry=arguments.dry_run) if arguments.command == "import" else _export(arguments)


def _export(arguments: argparse.Namespace) -> int:
    from advisor.diary.carrying import as_csv, as_json, carried
    from advisor.diary.vessels import read_record
    from advisor.errors import UsageError
    from advisor.knowledge.hints import hint
    from advisor.text_files import place_of, write_text

    record = read_record(taken_back=True)
    for line in record.amiss:
        print(f"in the diary, what cannot be read and is left out: {line}", file=sys.stderr)
    if arguments.vessel and record.vessel(arguments.vessel) is None:
        names = [one.name for one in record.vessels]
        raise UsageError(f"there is no heap or bin '{arguments.vessel}'", hint=hint(arguments.vessel, names))
    what = carried(record, arguments.vessel)
    text = as_csv(what) if arguments.csv else as_json(what)
    if arguments.to is None:
        sys.stdout.write(text)
        return 0
    try:
        write_text(Path(arguments.to), text, private=True)
    except OSError as error:
        raise UsageError(f"cannot be written: {error.strerror}", where=place_of(Path(arguments.to))) from None
    sys.stdout.write(f"{len(what.vessels)} heaps and bins and {len(what.entries)} entries are in {arguments.to}.\n")
    return 0


def _import(name: str, *, dry: bool) -> int:
    from advisor.diary.carrying import MOST_BYTES, bring, read_carried
    from advisor.diary.vessels import read_record
    from advisor.errors import UsageError
    from advisor.text_files import read_text

    if name == "-":
        if sys.stdin is None:
            raise UsageError("there is no standard input to read from", hint="name a file")
        try:
            text, where = sys.stdin.read(MOST_BYTES), "the standard input"
        except UnicodeDecodeError:
            raise UsageError("the standard input is not text", hint="write it as UTF-8") from None
    else:
        text, where = read_text(Path(name), "diary", MOST_BYTES), name
    what = read_carried(text, where)
    if dry:
        sys.stdout.write(f"It holds {len(what.vessels)} heaps and bins and {len(what.entries)} entries.\n")
        return 0
    brought = bring(what, read_record(taken_back=True))
    there = f"; {brought.there} were there already" if brought.there else ""
    sys.stdout.write(f"Kept {brought.vessels} new heaps and bins and {brought.entries} entries{there}.\n")
    return 0
