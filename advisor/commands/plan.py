"""`heapwright plan`: a household, from a file, by name or in options, becomes a plan."""

from __future__ import annotations

import argparse
import sys

from advisor.commands.terminal import colour, width
from advisor.commands.told import add_household, add_shown, check_names, household_told


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    add_household(parser)
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print the plan."""
    if arguments.schema:
        import json

        from advisor.counsel.plan import Plan

        print(json.dumps(Plan.model_json_schema(), indent=2))
        return 0
    from advisor.counsel.consult import consult, shipped_engine
    from advisor.knowledge.load import shipped

    knowledge = shipped()
    household = household_told(arguments, knowledge)
    plan = consult(household, knowledge, shipped_engine(), units=arguments.units)
    if arguments.why:
        check_names(arguments.why, plan.lines())
    if arguments.json:
        print(plan.model_dump_json(indent=2))
        return 0
    from advisor.papers.page import page

    sys.stdout.write(page(plan, width=width(), colour=colour(), why=arguments.why))
    return 0
