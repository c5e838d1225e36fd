"""`heapwright substitutes`: what stands in for manure, by nitrogen and by C:N, in household measures."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_shown, household_named

if TYPE_CHECKING:
    from advisor.household.shapes import Household

SUMMARY = "what stands in for manure that is not to be had"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("file", nargs="?", help="a household: what is on hand is used first")
    parser.add_argument("--for", dest="manure", metavar="LIST", help="what is wanted: '2 barrows horse manure'")
    when = parser.add_mutually_exclusive_group()
    when.add_argument("--season", choices=("spring", "summer", "autumn", "winter"), help="what is to be had then")
    when.add_argument("--month", type=int, metavar="N", help="1 to 12, north of the equator; in the south say --season")
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print the substitutes."""
    from advisor.counsel.stead import Substitutes
    from advisor.counsel.substitutes import shipped_replacing_engine, substitutes

    if arguments.schema:
        return show_schema(Substitutes)
    from advisor.errors import UsageError
    from advisor.household.holdings import holdings_told
    from advisor.knowledge.load import shipped

    if not arguments.manure:
        raise UsageError("say what is wanted", hint="for instance --for '2 barrows horse manure'")
    knowledge = shipped()
    household = household_named(arguments.file, knowledge)
    found = substitutes(
        holdings_told(arguments.manure, knowledge, lambda _: "--for"),
        knowledge,
        shipped_replacing_engine(),
        household=household,
        season=_season(arguments, household),
        units=arguments.units,
    )
    from advisor.papers.stead import stead_page

    return show(found, arguments, stead_page)


def _season(arguments: argparse.Namespace, household: Household | None) -> str | None:
    """What was said, or the household's own, or the season in which it starts."""
    from advisor.counsel.seasons import season_of
    from advisor.errors import UsageError

    if arguments.season is not None:
        return str(arguments.season)
    if arguments.month is not None:
        if not 1 <= arguments.month <= 12:
            raise UsageError(f"--month is 1 to 12, not {arguments.month}", hint="1 is January")
        return season_of(arguments.month)
    if household is not None and household.start is not None and "place.season" not in household.answers:
        return season_of(household.start.month)
    return None
