"""What several commands are told in the same words: a household by file or name, a season, names of lines."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import argparse

    from advisor.counsel.plan import Line
    from advisor.household.shapes import Household
    from advisor.knowledge.base import Knowledge


def add_shown(parser: argparse.ArgumentParser) -> None:
    """How an answer is shown: --why, --json, --schema and --units."""
    parser.add_argument("--why", metavar="LINE", nargs="*", help="the reasons of the lines named, or of all")
    parser.add_argument("--json", action="store_true", help="the answer as JSON")
    parser.add_argument("--schema", action="store_true", help="the JSON Schema of that, and nothing else")
    parser.add_argument("--units", choices=("metric", "us"), default="metric", help="metric (default) or us")


def household_named(name: str | None, knowledge: Knowledge) -> Household | None:
    """The household of a file, or of a shipped one by its name; nothing if none was named."""
    if name is None:
        return None
    from advisor.household.files import read_household

    return read_household(household_path(name), knowledge)


def household_path(name: str) -> Path:
    """A file as it stands, or a shipped household by its name."""
    path = Path(name)
    if path.exists() or path.suffix or path.parent != Path():
        return path
    from advisor.commands.households import shipped_path
    from advisor.places import scenarios_folder

    return shipped_path(name, scenarios_folder())


def check_names(names: Sequence[str], lines: Sequence[Line]) -> None:
    """Refuse to explain lines that are not there. Raises UsageError with the nearest name."""
    from difflib import get_close_matches

    from advisor.errors import UsageError

    there = [line.id for line in lines]
    for name in names:
        if name not in there:
            close = get_close_matches(name, there, n=1, cutoff=0.5)
            hint = f"did you mean {close[0]}?" if close else f"there are {', '.join(there)}"
            raise UsageError(f"there is no line '{name}'", hint=hint)
