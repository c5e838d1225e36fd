"""`heapwright seasons`: a spent soil rebuilt in steps, as a calendar for these beds between these frosts."""

from __future__ import annotations

import argparse

from advisor.commands import grounds
from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_shown


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    grounds.add_beds(parser)
    parser.add_argument("--last-frost", metavar="DAY", help="last frost of spring, month and day: 04-20")
    parser.add_argument(
        "--first-frost", metavar="DAY", help="first frost of autumn; earlier in the calendar in the south"
    )
    parser.add_argument("--frost-free", action="store_true", help="it never freezes: the year is begun at --from")
    parser.add_argument("--from", metavar="DATE", dest="starts", help="plan from this day: 2026-03-01")
    parser.add_argument("--years", type=int, default=5, help="seasons to plan, 1 to 10 (5)")
    add_shown(parser, dated=True)


def run(arguments: argparse.Namespace) -> int:
    """Print the calendar."""
    from advisor.soil_counsel.shapes import SeasonsAnswer

    if arguments.schema:
        return show_schema(SeasonsAnswer)
    from dataclasses import replace
    from datetime import date

    from advisor.counsel.in_use import in_use
    from advisor.errors import UsageError
    from advisor.soil_counsel.ground import month_day
    from advisor.soil_counsel.judging import shipped_soil_engine
    from advisor.soil_counsel.seasons import seasons_answer

    knowledge = in_use()
    ground = grounds.ground_told(arguments, knowledge)
    told = grounds.day_told(arguments.starts, "--from", knowledge, ahead=True)
    if arguments.frost_free and (arguments.last_frost or arguments.first_frost):
        raise UsageError(
            "there are frosts, or there are none", hint="leave out --frost-free, or the days of the frosts"
        )
    frosts = [
        month_day(said, option) if said else known
        for said, option, known in (
            (arguments.last_frost, "--last-frost", ground.last_frost),
            (arguments.first_frost, "--first-frost", ground.first_frost),
        )
    ]
    if None not in frosts and frosts[0] == frosts[1]:
        raise UsageError(
            "the last and the first frost are two days", hint="as in --last-frost 04-20 --first-frost 10-10"
        )
    ground = replace(
        ground,
        last_frost=None if arguments.frost_free else frosts[0],
        first_frost=None if arguments.frost_free else frosts[1],
        frost_free=arguments.frost_free or (ground.frost_free and not any(frosts)),
        starts=told or ground.starts or date.today(),
    )
    answer = seasons_answer(ground, knowledge, shipped_soil_engine(), number=arguments.years, units=arguments.units)
    return show(answer, arguments)
