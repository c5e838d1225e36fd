"""The command line. Nothing is imported here that a command does not need: `--version` answers at once."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from contextlib import suppress
from typing import TYPE_CHECKING, NoReturn, Protocol, TextIO, cast

from advisor import __version__

if TYPE_CHECKING:
    import argparse

    from advisor.safe_text import SafeStream

#: Every command with its module in advisor/commands; the summaries stand here so that --help need not load them.
COMMANDS = {
    "plan": ("plan", "a method, a recipe and a plan for a household"),
    "blend": ("blend", "the C:N, moisture, air and weight of exactly this mix, and what to add to it"),
    "paces": ("paces", "the quick heap beside the slow one: mix, work, wait, and which suits"),
    "heat": ("heat", "how hot a heap may get, when and how long, and what its readings mean"),
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
    "hear": ("hear", "how a line that somebody says is read, and which words made it so"),
    "talk": ("talk", "talk it through, in the app or on plain lines"),
    "serve": ("serve", "the same talk in a browser, on this machine alone"),
    "households": ("households", "the households that come with the program"),
    "materials": ("materials", "what can be composted: its figures, and where it may go"),
    "rules": ("rules", "the rules, or one of them with its reason and source"),
    "check": ("check", "check the rule base"),
}


#: What the shell shows of a program whose reader went away: 128 and the number of SIGPIPE (POSIX).
READER_GONE = 141


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command and return its exit code.

    0: done. 1: a fault, or output that was lost. 2: the command line or a household cannot be understood. 3: the rule
    base is not in order. 4: the rule engine is missing or broke. 130: interrupted. 141: nobody reads the output.
    """
    given = list(sys.argv[1:] if argv is None else argv)
    if sys.stdout is None:  # closed before we began; whatever we would print were lost
        _tell("heapwright: there is no standard output to write to")
        return 1
    from advisor.safe_text import SafeStream

    _let_signs_through()
    stream, out = sys.stdout, SafeStream(sys.stdout)
    sys.stdout = cast("TextIO", out)
    try:
        code = _code_of(given, out)
        if out.failed is None:
            with suppress(OSError):
                out.flush()
    finally:
        sys.stdout = stream
    return code if out.failed is None else _lost(stream, out.failed)


def _code_of(given: list[str], out: SafeStream) -> int:
    """Run a command; the exit code, everything foreseen being told in one line."""
    from advisor.errors import HeapwrightError

    try:
        if given in (["--version"], ["-V"]):
            print(f"heapwright {__version__}")
            return 0
        return _run(given)
    except HeapwrightError as error:
        _tell(f"heapwright: {error}")
        return error.exit_code
    except KeyboardInterrupt:
        _tell("")
        return 130
    except SystemExit as done:  # how --help ends
        return done.code if isinstance(done.code, int) else 0
    except OSError as error:
        if error is not out.failed:
            _tell(f"heapwright: {error.strerror or error}")
        return 1


def _lost(stream: TextIO, error: OSError) -> int:
    """Tell that output was lost, unless its reader closed the pipe, and give the interpreter nothing more to flush."""
    import os

    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
    if isinstance(error, BrokenPipeError):
        return READER_GONE
    _tell(f"heapwright: the output is not whole: {error.strerror or error}")
    return 1


def _tell(line: str) -> None:
    """A line on the standard error, if there is one."""
    from advisor.safe_text import safe_text

    if sys.stderr is not None:
        with suppress(OSError, ValueError):
            print(safe_text(line), file=sys.stderr, flush=True)


def _let_signs_through() -> None:
    """Where an output has no sign for a line of a drawing or for ½, it gets a question mark instead of an error.

    Input that claims to be ASCII is read as UTF-8, which has the signs of ASCII at the same places: nobody who types
    ½ means an error. What is not even that is refused where it is read, instead of losing the ½ of "½ bucket".
    """
    from codecs import lookup
    from io import TextIOWrapper

    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
    if isinstance(sys.stdin, TextIOWrapper):
        plain = lookup(sys.stdin.encoding).name == "ascii"
        sys.stdin.reconfigure(encoding="utf-8" if plain else sys.stdin.encoding, errors="strict")


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
