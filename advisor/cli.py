"""The command line. Nothing is imported here that a command does not need: `--version` answers at once."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, NoReturn, Protocol, cast

from advisor import __version__

if TYPE_CHECKING:
    import argparse

#: Every command with its module in advisor/commands; the summaries stand here so that --help need not load them.
COMMANDS = {
    "plan": ("plan", "a method, a recipe and a plan for a household"),
    "blend": ("blend", "the C:N, moisture, air and weight of exactly this mix, and what to add to it"),
    "paces": ("paces", "the quick heap beside the slow one: mix, work, wait, and which suits"),
    "year": ("year", "plan a year: what to put by, what to add each week, which batch starts when"),
    "bedding": ("bedding", "deep bedding for animals: how much, how deep, and the rows it makes"),
    "kitchen": ("kitchen", "what a household's scraps come to in a year: buckets, worms, comfrey, pots"),
    "substitutes": ("substitutes", "what stands in for manure that is not to be had"),
    "additions": ("additions", "herbs, starters and minerals for a heap: how much, and how good the evidence is"),
    "diagnose": ("diagnose", "what is wrong with a heap, a worm bin or a bucket, and the cure"),
    "ready": ("ready", "whether compost is ready, for what, and what its heat was"),
    "spread": ("spread", "how much finished compost goes where, what it brings, and what to gather for it"),
    "seasons": ("seasons", "rebuilding a spent soil, as a calendar of sowing, cutting, compost and crops"),
    "soil": ("soil", "checks of the soil: how to do them, what they show, and whether it is getting better"),
    "talk": ("talk", "talk it through, in the app or on plain lines"),
    "households": ("households", "the households that come with the program"),
    "materials": ("materials", "what can be composted: its figures, and where it may go"),
    "rules": ("rules", "the rules, or one of them with its reason and source"),
    "check": ("check", "check the rule base"),
}


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command and return its exit code.

    0: done. 1: a fault. 2: the command line or a household cannot be understood. 3: the rule base is not in order.
    4: the rule engine is missing or broke. 130: interrupted.
    """
    given = list(sys.argv[1:] if argv is None else argv)
    if given in (["--version"], ["-V"]):
        print(f"heapwright {__version__}")
        return 0
    from advisor.errors import HeapwrightError

    _never_fail_on_a_sign()
    try:
        return _run(given)
    except HeapwrightError as error:
        print(f"heapwright: {error}", file=sys.stderr)
        return error.exit_code
    except KeyboardInterrupt:
        print(file=sys.stderr)
        return 130
    except BrokenPipeError:
        # The reader of our pipe has gone; give the interpreter nothing more to flush into it.
        import os

        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0


def _never_fail_on_a_sign() -> None:
    """Where the output has no sign for a line of a drawing or for ½, it gets a question mark instead of an error."""
    from io import TextIOWrapper

    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")


def _run(given: list[str]) -> int:
    import argparse

    class Parser(argparse.ArgumentParser):
        def error(self, message: str) -> NoReturn:
            from advisor.errors import UsageError

            raise UsageError(message, hint=f"see {self.prog} --help")

    parser = Parser(
        prog="heapwright",
        description="An advisor for home composting. Without a command it opens the conversation.",
        epilog="heapwright COMMAND --help tells more of each.",
    )
    parser.add_argument("-V", "--version", action="version", version=f"heapwright {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", parser_class=Parser)
    chosen = _chosen(given)
    for name, (_, summary) in COMMANDS.items():
        sub = commands.add_parser(name, help=summary, description=f"{summary[:1].upper()}{summary[1:]}.")
        if name == chosen:
            _module(name).add_arguments(sub)
    if chosen is None and given and not given[0].startswith("-"):
        _no_such_command(given[0])
    arguments = parser.parse_args(given or ["talk"])
    return int(_module(arguments.command).run(arguments))


def _chosen(given: list[str]) -> str | None:
    if not given:
        return "talk"
    return given[0] if given[0] in COMMANDS else None


def _module(name: str) -> _Command:
    from importlib import import_module

    return cast("_Command", import_module(f"advisor.commands.{COMMANDS[name][0]}"))


class _Command(Protocol):
    """What a module of advisor/commands offers."""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None: ...

    def run(self, arguments: argparse.Namespace) -> int: ...


def _no_such_command(word: str) -> NoReturn:
    from difflib import get_close_matches

    from advisor.errors import UsageError

    close = get_close_matches(word, COMMANDS, n=1)
    hint = f"did you mean {close[0]}?" if close else f"there are {', '.join(COMMANDS)}"
    raise UsageError(f"no command '{word}'", hint=hint)


if __name__ == "__main__":
    sys.exit(main())
