"""`heapwright year`: leaves put by in autumn, and fed out through the year against what comes in each week."""

from __future__ import annotations

import argparse

from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_household, add_shown, household_told


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    add_household(parser)
    parser.add_argument(
        "--use-all", action="store_true", help="use up all that spoils, even if a batch goes wrong by it"
    )
    parser.add_argument("--weeks", action="store_true", help="a table of all its weeks as well")
    add_shown(parser, dated=True)


def run(arguments: argparse.Namespace) -> int:
    """Print the year."""
    from advisor.counsel.almanac import Almanac

    if arguments.schema:
        return show_schema(Almanac)
    from advisor.counsel.consult import shipped_engine
    from advisor.counsel.in_use import in_use
    from advisor.counsel.year import year_plan

    knowledge = in_use()
    household = household_told(arguments, knowledge, "3 buckets grass clippings a week")
    year = year_plan(household, knowledge, shipped_engine(), units=arguments.units, balanced=not arguments.use_all)
    from advisor.papers.almanac import almanac_page

    return show(year, arguments, almanac_page, weeks=arguments.weeks)
