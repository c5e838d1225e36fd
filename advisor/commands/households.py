"""`heapwright households`: the households and the grounds that come with the program."""

from __future__ import annotations

import argparse
import textwrap
from pathlib import Path

from advisor.commands.terminal import width


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("name", nargs="?", help="print the file of one of them, to start your own from")


def run(arguments: argparse.Namespace) -> int:
    """Print a line for each household and each ground, or the file of one."""
    from advisor.household.files import read_household
    from advisor.knowledge.load import shipped
    from advisor.places import scenarios_folder
    from advisor.soil_counsel.ground import read_ground

    folder = scenarios_folder()
    if arguments.name:
        print(_any_path(arguments.name, folder).read_text(encoding="utf-8"), end="")
        return 0
    knowledge = shipped()
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


def _any_path(name: str, folder: Path) -> Path:
    """The file of a shipped household or ground. Raises UsageError with the nearest name."""
    ground = folder / "soil" / f"{name}.toml"
    known = [path.stem for path in folder.glob("*.toml")]
    if name not in known and not ground.is_file():
        from difflib import get_close_matches

        close = get_close_matches(name, [path.stem for path in (folder / "soil").glob("*.toml")], n=1)
        if close and not get_close_matches(name, known, n=1):
            from advisor.errors import UsageError

            raise UsageError(f"no file and no household '{name}'", hint=f"did you mean {close[0]}?")
    return ground if ground.is_file() and name not in known else shipped_path(name, folder)


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
