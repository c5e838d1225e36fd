"""`heapwright households`: the households and the grounds that come with the program."""

from __future__ import annotations

import argparse
import textwrap

from advisor.commands.terminal import width


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("name", nargs="?", help="print the file of one of them, to start your own from")


def run(arguments: argparse.Namespace) -> int:
    """Print a line for each household and each ground, or the file of one."""
    from difflib import get_close_matches

    from advisor.counsel.in_use import in_use
    from advisor.errors import UsageError
    from advisor.household.files import read_household
    from advisor.places import scenarios_folder
    from advisor.soil_counsel.ground import read_ground
    from advisor.text_files import read_text

    folder = scenarios_folder()
    if arguments.name:
        files = {path.stem: path for each in (folder / "soil", folder) for path in sorted(each.glob("*.toml"))}
        if arguments.name not in files:
            close = get_close_matches(arguments.name, files, n=1)
            hint = f"did you mean {close[0]}?" if close else "`heapwright households` lists them"
            raise UsageError(f"no household '{arguments.name}' comes with the program", hint=hint)
        print(read_text(files[arguments.name]), end="")
        return 0
    knowledge = in_use()
    for path in sorted(folder.glob("*.toml")):
        household = read_household(path, knowledge)
        _print_line(path.stem, household.name, household.about)
    heading = "Beds and their soil, for `heapwright soil NAME`, `spread NAME` and `seasons NAME`:"
    print("", *textwrap.wrap(heading, width()), sep="\n")
    for path in sorted((folder / "soil").glob("*.toml")):
        ground = read_ground(path, knowledge)
        _print_line(path.stem, ground.name, ground.about)
    return 0


def _print_line(stem: str, name: str, about: str) -> None:
    print(textwrap.shorten(f"{stem}: {name}. {about[:1].upper()}{about[1:]}", width(), placeholder=" …"))
