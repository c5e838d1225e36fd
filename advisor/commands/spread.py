"""`heapwright spread`: how much compost on which bed, what it brings, and what has to be gathered for it."""

from __future__ import annotations

import argparse

from advisor.commands import grounds
from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_shown


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    grounds.add_beds(parser)
    parser.add_argument("--have", metavar="VOLUME", help="finished compost there is: '400 L', '6 barrows'")
    parser.add_argument("--method", help="how it is made, for how much it shrinks; open-heap if nothing is said")
    parser.add_argument("--heap", metavar="VOLUME", help="what one heap holds when it is built: '1 m3'")
    parser.add_argument("--lot", metavar="AREA", help="house and garden together, for towns that limit heaps by it")
    parser.add_argument("--screened", action="store_true", help="only what goes through a screen is spread")
    parser.add_argument("--pots", metavar="VOLUME", help="potting mix to make as well")
    parser.add_argument("--seed-mix", metavar="VOLUME", help="mix for seed trays to make as well")
    parser.add_argument("--fill", metavar="VOLUME", help="mix to fill framed beds, to make as well")
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print the dressings."""
    from advisor.soil_counsel.shapes import SpreadAnswer

    if arguments.schema:
        return show_schema(SpreadAnswer)
    from dataclasses import replace

    from advisor.commands.told import volume_told
    from advisor.counsel.in_use import in_use
    from advisor.errors import UsageError
    from advisor.knowledge.hints import hint
    from advisor.soil_counsel.ground import area_m2
    from advisor.soil_counsel.judging import shipped_soil_engine
    from advisor.soil_counsel.spread import spread_answer

    knowledge = in_use()
    ground = grounds.ground_told(arguments, knowledge)
    if arguments.method is not None and arguments.method not in knowledge.methods:
        raise UsageError(f"there is no method '{arguments.method}'", hint=hint(arguments.method, knowledge.methods))
    ground = replace(
        ground,
        method=arguments.method or ground.method,
        heap_litres=volume_told(arguments.heap, "--heap", knowledge) if arguments.heap else ground.heap_litres,
        lot_m2=area_m2(arguments.lot, "--lot") if arguments.lot else ground.lot_m2,
        finished_litres=volume_told(arguments.have, "--have", knowledge) if arguments.have else ground.finished_litres,
    )
    if ground.heap_litres is not None and not ground.heap_litres > 0:
        raise UsageError("a heap holds something", hint="write it as in '1 m3'")
    answer = spread_answer(
        ground,
        knowledge,
        shipped_soil_engine(),
        units=arguments.units,
        screened=arguments.screened,
        pots_litres=volume_told(arguments.pots, "--pots", knowledge) if arguments.pots else 0.0,
        seed_mix_litres=volume_told(arguments.seed_mix, "--seed-mix", knowledge) if arguments.seed_mix else 0.0,
        raised_mix_litres=volume_told(arguments.fill, "--fill", knowledge) if arguments.fill else 0.0,
    )
    return show(answer, arguments)
