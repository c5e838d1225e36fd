"""What several commands are told in the same words: a household by file or name, a season, names of lines."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import argparse
    from pathlib import Path

    from advisor.counsel.plan import Line
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
    "tools": "none, spade, fork, barrow",
    "money": "what it may cost: none, little, some",
    "away": "nobody at home for weeks: often, seldom",
    "without": "what you will not have: worms, animals, none",
    "strength": "for lifting and forking: weak, usual",
    "sanitise": "weed seeds or disease to kill: yes, no",
    "animals": "hens, rabbits, goats, cow, horse, pigs, dog, cat, none",
}


#: So many names of lines are listed; more than that would be no help.
_FEW = 20

#: What a household may be told as, where none is named.
_FOR_INSTANCE = "3 sacks dry leaves, 1 bucket coffee grounds"


def add_household(parser: argparse.ArgumentParser) -> None:
    """A household: a file, or options that answer what a file would."""
    parser.add_argument("file", nargs="?", help="a household file, or the name of one that comes with the program")
    parser.add_argument("--have", metavar="LIST", help=f"what is on hand: '{_FOR_INSTANCE}'")
    told = parser.add_argument_group("what else is known (each may be left out)")
    for name, about in ANSWERS.items():
        told.add_argument(f"--{name.replace('_', '-')}", metavar="WORD", help=about, dest=name)
    add_own(told)
    told.add_argument("--start", metavar="DATE", default="", help="the day it is built: 2025-10-04")
    told.add_argument("--name", metavar="NAME", default="", help="what to call it, on paper and in a calendar")


def household_told(arguments: argparse.Namespace, knowledge: Knowledge, for_instance: str = "") -> Household:
    """The household of a file or of options. Raises UsageError if neither is given, or both."""
    from advisor.errors import UsageError
    from advisor.household.files import household_from_options, read_household

    told = {name: value for name in ANSWERS if (value := getattr(arguments, name)) is not None}
    if arguments.file is not None:
        if arguments.have or told or arguments.measure or arguments.own or arguments.start or arguments.name:
            raise UsageError("give a household file or options, not both", hint="copy the file and change it there")
        return read_household(household_path(arguments.file), knowledge)
    if arguments.have is None:
        raise UsageError("a household is needed", hint=f"name a file, or say --have '{for_instance or _FOR_INSTANCE}'")
    return household_from_options(
        arguments.have,
        knowledge,
        told=told,
        measures=own_sizes(arguments),
        own=own_figures(arguments),
        start=arguments.start,
        name=arguments.name.strip() or "your household",
    )


def add_own(parser: argparse._ActionsContainer) -> None:
    """A person's own sizes of measures, and figures of materials."""
    parser.add_argument("--measure", metavar="NAME=SIZE", action="append", default=[], help="own sizes: 'bucket=12 L'")
    parser.add_argument(
        "--own",
        metavar="NAME:FIGURES",
        action="append",
        default=[],
        help="own figures: 'grass clippings: moisture 70 %%, C:N 20, nitrogen 2.5 %%, density 250 kg/m3'",
    )


def own_sizes(arguments: argparse.Namespace) -> dict[str, str]:
    """The own sizes of measures, by name."""
    return dict(map(_own_size, arguments.measure))


def own_figures(arguments: argparse.Namespace) -> dict[str, str]:
    """The own figures of materials, by name. Raises UsageError if one has no name."""
    from advisor.errors import UsageError

    found = {}
    for text in arguments.own:
        name, colon, figures = text.partition(":")
        if not colon or not name.strip() or not figures.strip():
            raise UsageError(f"--own takes NAME:FIGURES, not '{text}'", hint="as in --own 'straw: moisture 15 %'")
        found[name.strip()] = figures
    return found


def _own_size(text: str) -> tuple[str, str]:
    from advisor.errors import UsageError

    name, sign, size = text.partition("=")
    if not sign or not name.strip() or not size.strip():
        raise UsageError(f"--measure takes NAME=SIZE, not '{text}'", hint="for instance --measure 'bucket=12 L'")
    return name.strip(), size.strip()


def add_shown(parser: argparse.ArgumentParser, *, dated: bool = False) -> None:
    """How an answer is shown: --why, --json, --schema and --units; and the files that it can be written to.

    Args:
        dated: whether it can hold dates for a calendar.
    """
    from advisor.commands.handed import add_handed

    parser.add_argument(
        "--why",
        metavar="LINE",
        nargs="*",
        help="the reasons of the lines named, or of all lines, with the names of lines in front",
    )
    parser.add_argument("--json", action="store_true", help="the answer as JSON")
    parser.add_argument("--schema", action="store_true", help="the JSON Schema of that, and nothing else")
    parser.add_argument("--units", choices=("metric", "us"), default="metric", help="metric (default) or us")
    add_handed(parser, dated=dated)


def household_named(name: str | None, knowledge: Knowledge) -> Household | None:
    """The household of a file, or of a shipped one by its name; nothing if none was named."""
    if name is None:
        return None
    from advisor.household.files import read_household

    return read_household(household_path(name), knowledge)


def household_path(name: str) -> Path:
    """A file as it stands, or a shipped household by its name. Raises HouseholdError with the nearest name."""
    from advisor.places import scenarios_folder
    from advisor.text_files import named_file

    shipped = {each.stem: each for each in sorted(scenarios_folder().glob("*.toml"))}
    listing = "`heapwright households` lists those that come with the program"
    return named_file(name, shipped, "household", listing)


def check_names(names: Sequence[str], lines: Sequence[Line]) -> None:
    """Refuse to explain lines that are not there. Raises UsageError with the nearest name."""
    from difflib import get_close_matches

    from advisor.errors import UsageError

    there = [line.id for line in lines]
    for name in names:
        if name not in there:
            close = get_close_matches(name, there, n=1, cutoff=0.5)
            listed = (
                f"there are {', '.join(there)}" if len(there) <= _FEW else "--why alone shows the names of all lines"
            )
            hint = f"did you mean {close[0]}?" if close else listed
            raise UsageError(f"there is no line '{name}'", hint=hint)
