"""`heapwright talk`: the conversation, in the app or on plain lines."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from advisor.household.shapes import Household
    from advisor.units import Units


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("script", nargs="?", metavar="FILE", help="with --plain: lines to say; - for standard input")
    parser.add_argument("--plain", action="store_true", help="on plain lines, for pipes, scripts and screen readers")
    parser.add_argument("--household", metavar="FILE", help="begin with a household file, or one of those shipped")
    parser.add_argument("--units", choices=("metric", "us"), default="metric", help="metric (default) or us")


def run(arguments: argparse.Namespace) -> int:
    """Talk: on plain lines if so asked, or if this is no terminal; else in the app."""
    from advisor.errors import UsageError

    script: str | None = arguments.script
    units: Units = arguments.units
    if script is not None and not arguments.plain:
        raise UsageError("lines to say are for --plain", hint=f"heapwright talk --plain {script}")
    household = _household(arguments.household)
    if arguments.plain or not (sys.stdin.isatty() and sys.stdout.isatty()):
        return _on_lines(script, household, units)
    from advisor.screens.app import run as run_app

    return run_app(household=household, units=units)


def _on_lines(script: str | None, household: Household | None, units: Units) -> int:
    from advisor.commands.terminal import colour, width
    from advisor.counsel.consult import shipped_engine
    from advisor.diary.talks import TalkBook
    from advisor.knowledge.load import shipped
    from advisor.talk.plain import run as run_plain
    from advisor.talk.plain import typed
    from advisor.talk.session import Talk

    lines = typed() if script in (None, "-") else _script(Path(str(script)))
    by_hand = script in (None, "-") and sys.stdin.isatty()
    # a script can be run again; what a person types cannot
    book = TalkBook() if by_hand else None
    talk = Talk(shipped(), shipped_engine(), units=units, household=household, book=book)
    return run_plain(talk, lines, sys.stdout, width(), colour=colour(), echo=not by_hand)


def _script(path: Path) -> list[str]:
    from advisor.errors import UsageError

    try:
        return path.read_text(encoding="utf-8-sig").splitlines()
    except FileNotFoundError:
        raise UsageError("there is no such file", where=str(path)) from None
    except UnicodeDecodeError:
        raise UsageError("not a text file", where=str(path)) from None
    except OSError as error:
        raise UsageError(f"cannot be read: {error.strerror or 'no reason given'}", where=str(path)) from None


def _household(name: str | None) -> Household | None:
    if name is None:
        return None
    from advisor.commands.households import shipped_path
    from advisor.household.files import read_household
    from advisor.knowledge.load import shipped
    from advisor.places import scenarios_folder

    path = Path(name)
    if not path.exists() and not path.suffix and path.parent == Path():
        path = shipped_path(name, scenarios_folder())
    return read_household(path, shipped())
