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
    parser.add_argument("--weeks", metavar="TIME", default="26", help="how long they are on it (26): 20, '6 months'")
    parser.add_argument("--indoors", default="100", metavar="PCT", help="share of the day indoors (100)")
    parser.add_argument("--floor", metavar="AREA", help="floor of the house: 12 (m2; sq ft with --units us), '3 x 4 m'")
    parser.add_argument(
        "--aim", choices=("quick", "steady", "fungal"), default="steady", help="how the spring rows are to work"
    )
    parser.add_argument(
        "--longest", metavar="LENGTH", help="the longest a row may be: 6 (m; ft with --units us), '20 ft'"
    )
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print the bed."""
    from advisor.counsel.deep_bed import DeepBed, Season, deep_bed

    if arguments.schema:
        return show_schema(DeepBed)
    from advisor.commands.told import figure_told
    from advisor.counsel.herds import herds_told
    from advisor.counsel.substitutes import shipped_replacing_engine
    from advisor.errors import UsageError
    from advisor.household.files import household_from_options
    from advisor.knowledge.load import shipped

    if not arguments.animals:
        raise UsageError("say which animals", hint="for instance --animals '6 hens'")
    if arguments.file and arguments.have:
        raise UsageError("give a household file or --have, not both")
    longest = _longest(arguments)
    if longest is not None and not 1 <= longest <= 1000:
        raise UsageError(f"--longest is 1 to 1000 m, not {longest:g}")
    knowledge = shipped()
    household = household_named(arguments.file, knowledge)
    if arguments.have:
        household = household_from_options(arguments.have, knowledge)
    weeks = figure_told(arguments.weeks, "--weeks", "time", "weeks", "1 to 60")
    indoors = figure_told(arguments.indoors, "--indoors", "number", "", "1 to 100 %")
    season = Season(weeks, indoors / 100, _floor(arguments), arguments.aim, longest)
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


def _longest(arguments: argparse.Namespace) -> float | None:
    """In metres."""
    from advisor.commands.told import figure_told

    told: str | None = arguments.longest
    unit = "ft" if arguments.units == "us" else "m"
    return None if told is None else figure_told(told, "--longest", "length", unit, "1 to 1000 m")


def _floor(arguments: argparse.Namespace) -> float | None:
    """In square metres, told as an area or as two sides."""
    from advisor.errors import HouseholdError
    from advisor.household.dimensions import read_room
    from advisor.household.measuring import figures_told, read_figures
    from advisor.household.shapes import Room
    from advisor.safe_text import one_line

    told: str | None = arguments.floor
    if told is None:
        return None
    if figures_told(told, "area") is not None:
        unit = "sq ft" if arguments.units == "us" else "m2"
        return read_figures(told, "area", unit, "--floor", "as in 12 m2 or 3 x 4 m")[0]
    try:
        room = read_room(told, "--floor")
    except HouseholdError:
        hint = "0.1 to 10000 m2, as in 12 m2 or 3 x 4 m"
        raise HouseholdError(f"'{one_line(told, 60)}' is no floor", where="--floor", hint=hint) from None
    return room.length_m * room.width_m if isinstance(room, Room) else room
