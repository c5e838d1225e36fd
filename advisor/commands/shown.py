"""How the answer of a command is shown: as a page, as JSON, or as the JSON Schema of that."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from textwrap import fill
from typing import TYPE_CHECKING, Protocol, TypeVar

from advisor.commands.handed import hand_over
from advisor.commands.terminal import colour, width
from advisor.commands.told import check_names
from advisor.counsel.in_use import in_use, local_lines
from advisor.papers.pen import NARROWEST
from advisor.safe_text import json_text

if TYPE_CHECKING:
    import argparse

    from pydantic import BaseModel

    from advisor.counsel.plan import Line
    from advisor.knowledge.base import Knowledge


class _Answer(Protocol):
    def lines(self) -> Sequence[Line]: ...

    def model_dump(self, *, mode: str) -> dict[str, object]: ...


_Shown = TypeVar("_Shown", bound=_Answer)

#: How to ask for reasons. Without --why no line has its name in front.
_WHY = "Add --why for the reasons of every line and their names, then --why NAME for those of one line."


def show(answer: _Shown, arguments: argparse.Namespace, page: Callable[..., str] | None = None, **more: object) -> int:
    """Print an answer, or write it to files, as the options of `add_shown` ask.

    What goes to a file is not printed as well, unless it is asked for as JSON or with its reasons.

    Args:
        page: what makes the text of it; that of every answer if there is none. `more` goes to it.

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
        if page is None:
            from advisor.papers.page import page as any_page

            page = any_page
        local = local_lines(in_use())
        sys.stdout.write(page(answer, width=width(), colour=colour(), why=arguments.why, local=local, **more))
        if arguments.why is None:
            sys.stdout.write(f"\n{fill(_WHY, max(width(), NARROWEST))}\n")
    return 0


def show_schema(shape: type[BaseModel]) -> int:
    """Print the JSON Schema of an answer."""
    print(json_text(shape.model_json_schema()))
    return 0


def tell_local(knowledge: Knowledge) -> None:
    """Print which local rules are in use, below an answer that is no page."""
    for line in local_lines(knowledge):
        sys.stdout.write(f"{fill(line, max(width(), NARROWEST))}\n")
