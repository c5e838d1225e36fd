"""`heapwright additions`: herbs, starters and minerals for a heap, how much and why."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_shown, household_named

if TYPE_CHECKING:
    from advisor.knowledge.base import Knowledge

SUMMARY = "herbs, starters and minerals for a heap: how much, and how good the evidence is"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("file", nargs="?", help="a household: its plan says how large the heap is")
    parser.add_argument("--have", metavar="LIST", help="what is on hand, without a file")
    parser.add_argument(
        "--litres", metavar="VOLUME", help="the size of the heap, if it is another: 600 (litres), '1 m3', '8 barrows'"
    )
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print the additions."""
    from advisor.counsel.additions import Additions, additions

    if arguments.schema:
        return show_schema(Additions)
    from advisor.counsel.consult import shipped_engine
    from advisor.counsel.substitutes import shipped_replacing_engine
    from advisor.errors import UsageError
    from advisor.household.files import household_from_options
    from advisor.household.shapes import Household
    from advisor.knowledge.load import shipped

    if arguments.file and arguments.have:
        raise UsageError("give a household file or --have, not both")
    knowledge = shipped()
    household = household_named(arguments.file, knowledge)
    if household is None:
        told = arguments.have
        household = household_from_options(told, knowledge) if told else Household("a heap of your own")
    found = additions(
        household,
        knowledge,
        shipped_engine(),
        shipped_replacing_engine(),
        litres=_litres(arguments.litres, knowledge) if arguments.litres is not None else None,
        units=arguments.units,
    )
    from advisor.papers.additions import additions_page

    return show(found, arguments, additions_page)


def _litres(text: str, knowledge: Knowledge) -> float:
    """A volume in litres; a bare figure is one already."""
    from advisor.commands.told import volume_told
    from advisor.errors import HouseholdError
    from advisor.household.measuring import figures_told
    from advisor.safe_text import one_line

    bare = figures_told(text, "number") or ()
    if len(bare) == 1:
        return bare[0].value
    try:
        return volume_told(text, "--litres", knowledge)
    except HouseholdError:
        hint = "1 to 100000 L, as in 400 L, 6 barrows or 1 m3"
        raise HouseholdError(f"'{one_line(text, 60)}' is not a volume", where="--litres", hint=hint) from None
