"""`heapwright paces`: the quick heap and the slow fungal one of what there is, and which of them suits."""

from __future__ import annotations

import argparse

from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_household, add_shown, household_told

SUMMARY = "the quick heap beside the slow one: mix, work, wait, and which suits"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    add_household(parser)
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print both heaps."""
    from advisor.counsel.pace import Paces

    if arguments.schema:
        return show_schema(Paces)
    from advisor.counsel.consult import shipped_engine
    from advisor.counsel.paces import paces, shipped_paces_engine
    from advisor.knowledge.load import shipped

    knowledge = shipped()
    household = household_told(arguments, knowledge)
    found = paces(household, knowledge, shipped_engine(), shipped_paces_engine(), units=arguments.units)
    from advisor.papers.paces import paces_page

    return show(found, arguments, paces_page)
