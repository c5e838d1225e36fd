"""`heapwright log`: what was done to a heap or read off it, kept in the diary."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from advisor.diary.keep_lines import LineRead
    from advisor.knowledge.base import Knowledge


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("line", nargs="?", help="what was done or seen: 'north heap 58C at 40 cm, turned, bit dry'")
    parser.add_argument(
        "--vessel", metavar="NAME", default="", help="the heap or bin it is about, if the line names none"
    )
    parser.add_argument("--on", metavar="DAY", help="the day it was, if not today: 'Sunday', 2026-11-29")
    parser.add_argument("--sure", action="store_true", help="a figure is meant as it stands, however far off it is")
    parser.add_argument("--dry-run", action="store_true", help="say what would be kept, and keep nothing")
    parser.epilog = "Without a line it reads lines from the standard input, and keeps all of them or none."


def run(arguments: argparse.Namespace) -> int:
    """Keep one line, or those of the standard input, and say back what was kept."""
    from datetime import date

    from advisor.commands.grounds import day_told
    from advisor.counsel.in_use import in_use
    from advisor.diary.keep_lines import keep_lines, read_lines
    from advisor.diary.saying import kept_text
    from advisor.diary.vessels import read_record
    from advisor.errors import UsageError

    knowledge, today = in_use(), date.today()
    day = day_told(arguments.on, "--on", knowledge) or today
    lines = [arguments.line] if arguments.line is not None else _typed()
    read = read_lines(lines, knowledge, day, read_record(), vessel=arguments.vessel, sure=arguments.sure)
    _warn(read, knowledge)
    asking = [(number, one) for number, one in enumerate(read, 1) if one.noted.asks]
    if asking:
        number, first = asking[0]
        where = f"line {number}" if len(read) > 1 else ""
        more = f"{len(asking) - 1} more lines are not clear; " if len(asking) > 1 else ""
        how = "if it is so, add --sure" if first.noted.far_off else "nothing was kept"
        how = "--vessel NAME says which; nothing was kept" if first.noted.unsure else how
        raise UsageError(first.noted.asks, where=where, hint=f"{more}{how}")
    if not read:
        raise UsageError("there is no line to keep", hint="heapwright log 'turned the heap, 55 C'")
    if not arguments.dry_run:
        keep_lines(read)
    for one in read:
        told = kept_text(one.noted.entries, knowledge, today, one.noted.vessels)
        sys.stdout.write(f"{told.replace('Kept', 'Would keep', 1) if arguments.dry_run else told}\n")
    return 0


def _typed() -> list[str]:
    """The lines of the standard input. Raises UsageError."""
    from advisor.errors import UsageError

    if sys.stdin is None:
        raise UsageError("there is no standard input to read from", hint="heapwright log 'turned the heap, 55 C'")
    try:
        return sys.stdin.read().splitlines()
    except UnicodeDecodeError:
        raise UsageError("the standard input is not text", hint="write it as UTF-8") from None


def _warn(read: Sequence[LineRead], knowledge: Knowledge) -> None:
    """What somebody is in danger of goes before all else."""
    from advisor.counsel.danger import danger_reply

    named = {danger.name: danger for one in read if one.noted.heard for danger in one.noted.heard.dangers[:1]}
    for danger in named.values():
        for line in danger_reply(danger, knowledge.danger_answers):
            sys.stdout.write(f"{line}\n")
