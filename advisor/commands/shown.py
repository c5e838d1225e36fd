"""How the answer of a command is shown: as a page, as JSON, or as the JSON Schema of that."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Protocol, TypeVar

from advisor.commands.handed import hand_over
from advisor.commands.terminal import colour, width
from advisor.commands.told import check_names
from advisor.safe_text import json_text

if TYPE_CHECKING:
    import argparse

    from pydantic import BaseModel

    from advisor.counsel.plan import Line


class _Answer(Protocol):
    def lines(self) -> Sequence[Line]: ...

    def model_dump(self, *, mode: str) -> dict[str, object]: ...


_Shown = TypeVar("_Shown", bound=_Answer)


def show(answer: _Shown, arguments: argparse.Namespace, page: Callable[..., str], **more: object) -> int:
    """Print an answer, or write it to files, as the options of `add_shown` ask; `more` goes to the page.

    What goes to a file is not printed as well, unless it is asked for as JSON or with its reasons.

    Raises:
        UsageError: a line is asked why that is not there, or two things are to go to the standard output.
        HeapwrightError: a file cannot be written, or there is one already that is not ours.
    """
    if arguments.why:
        check_names(arguments.why, answer.lines())
    handed = hand_over(answer, arguments)
    if arguments.json:
        print(json_text(answer.model_dump(mode="json")))
    elif not handed or arguments.why is not None:
        sys.stdout.write(page(answer, width=width(), colour=colour(), why=arguments.why, **more))
    return 0


def show_schema(shape: type[BaseModel]) -> int:
    """Print the JSON Schema of an answer."""
    print(json_text(shape.model_json_schema()))
    return 0
