"""`heapwright paces`: the quick heap and the slow fungal one of what there is, and which of them suits."""

from __future__ import annotations

import argparse
import sys

from advisor.commands.terminal import colour, width
from advisor.commands.told import add_household, add_shown, check_names, household_told

SUMMARY = "the quick heap beside the slow one: mix, work, wait, and which suits"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    add_household(parser)
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print both heaps."""
    from advisor.counsel.pace import Paces

    if arguments.schema:
        import json

        print(json.dumps(Paces.model_json_schema(), indent=2))
        return 0
    from advisor.counsel.consult import shipped_engine
    from advisor.counsel.paces import paces, shipped_paces_engine
    from advisor.knowledge.load import shipped

    knowledge = shipped()
    household = household_told(arguments, knowledge)
    found = paces(household, knowledge, shipped_engine(), shipped_paces_engine(), units=arguments.units)
    if arguments.why:
        check_names(arguments.why, found.lines())
    if arguments.json:
        print(found.model_dump_json(indent=2))
        return 0
    from advisor.papers.paces import paces_page

    sys.stdout.write(paces_page(found, width=width(), colour=colour(), why=arguments.why))
    return 0
