"""`heapwright today`: what is due now for every heap, bin and bed of the diary."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date

    from advisor.diary.due import DueDeed, DueList
    from advisor.diary.standing import Now
    from advisor.diary.vessels import Record
    from advisor.knowledge.base import Knowledge


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("--week", action="store_true", help="for the seven days to come")
    parser.add_argument("--away", metavar="SPAN", help="what to do before going away, and for how long: '3 weeks'")
    parser.add_argument("--weather", metavar="WORDS", help="the weather now or to come: 'frost tonight', 'a heatwave'")
    side = parser.add_mutually_exclusive_group()
    side.add_argument("--south", action="store_true", help="the place is south of the equator (kept from then on)")
    side.add_argument("--north", action="store_true", help="the place is north of the equator (kept from then on)")
    parser.add_argument("--done", metavar="N", type=int, help="number N of the list is done: keep it in the diary")
    parser.add_argument("--skip", metavar="N", type=int, help="leave number N out")
    parser.add_argument("--put-off", metavar="N", type=int, help="name number N again later")
    parser.add_argument("--days", metavar="D", type=int, default=2, help="for how many days it is put off (default 2)")
    parser.add_argument("--why", metavar="N", type=int, help="the rules, entries and sources behind number N")
    parser.add_argument("--units", choices=("metric", "us"), default="metric", help="metric (default) or us")
    parser.add_argument("--json", action="store_true", help="as JSON")


def run(arguments: argparse.Namespace) -> int:
    """Print what is due, or record what became of one deed of the list."""
    from datetime import date

    from advisor.commands.shown import tell_local
    from advisor.commands.terminal import width
    from advisor.counsel.in_use import in_use
    from advisor.diary.due_lines import due_lines
    from advisor.diary.vessels import read_record
    from advisor.errors import UsageError
    from advisor.safe_text import json_text

    if sum(each is not None for each in (arguments.done, arguments.skip, arguments.put_off, arguments.why)) > 1:
        raise UsageError("one deed at a time: --done, --skip, --put-off or --why")
    knowledge, today = in_use(), date.today()
    _keep_told(arguments, knowledge, today)
    record = read_record()
    for line in record.amiss:
        print(f"in the diary, what cannot be read: {line}", file=sys.stderr)
    found = _found(arguments, record, _now(arguments, record, today), knowledge)
    for how, number in (("done", arguments.done), ("skipped", arguments.skip), ("put off", arguments.put_off)):
        if number is not None:
            return _settle(_numbered(found, number), how, today, knowledge, arguments.days)
    if arguments.why is not None:
        return _why(_numbered(found, arguments.why), knowledge)
    if arguments.json:
        sys.stdout.write(f"{json_text(found.model_dump(mode='json'))}\n")
        return 0
    from textwrap import fill

    for line in due_lines(found, week=arguments.week, away=arguments.away is not None):
        indent = " " * (len(line) - len(line.lstrip()))
        sys.stdout.write(f"{fill(line, width(), subsequent_indent=indent or '   ' * line[:1].isdigit())}\n")
    if found.deeds:
        sys.stdout.write("Say what became of one: heapwright today --done 1, --put-off 1 or --skip 1.\n")
    tell_local(knowledge)
    return 0


def _keep_told(arguments: argparse.Namespace, knowledge: Knowledge, today: date) -> None:
    """Keep the weather and the side of the equator, if they are told."""
    from advisor.diary.due import hemisphere_entry
    from advisor.diary.from_words import noted
    from advisor.diary.vessels import keep
    from advisor.errors import UsageError

    kept = []
    if arguments.south or arguments.north:
        kept.append(hemisphere_entry(south=arguments.south, today=today))
    if arguments.weather is not None:
        told = [one for one in noted(arguments.weather, knowledge, today).entries if one.kind == "weather"]
        if not told:
            raise UsageError(
                "I hear no weather in that", hint="say frost tonight, a heatwave, weeks of rain or no rain"
            )
        kept += [one.model_copy(update={"day": today}) for one in told]
    if kept:
        keep(kept)


def _now(arguments: argparse.Namespace, record: Record, today: date) -> Now:
    from advisor.diary.due import is_south
    from advisor.diary.standing import Now

    return Now(today, is_south(record), _away(arguments.away) if arguments.away is not None else 0)


def _away(text: str) -> int:
    """A span in days. Raises UsageError."""
    from advisor.errors import UsageError
    from advisor.household.measuring import figures_told

    told = figures_told(text, "time") or ()
    days = round(told[0].value * (told[0].unit or 1.0)) if len(told) == 1 else 0
    if not 1 <= days <= _LONGEST_AWAY:
        raise UsageError(f"--away: for how long? '{text}' is no span of 1 to {_LONGEST_AWAY} days", hint="say 3 weeks")
    return days


_LONGEST_AWAY = 400


def _found(arguments: argparse.Namespace, record: Record, now: Now, knowledge: Knowledge) -> DueList:
    from advisor.diary.due import due_list, shipped_care_engine, week_list

    work = week_list if arguments.week else due_list
    return work(record, now, knowledge, shipped_care_engine(), units=arguments.units)


def _numbered(found: DueList, number: int) -> DueDeed:
    from advisor.errors import UsageError

    if not 1 <= number <= len(found.deeds):
        count = len(found.deeds)
        there = f"there are {count}" if count else "nothing is due"
        raise UsageError(f"there is no number {number} in the list", hint=f"{there}; `heapwright today` lists them")
    return found.deeds[number - 1]


def _settle(deed: DueDeed, how: str, today: date, knowledge: Knowledge, days: int) -> int:
    from advisor.diary.due import settled
    from advisor.diary.saying import kept_text
    from advisor.diary.vessels import keep

    entries = settled(deed, how, today, knowledge, days=days)
    keep(entries)
    sys.stdout.write(f"{kept_text(entries[-1:], knowledge, today)}\n")
    return 0


def _why(deed: DueDeed, knowledge: Knowledge) -> int:
    sys.stdout.write(f"{deed.vessel}: {deed.name}.\n")
    for because in deed.why:
        sys.stdout.write(f"Rule {because.rule}: {because.because}\n")
        for seen in because.rests_on:
            sys.stdout.write(f"  {seen.statement}\n")
        for name in because.sources:
            source = knowledge.sources[name]
            cited = ", ".join(str(part) for part in (source.title, source.publisher, source.year) if part)
            sys.stdout.write(f"  Source: {cited} ({source.standing})\n")
    if deed.agree:
        sys.stdout.write(f"How far sources agree: {deed.agree}\n")
    return 0
