"""`heapwright plan`: a household, from a file, by name or in options, becomes a plan."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.commands.terminal import colour, width

if TYPE_CHECKING:
    from advisor.counsel.plan import Plan
    from advisor.household.shapes import Household
    from advisor.knowledge.base import Knowledge

#: Options that answer a question, by the key that household files use.
ANSWERS = {
    "space": "kind of space: flat, balcony, paved-yard, small-garden, garden, smallholding",
    "digging": "whether there is soil to dig: yes, no",
    "container": "what is there already: none, open-bin, closed-bin, bays, tumbler, worm-bin, tight-bucket, tub",
    "room": "free ground: 1.2x1.2, '4 x 6 ft', none",
    "holds": "what the container holds: '300 L'",
    "season": "spring, summer, autumn, winter",
    "climate": "temperate, cold-winter, hot-dry, wet",
    "pests": "rats, scavengers, none",
    "neighbours": "close, far",
    "local_limits": "closed-container, no-food, size, none",
    "aim": "quick, steady, least-work, fungal, leaf-mould",
    "turning": "often, monthly, rarely, never",
    "crop": "hungry, vegetables, fruit, flowers, pots, unsure",
    "care": "weak lungs or immunity, or small children who help: yes, no",
    "sanitise": "weed seeds or disease to kill: yes, no",
    "animals": "hens, rabbits, goats, cow, horse, pigs, dog, cat, none",
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("file", nargs="?", help="a household file, or the name of one that comes with the program")
    parser.add_argument("--have", metavar="LIST", help="what is on hand: '3 sacks dry leaves, 1 bucket coffee grounds'")
    told = parser.add_argument_group("what else is known (each may be left out)")
    for name, about in ANSWERS.items():
        told.add_argument(f"--{name.replace('_', '-')}", metavar="WORD", help=about, dest=name)
    told.add_argument("--measure", metavar="NAME=SIZE", action="append", default=[], help="own sizes: 'bucket=12 L'")
    told.add_argument("--start", metavar="DATE", default="", help="the day it is built: 2025-10-04")
    shown = parser.add_argument_group("how it is shown")
    shown.add_argument("--why", metavar="LINE", nargs="*", help="the reasons of the lines named, or of all")
    shown.add_argument("--json", action="store_true", help="the plan as JSON")
    shown.add_argument("--schema", action="store_true", help="the JSON Schema of that, and nothing else")
    shown.add_argument("--units", choices=("metric", "us"), default="metric", help="metric (default) or us")


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
    household = _household(arguments, knowledge)
    plan = consult(household, knowledge, shipped_engine(), units=arguments.units)
    if arguments.why:
        _check_names(arguments.why, plan)
    if arguments.json:
        print(plan.model_dump_json(indent=2))
        return 0
    from advisor.papers.page import page

    sys.stdout.write(page(plan, width=width(), colour=colour(), why=arguments.why))
    return 0


def _household(arguments: argparse.Namespace, knowledge: Knowledge) -> Household:
    from advisor.errors import UsageError
    from advisor.household.files import household_from_options, read_household

    told = {name: value for name in ANSWERS if (value := getattr(arguments, name)) is not None}
    if arguments.file is not None:
        if arguments.have or told or arguments.measure or arguments.start:
            raise UsageError("give a household file or options, not both", hint="copy the file and change it there")
        return read_household(_path(arguments.file), knowledge)
    if arguments.have is None:
        raise UsageError(
            "a household is needed", hint="name a file, or say --have '3 sacks dry leaves, 1 bucket coffee grounds'"
        )
    return household_from_options(
        arguments.have, knowledge, told=told, measures=dict(map(_own_size, arguments.measure)), start=arguments.start
    )


def _own_size(text: str) -> tuple[str, str]:
    from advisor.errors import UsageError

    name, sign, size = text.partition("=")
    if not sign or not name.strip() or not size.strip():
        raise UsageError(f"--measure takes NAME=SIZE, not '{text}'", hint="for instance --measure 'bucket=12 L'")
    return name.strip(), size.strip()


def _path(name: str) -> Path:
    """A file as it stands, or a shipped household by its name."""
    from advisor.places import scenarios_folder

    path = Path(name)
    if path.exists() or path.suffix or path.parent != Path():
        return path
    from advisor.commands.households import shipped_path

    return shipped_path(name, scenarios_folder())


def _check_names(names: list[str], plan: Plan) -> None:
    from difflib import get_close_matches

    from advisor.errors import UsageError

    there = [line.id for line in plan.lines()]
    for name in names:
        if name not in there:
            close = get_close_matches(name, there, n=1, cutoff=0.5)
            hint = f"did you mean {close[0]}?" if close else "the names stand at the left of the plan's lines"
            raise UsageError(f"the plan has no line '{name}'", hint=hint)
