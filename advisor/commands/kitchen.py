"""`heapwright kitchen`: what a household's scraps come to in a year, in buckets, in a worm bin, with comfrey beside."""

from __future__ import annotations

import argparse
import sys

from advisor.commands.terminal import colour, width
from advisor.commands.told import add_shown, check_names, household_named

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
        import json

        print(json.dumps(Kitchen.model_json_schema(), indent=2))
        return 0
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
    if arguments.why:
        check_names(arguments.why, found.lines())
    if arguments.json:
        print(found.model_dump_json(indent=2))
        return 0
    from advisor.papers.kitchen import kitchen_page

    sys.stdout.write(kitchen_page(found, width=width(), colour=colour(), why=arguments.why))
    return 0
