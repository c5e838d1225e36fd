"""`heapwright ready`: whether compost is done, for what, and what to do meanwhile."""

from __future__ import annotations

import argparse

from advisor.commands import grounds
from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_shown


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument(
        "--method", help="how it was made: open-heap, bin, tumbler, leaf-heap, worm-bin, fermented-bucket ..."
    )
    parser.add_argument("--smell", help="earthy, ammonia, sour, rotten")
    parser.add_argument("--looks", help="crumbly, coarse, recognised")
    parser.add_argument("--reheats", help="whether it warms again when turned: yes, no")
    parser.add_argument("--weeks", metavar="TIME", help="since it was last hot, shut or fed: 6, '2 months'")
    parser.add_argument("--holds", metavar="WORDS", default="", help="manure, suspect-herbicide, diseased; with commas")
    parser.add_argument(
        "--check",
        metavar="CHECK",
        action="append",
        default=[],
        help="a test: 'radish sown=15 grown=12', 'bag smell=earthy', 'heat days=1 2 3 degrees=58 60 57 turned=2'",
    )
    parser.add_argument("--manure", metavar="DATE", help="when raw manure was worked in, for the first harvest")
    parser.add_argument("--guide", metavar="NAME", nargs="*", help="how to do a test; without a name, which there are")
    add_shown(parser, dated=True)


def run(arguments: argparse.Namespace) -> int:
    """Print what it is ready for, or a guide."""
    from advisor.soil_counsel.shapes import ReadyAnswer

    if arguments.schema:
        return show_schema(ReadyAnswer)
    if arguments.guide is not None:
        return grounds.show_guide(arguments.guide, "compost", arguments.units)
    from advisor.commands.told import figure_told
    from advisor.counsel.in_use import in_use
    from advisor.errors import UsageError
    from advisor.soil_counsel.ground import check_told
    from advisor.soil_counsel.judging import shipped_soil_engine
    from advisor.soil_counsel.ready import TOLD, Finished, ready_answer, word_told

    knowledge = in_use()
    given = {name: getattr(arguments, name) for name in TOLD}
    words = {name: word_told(name, word, knowledge, f"--{name}") for name, word in given.items() if word is not None}
    held = [word.strip() for word in arguments.holds.split(",") if word.strip()]
    holds = tuple(word_told("holds", word, knowledge, "--holds") for word in held)
    checks = tuple(check_told(text, knowledge, "--check", "", None, arguments.units) for text in arguments.check)
    for check in checks:
        if knowledge.guides[check.guide].of != "compost":
            raise UsageError(f"'{check.guide}' is a check of the soil", hint="ask `heapwright soil`")
    manure = grounds.day_told(arguments.manure, "--manure", knowledge)
    weeks = figure_told(arguments.weeks, "--weeks", "time", "weeks") if arguments.weeks is not None else None
    if not (words or holds or checks or manure or weeks is not None):
        raise UsageError("say what it is like", hint="for instance --smell earthy --looks crumbly --reheats no")
    told = Finished(words, weeks, holds, checks, manure)
    return show(ready_answer(told, knowledge, shipped_soil_engine(), units=arguments.units), arguments)
