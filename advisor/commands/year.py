"""`heapwright year`: leaves put by in autumn, and fed out through the year against what comes in each week."""

from __future__ import annotations

import argparse
import sys

from advisor.commands.plan import ANSWERS, _own_size
from advisor.commands.terminal import colour, width
from advisor.commands.told import add_shown, check_names, household_path

SUMMARY = "plan a year: what to put by, what to add each week, which batch starts when"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("file", nargs="?", help="a household file with a table [year], or a shipped household")
    parser.add_argument("--have", metavar="LIST", help="what is there and what comes in: '3 buckets grass a week'")
    for name, about in ANSWERS.items():
        parser.add_argument(f"--{name.replace('_', '-')}", metavar="WORD", help=about, dest=name)
    parser.add_argument("--measure", metavar="NAME=SIZE", action="append", default=[], help="own sizes: 'bucket=12 L'")
    parser.add_argument("--start", metavar="DATE", default="", help="the year begins with the month of this day")
    parser.add_argument("--balanced", action="store_true", help="rather leave stuff out than let a batch go wrong")
    parser.add_argument("--weeks", action="store_true", help="a table of all its weeks as well")
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print the year."""
    from advisor.counsel.almanac import Almanac

    if arguments.schema:
        import json

        print(json.dumps(Almanac.model_json_schema(), indent=2))
        return 0
    from advisor.counsel.consult import shipped_engine
    from advisor.counsel.year import year_plan
    from advisor.errors import UsageError
    from advisor.household.files import household_from_options, read_household
    from advisor.knowledge.load import shipped

    knowledge = shipped()
    told = {name: value for name in ANSWERS if (value := getattr(arguments, name)) is not None}
    if arguments.file is not None:
        if arguments.have or told or arguments.measure or arguments.start:
            raise UsageError("give a household file or options, not both", hint="copy the file and change it there")
        household = read_household(household_path(arguments.file), knowledge)
    elif arguments.have is None:
        raise UsageError("a household is needed", hint="name a file, or say --have '3 buckets grass clippings a week'")
    else:
        sizes = dict(map(_own_size, arguments.measure))
        household = household_from_options(arguments.have, knowledge, told=told, measures=sizes, start=arguments.start)
    year = year_plan(household, knowledge, shipped_engine(), units=arguments.units, balanced=arguments.balanced)
    if arguments.why:
        check_names(arguments.why, year.lines())
    if arguments.json:
        print(year.model_dump_json(indent=2))
        return 0
    from advisor.papers.almanac import almanac_page

    page = almanac_page(year, width=width(), colour=colour(), why=arguments.why, weeks=arguments.weeks)
    sys.stdout.write(page)
    return 0
