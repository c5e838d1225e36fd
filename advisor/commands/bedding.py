"""`heapwright bedding`: a deep bed under animals, and the rows it makes in spring."""

from __future__ import annotations

import argparse

from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_shown, household_named

SUMMARY = "deep bedding for animals: how much, how deep, and the rows it makes"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("file", nargs="?", help="a household: its browns are what there is to bed on")
    parser.add_argument("--animals", metavar="LIST", help="'6 hens', '2 goats of 60 kg and 1 pony'")
    parser.add_argument("--have", metavar="LIST", help="what there is to bed on: '20 sacks dry leaves, 4 straw bales'")
    parser.add_argument("--weeks", type=float, default=26.0, help="how long they are on it (26)")
    parser.add_argument("--indoors", type=float, default=100.0, metavar="PCT", help="share of the day indoors (100)")
    parser.add_argument("--floor", type=float, metavar="M2", help="floor of the house in square metres")
    parser.add_argument(
        "--aim", choices=("quick", "steady", "fungal"), default="steady", help="how the spring rows are to work"
    )
    parser.add_argument("--longest", type=float, metavar="M", help="the longest a row may be, in metres")
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print the bed."""
    from advisor.counsel.deep_bed import DeepBed, Season, deep_bed

    if arguments.schema:
        return show_schema(DeepBed)
    from advisor.counsel.herds import herds_told
    from advisor.counsel.substitutes import shipped_replacing_engine
    from advisor.errors import UsageError
    from advisor.household.files import household_from_options
    from advisor.knowledge.load import shipped

    if not arguments.animals:
        raise UsageError("say which animals", hint="for instance --animals '6 hens'")
    if arguments.file and arguments.have:
        raise UsageError("give a household file or --have, not both")
    if arguments.longest is not None and not 1 <= arguments.longest <= 1000:
        raise UsageError(f"--longest is 1 to 1000 m, not {arguments.longest:g}")
    knowledge = shipped()
    household = household_named(arguments.file, knowledge)
    if arguments.have:
        household = household_from_options(arguments.have, knowledge)
    season = Season(arguments.weeks, arguments.indoors / 100, arguments.floor, arguments.aim, arguments.longest)
    found = deep_bed(
        herds_told(arguments.animals),
        season,
        knowledge,
        shipped_replacing_engine(),
        household=household,
        units=arguments.units,
    )
    from advisor.papers.deep_bed import deep_bed_page

    return show(found, arguments, deep_bed_page)
