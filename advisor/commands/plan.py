"""`heapwright plan`: a household, from a file, by name or in options, becomes a plan."""

from __future__ import annotations

import argparse

from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_household, add_shown, household_told


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    add_household(parser)
    add_shown(parser, dated=True)


def run(arguments: argparse.Namespace) -> int:
    """Print the plan."""
    if arguments.schema:
        from advisor.counsel.plan import Plan

        return show_schema(Plan)
    from advisor.counsel.consult import consult, shipped_engine
    from advisor.counsel.in_use import in_use

    knowledge = in_use()
    household = household_told(arguments, knowledge)
    plan = consult(household, knowledge, shipped_engine(), units=arguments.units)
    return show(plan, arguments)
