"""`heapwright kitchen`: what a household's scraps come to in a year, in buckets, in a worm bin, with comfrey beside."""

from __future__ import annotations

import argparse

from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_shown, household_named

SUMMARY = "what a household's scraps come to in a year: buckets, worms, comfrey, pots"

SPACES = ("flat", "balcony", "paved-yard", "small-garden", "garden")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("file", nargs="?", help="a household whose own scraps and vessels are taken")
    parser.add_argument("--people", type=float, metavar="N", help="how many eat at home")
    parser.add_argument("--space", choices=SPACES, help="where they live (balcony)")
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print the kitchen's year."""
    from advisor.counsel.kitchen_shapes import Kitchen

    if arguments.schema:
        return show_schema(Kitchen)
    from advisor.counsel.consult import shipped_engine
    from advisor.counsel.kitchen import kitchen
    from advisor.errors import UsageError
    from advisor.knowledge.load import shipped

    if arguments.file is None and arguments.people is None:
        raise UsageError("say how many people", hint="for instance --people 3")
    if arguments.file is not None and (arguments.people is not None or arguments.space is not None):
        raise UsageError("give a household file or options, not both")
    knowledge = shipped()
    found = kitchen(
        knowledge,
        shipped_engine(),
        people=arguments.people,
        space=arguments.space or "balcony",
        household=household_named(arguments.file, knowledge),
        units=arguments.units,
    )
    from advisor.papers.kitchen import kitchen_page

    return show(found, arguments, kitchen_page)
