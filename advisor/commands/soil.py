"""`heapwright soil`: checks of the soil, step by step: read, classed, set beside earlier ones, turned into advice."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from advisor.commands import grounds
from advisor.commands.told import add_shown

if TYPE_CHECKING:
    from advisor.knowledge.base import Knowledge
    from advisor.soil_counsel.ground import Ground

SUMMARY = "checks of the soil: how to do them, what they show, and whether it is getting better"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    grounds.add_beds(parser)
    parser.add_argument(
        "--check",
        metavar="CHECK",
        action="append",
        default=[],
        help="a check: 'ring width=6 in water=444 ml minutes=12.5 14', 'spade scores=2 4 depths=10 15 cm'; "
        "its names are those that --guide asks for",
    )
    parser.add_argument("--on", metavar="DATE", help="the day of those checks, as in 2026-04-01")
    parser.add_argument("--guide", metavar="NAME", nargs="*", help="how to do a check; without a name, which there are")
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print what the checks show, or a guide."""
    from advisor.soil_counsel.shapes import SoilAnswer

    if arguments.schema:
        return grounds.show_schema(SoilAnswer)
    if arguments.guide is not None:
        return grounds.show_guide(arguments.guide, "soil", arguments.units)
    from advisor.knowledge.load import shipped
    from advisor.soil_counsel.judging import shipped_soil_engine
    from advisor.soil_counsel.soil import soil_answer

    knowledge = shipped()
    answer = soil_answer(_ground(arguments, knowledge), knowledge, shipped_soil_engine(), units=arguments.units)
    return grounds.show(answer, arguments)


def _ground(arguments: argparse.Namespace, knowledge: Knowledge) -> Ground:
    from dataclasses import replace

    from advisor.errors import UsageError
    from advisor.soil_counsel.ground import BedTold, Ground, check_told

    if arguments.file is None and not arguments.bed:
        ground = Ground("Your soil", beds=(BedTold("the bed"),))
    else:
        ground = grounds.ground_told(arguments, knowledge)
    on = grounds.day_told(arguments.on, "--on")
    if arguments.check and len(ground.beds) != 1:
        raise UsageError(
            "of which bed are these checks?", hint="put them into the soil file, as [[check]] with bed = ..."
        )
    told = tuple(check_told(text, knowledge, "--check", ground.beds[0].name, on) for text in arguments.check)
    for check in told:
        if knowledge.guides[check.guide].of != "soil":
            raise UsageError(f"'{check.guide}' is a test of compost", hint="ask `heapwright ready`")
    if not (told or ground.checks or any(bed.facts for bed in ground.beds)):
        raise UsageError(
            "no check was told", hint="--guide lists them; then say --check 'spade scores=2 4 depths=10 15 cm'"
        )
    return replace(ground, checks=(*ground.checks, *told))
