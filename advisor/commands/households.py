"""`heapwright households`: the households that come with the program."""

from __future__ import annotations

import argparse
import textwrap
from pathlib import Path

from advisor.commands.terminal import width


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("name", nargs="?", help="print the file of one of them, to start your own from")


def run(arguments: argparse.Namespace) -> int:
    """Print a line for each household, or the file of one."""
    from advisor.household.files import read_household
    from advisor.knowledge.load import shipped
    from advisor.places import scenarios_folder

    folder = scenarios_folder()
    if arguments.name:
        print(shipped_path(arguments.name, folder).read_text(encoding="utf-8"), end="")
        return 0
    knowledge = shipped()
    for path in sorted(folder.glob("*.toml")):
        household = read_household(path, knowledge)
        line = f"{path.stem}: {household.name}. {household.about[:1].upper()}{household.about[1:]}"
        print(textwrap.shorten(line, width(), placeholder=" …"))
    return 0


def shipped_path(name: str, folder: Path) -> Path:
    """The file of a shipped household. Raises UsageError with the nearest name."""
    from difflib import get_close_matches

    from advisor.errors import UsageError

    path = folder / f"{name}.toml"
    if path.is_file():
        return path
    names = sorted(each.stem for each in folder.glob("*.toml"))
    close = get_close_matches(name, names, n=1)
    hint = f"did you mean {close[0]}?" if close else "`heapwright households` lists those that come with the program"
    raise UsageError(f"no file and no household '{name}'", hint=hint)
