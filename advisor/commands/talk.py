"""`heapwright talk`: the conversation, in the app or on plain lines."""

from __future__ import annotations

import argparse
import os
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
    household = None
    if arguments.household is not None:
        from advisor.commands.told import household_named
        from advisor.counsel.in_use import in_use

        household = household_named(arguments.household, in_use())
    if sys.stdin is None and script in (None, "-"):
        raise UsageError("there is no standard input to hear from", hint="heapwright talk --plain FILE")
    if arguments.plain or not _has_screen():
        return _on_lines(script, household, units)
    from advisor.screens.app import run as run_app

    return run_app(household=household, units=units)


def _has_screen() -> bool:
    """Whether the app can be shown: on a terminal, or to whoever drives it from outside (`heapwright serve`)."""
    return (sys.stdin.isatty() and sys.stdout.isatty()) or "TEXTUAL_DRIVER" in os.environ


def _on_lines(script: str | None, household: Household | None, units: Units) -> int:
    from advisor.commands.terminal import colour, width
    from advisor.counsel.consult import shipped_engine
    from advisor.counsel.in_use import in_use
    from advisor.diary.talks import TalkBook
    from advisor.talk.plain import run as run_plain
    from advisor.talk.plain import typed
    from advisor.talk.session import Talk
    from advisor.text_files import read_text

    lines = typed() if script in (None, "-") else read_text(Path(str(script)), "list of lines to say").splitlines()
    by_hand = script in (None, "-") and sys.stdin.isatty()
    # a script can be run again; what a person types cannot
    book = TalkBook() if by_hand else None
    talk = Talk(in_use(), shipped_engine(), units=units, household=household, book=book)
    return run_plain(talk, lines, sys.stdout, width(), colour=colour(), echo=not by_hand)
