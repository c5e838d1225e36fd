"""The parser of the command line, made of the table of services and of the other commands."""

from __future__ import annotations

import argparse
from functools import partial
from importlib import import_module
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any, NoReturn, Protocol, cast

from advisor import __version__
from advisor.services.table import COMMANDS

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

#: Commands that are no services, with their summaries. Those of the services stand in advisor/services/table.py.
OTHERS = {
    "log": "keep what was done to a heap or read off it, in your own words",
    "diary": "what was kept of each heap and bin, and putting it right",
    "today": "what is due now for every heap and bin of the diary, and why",
    "export": "the diary of heaps and bins as JSON, or its entries as CSV",
    "import": "take in a diary that was exported; what is there already is left out",
    "hear": "how a line that somebody says is read, and which words made it so",
    "talk": "talk it through, in the app or on plain lines",
    "serve": "the same talk in a browser, on this machine alone",
    "households": "the households that come with the program",
    "materials": "what can be composted: its figures, and where it may go",
    "rules": "the rules, or one of them with its reason and source",
    "check": "check the rule base",
    "completion": "completion of commands and options for bash, zsh or fish",
}
#: Commands that load no rules.
_WITHOUT_RULES = ("completion", "export", "import")
#: The module of a command, where it is not called as the command is.
_MODULES = {"export": "carry", "import": "carry"}


def summaries() -> dict[str, str]:
    """What every command is for, by its name."""
    return {**{name: service.purpose for name, service in COMMANDS.items()}, **OTHERS}


class _Parser(argparse.ArgumentParser):
    """Raises UsageError with the option, what is wrong, and the nearest right word."""

    def error(self, message: str) -> NoReturn:
        from advisor.errors import UsageError

        raise UsageError(message, hint=f"see {self.prog} --help")

    def refuse(self, words: Sequence[str]) -> NoReturn:
        """Words that no option takes."""
        from difflib import get_close_matches

        from advisor.errors import UsageError

        options = [option for action in self._actions for option in action.option_strings]
        near = get_close_matches(words[0].partition("=")[0], options, n=1) if words[0].startswith("-") else []
        nearest = f"did you mean {near[0]}?" if near else f"see {self.prog} --help"
        raise UsageError(f"'{words[0]}' is not understood here", hint=nearest)

    def _check_value(self, action: argparse.Action, value: object) -> None:
        if action.choices is not None and value not in action.choices:
            from advisor.errors import UsageError
            from advisor.knowledge.hints import hint

            nearest = hint(str(value), [str(each) for each in action.choices])
            raise UsageError(f"'{value}' is not one of its words", where=_called(action), hint=nearest)

    def _get_value(self, action: argparse.Action, arg_string: str) -> Any:
        if action.type not in (int, float):
            return super()._get_value(action, arg_string)
        try:
            return action.type(arg_string)
        except ValueError:
            from advisor.errors import UsageError

            what = "a whole number" if action.type is int else "a number"
            raise UsageError(f"'{arg_string}' is not {what}", where=_called(action)) from None


def _called(action: argparse.Action) -> str:
    """An option as it is typed, or the name of a word without one."""
    return action.option_strings[-1] if action.option_strings else action.dest


def parser(*chosen: str) -> _Parser:
    """The parser of the command line, with the options of some commands: each loads what it needs for them."""
    return _parser(summaries(), chosen)


def _parser(offered: Iterable[str], chosen: Sequence[str]) -> _Parser:
    """A parser that knows some commands, and the options of some of these."""
    whole = _Parser(
        prog="heapwright",
        description="An advisor for home composting. Without a command it opens the conversation.",
        epilog="heapwright COMMAND --help tells more of each.",
    )
    whole.add_argument("-V", "--version", action="version", version=f"heapwright {__version__}")
    commands = whole.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)
    for name in offered:
        summary = summaries()[name]
        sub = commands.add_parser(name, help=summary, description=f"{summary[:1].upper()}{summary[1:]}.")
        if name in chosen:
            command(name).add_arguments(sub)
            if name not in _WITHOUT_RULES:
                about = "a folder of local rules, laid over the shipped ones (usual: local/ in the data folder)"
                sub.add_argument("--local", metavar="DIR", help=about)
            if name in COMMANDS and COMMANDS[name].example:
                example = f"For instance: heapwright {name} {COMMANDS[name].example}"
                sub.epilog = f"{sub.epilog} {example}" if sub.epilog else example
    return whole


def read_line(given: Sequence[str], chosen: str) -> argparse.Namespace:
    """The command line as it was typed, of the command `chosen`. Raises UsageError."""
    whole = _parser([chosen] if chosen in summaries() else summaries(), [chosen])  # each takes a while to set up
    arguments, left = whole.parse_known_args(given)
    if left:
        subs = next(action for action in whole._actions if isinstance(action, argparse._SubParsersAction))
        cast("_Parser", subs.choices[arguments.command]).refuse(left)
    return arguments


def command(name: str) -> Command:
    """The module of a command; of a service whose parameters stand in the table, the one for all of them."""
    service = COMMANDS.get(name)
    if service is None or not service.answer:
        return cast("Command", import_module(f"advisor.commands.{_MODULES.get(name, name)}"))
    module = import_module("advisor.commands.service")
    return cast(
        "Command",
        SimpleNamespace(
            add_arguments=partial(module.add_arguments, service=service), run=partial(module.run, service=service)
        ),
    )


class Command(Protocol):
    """What a command offers."""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None: ...

    def run(self, arguments: argparse.Namespace) -> int: ...
