"""`heapwright blend`: what exactly this mix comes to, and how much of what brings it to a goal."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_own, add_shown, household_named, own_figures, own_sizes

if TYPE_CHECKING:
    from advisor.counsel.own_mix_shapes import Towards
    from advisor.knowledge.base import Knowledge


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("file", nargs="?", help="a household whose whole stock is taken as the mix")
    parser.add_argument("--have", metavar="LIST", help="the mix: '3 buckets grass clippings, 1 sack straw'")
    parser.add_argument("--parts", metavar="LIST", help="the mix in parts: '3 parts grass, 1 part sawdust'")
    parser.add_argument("--by", choices=("volume", "weight"), default="volume", help="what the parts are (volume)")
    parser.add_argument("--cn", type=float, metavar="RATIO", help="a C:N to come to (30 where it matters)")
    parser.add_argument("--moisture", type=float, metavar="PERCENT", help="a moisture to come to (60)")
    parser.add_argument("--add", metavar="NAMES", help="what to add for that: 'sawdust' or 'straw, dry leaves'")
    parser.add_argument("--fill", metavar="SIZE", help="a container to fill with the mix: '300 L'")
    parser.add_argument("--measure", metavar="NAME=SIZE", action="append", default=[], help="own sizes: 'bucket=12 L'")
    add_own(parser)
    sample = parser.add_argument_group("one sample, instead of a mix")
    sample.add_argument("--dried", metavar="WET,DRY,DISH", help="grams before and after drying, and of the dish")
    sample.add_argument("--weighed", metavar="FULL,EMPTY,LITRES", help="kg of a bucket full and empty, and its litres")
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print the mix, or the sums of a sample."""
    from advisor.counsel.own_mix_shapes import OwnMix

    if arguments.schema:
        return show_schema(OwnMix)
    if arguments.dried or arguments.weighed:
        return _sample(arguments)
    return _mix(arguments)


def _mix(arguments: argparse.Namespace) -> int:
    from advisor.counsel.own_mix import Goals, Ingredient, from_amounts, from_parts
    from advisor.counsel.own_mix_lines import own_mix
    from advisor.errors import UsageError
    from advisor.household.dimensions import read_volume
    from advisor.household.files import household_from_options
    from advisor.household.parts import parts_told
    from advisor.knowledge.load import shipped

    if sum(told is not None for told in (arguments.file, arguments.have, arguments.parts)) != 1:
        raise UsageError(
            "say one mix", hint="as --have '3 buckets grass clippings, 1 sack straw', as --parts, or as a household"
        )
    knowledge = shipped()
    household = household_named(arguments.file, knowledge) or household_from_options(
        arguments.have or "nothing", knowledge, measures=own_sizes(arguments), own=own_figures(arguments)
    )
    ingredients: tuple[Ingredient, ...]
    if arguments.parts is not None:
        told = parts_told(arguments.parts, knowledge)
        ingredients = from_parts(told, household, knowledge, by_weight=arguments.by == "weight")
    else:
        ingredients = from_amounts(household, knowledge)
    found = own_mix(
        ingredients,
        household,
        knowledge,
        goals=Goals.usual(
            knowledge,
            None if arguments.cn is None else _between(arguments.cn, 5.0, 200.0, "--cn"),
            None if arguments.moisture is None else _between(arguments.moisture, 5.0, 95.0, "--moisture"),
        ),
        towards=_towards(arguments),
        add=_named(arguments.add, knowledge),
        fill_l=None if arguments.fill is None else _size(read_volume(arguments.fill, "--fill")),
        in_parts=arguments.parts is not None,
        units=arguments.units,
    )
    return show(found, arguments)


def _towards(arguments: argparse.Namespace) -> tuple[Towards, ...]:
    """The goals that were asked for; both where only something to add was named."""
    asked: list[Towards] = []
    if arguments.cn is not None:
        asked.append("carbon-nitrogen")
    if arguments.moisture is not None:
        asked.append("moisture")
    return tuple(asked) or (("carbon-nitrogen", "moisture") if arguments.add else ())


def _named(text: str | None, knowledge: Knowledge) -> tuple[str, ...]:
    from advisor.errors import UsageError
    from advisor.household.amounts import split_list
    from advisor.household.names import find_material

    found = []
    for name in split_list(text or "", knowledge):
        match = find_material(name, knowledge)
        if not match.found:
            hint = f"did you mean {match.candidates[0]}?" if match.candidates else "see heapwright materials"
            raise UsageError(f"no single material is called '{name}'", hint=hint)
        found.append(match.id)
    return tuple(found)


def _between(value: float, low: float, high: float, option: str) -> float:
    from advisor.errors import UsageError

    if not low <= value <= high:
        raise UsageError(f"{option} {value:g} cannot be", hint=f"it lies between {low:g} and {high:g}")
    return value


def _size(litres: float) -> float:
    return _between(litres, 1.0, 1_000_000.0, "--fill")


def _sample(arguments: argparse.Namespace) -> int:
    from advisor.counsel.own_sample import sample_sum

    dried = None if arguments.dried is None else _three(arguments.dried, "--dried", "14,6.3,4", last=0.0)
    weighed = None if arguments.weighed is None else _three(arguments.weighed, "--weighed", "10,1,20")
    return show(sample_sum(dried_g=dried, weighed=weighed, units=arguments.units), arguments)


def _three(text: str, option: str, example: str, last: float | None = None) -> tuple[float, float, float]:
    """Three figures parted by commas; the last may be left out where it has a usual value."""
    from advisor.errors import UsageError

    try:
        figures = [float(word) for word in text.split(",")]
    except ValueError:
        figures = []
    if len(figures) == 2 and last is not None:
        figures.append(last)
    if len(figures) != 3:
        raise UsageError(f"{option} takes three figures, not '{text}'", hint=f"as in {option} {example}")
    return figures[0], figures[1], figures[2]
