"""`heapwright soil`: checks of the soil, step by step: read, classed, set beside earlier ones, turned into advice."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from advisor.commands import grounds
from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_shown

if TYPE_CHECKING:
    from advisor.knowledge.base import Knowledge
    from advisor.soil_counsel.ground import Ground


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
    parser.add_argument("--keep", action="store_true", help="keep those checks in your diary, with their bed")
    parser.add_argument("--guide", metavar="NAME", nargs="*", help="how to do a check; without a name, which there are")
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print what the checks show, or a guide."""
    from advisor.soil_counsel.shapes import SoilAnswer

    if arguments.schema:
        return show_schema(SoilAnswer)
    if arguments.guide is not None:
        return grounds.show_guide(arguments.guide, "soil", arguments.units)
    from advisor.counsel.in_use import in_use
    from advisor.soil_counsel.judging import shipped_soil_engine
    from advisor.soil_counsel.soil import soil_answer

    knowledge = in_use()
    ground = _ground(arguments, knowledge)
    answer = soil_answer(ground, knowledge, shipped_soil_engine(), units=arguments.units)
    if arguments.keep:
        _keep(arguments, ground, knowledge)
    return show(answer, arguments)


def _keep(arguments: argparse.Namespace, ground: Ground, knowledge: Knowledge) -> None:
    """Keep the checks of the options, which have been read and judged by now."""
    import sys
    from dataclasses import replace
    from datetime import date

    from advisor.diary.store import Diary
    from advisor.soil_counsel.ground import BedTold
    from advisor.soil_counsel.inputs import read_check_text

    diary = Diary(knowledge)
    bed = ground.beds[0]
    if bed != BedTold(bed.name):  # a bare name does not wipe out what is known of the bed
        diary.keep_bed(bed)
    for text, check in zip(arguments.check, ground.checks[-len(arguments.check) :], strict=True):
        made = check if check.on is not None else replace(check, on=date.today())
        diary.keep_check(made, read_check_text(text, knowledge.guides, "--check", arguments.units)[1])
    print(f"Kept in {diary.path}.", file=sys.stderr)


def _ground(arguments: argparse.Namespace, knowledge: Knowledge) -> Ground:
    from dataclasses import replace

    from advisor.errors import UsageError
    from advisor.soil_counsel.ground import BedTold, Ground, check_told

    if arguments.keep and (arguments.file is not None or not arguments.bed or not arguments.check):
        raise UsageError(
            "--keep keeps a --check of a --bed", hint="for instance --bed plot --check 'hole hours=5' --keep"
        )
    if arguments.file is None and not arguments.bed and not arguments.diary:
        ground = Ground("Your soil", beds=(BedTold("the bed"),))
    else:
        ground = grounds.ground_told(arguments, knowledge)
    on = grounds.day_told(arguments.on, "--on", knowledge)
    if arguments.check and len(ground.beds) != 1:
        raise UsageError(
            "of which bed are these checks?", hint="put them into the soil file, as [[check]] with bed = ..."
        )
    bed, units = ground.beds[0].name if ground.beds else "", arguments.units
    told = tuple(check_told(text, knowledge, "--check", bed, on, units) for text in arguments.check)
    for check in told:
        if knowledge.guides[check.guide].of != "soil":
            raise UsageError(f"'{check.guide}' is a test of compost", hint="ask `heapwright ready`")
    if not (told or ground.checks or any(bed.facts for bed in ground.beds)):
        raise UsageError(
            "no check was told", hint="--guide lists them; then say --check 'spade scores=2 4 depths=10 15 cm'"
        )
    return replace(ground, checks=(*ground.checks, *told))
