"""The conversation on plain lines: for a terminal without a screen, a screen reader, a pipe or a script.

    run(talk, sys.stdin, sys.stdout, 80)

Every line of input is one thing said. Nothing hangs on colour or on where the cursor stands.
"""

from __future__ import annotations

import re
import sys
import textwrap
from collections.abc import Iterable, Iterator
from contextlib import suppress
from typing import TextIO

from advisor.counsel.in_use import in_use, local_lines
from advisor.counsel.plan import Line, Plan
from advisor.errors import HouseholdError
from advisor.papers.charts import chart_text
from advisor.papers.page import page
from advisor.papers.pen import Ink
from advisor.safe_text import safe_text
from advisor.talk.replies import Question, Reply
from advisor.talk.session import Talk

PROMPT = "> "
NARROWEST = 40
INTERRUPTED = 130

_GOOD_BYE = "Good-bye, and good compost."
_NUMBERED = re.compile(r" *\d{1,2}\. ")
_NO_LINE = frozenset({"none of them"})  # its lines are named, since “why m1” asks for one, and none has its reasons


def run(
    talk: Talk,
    lines_in: Iterable[str],
    out: TextIO,
    width: int,
    *,
    colour: bool = False,
    echo: bool = True,
) -> int:
    """Hold a conversation and return the exit code: 0, or 130 if it was interrupted.

    Args:
        lines_in: what is said, a line at a time; it may be typed, piped or read from a file.
        out: where to write.
        width: columns; narrower than 40 is treated as 40.
        colour: whether to set words off with terminal codes. No meaning hangs on them.
        echo: whether to write prompt and line, for what does not appear there by being typed.
    """
    screen = _Lines(out, max(width, NARROWEST), Ink(colour), echo=echo, local=local_lines(in_use()))
    try:
        return _converse(talk, lines_in, screen)
    except KeyboardInterrupt:
        screen.write(["", _GOOD_BYE])
        return INTERRUPTED


def _converse(talk: Talk, lines_in: Iterable[str], screen: _Lines) -> int:
    screen.show(talk.open())
    screen.write([""])
    for line in lines_in:
        said = safe_text(line.rstrip("\r\n"))
        screen.said(said)
        replies = talk.hear(said)
        screen.show(replies)
        if any(reply.kind == "farewell" for reply in replies):
            return 0
        screen.write([""])
    if talk.plan is not None:
        screen.plan(talk)
    screen.write(["", _GOOD_BYE])
    return 0


class _Lines:
    """Writes replies as folded lines."""

    def __init__(self, out: TextIO, width: int, ink: Ink, *, echo: bool, local: tuple[str, ...] = ()) -> None:
        self.out, self.width, self.ink, self.echo = out, width, ink, echo
        self.local = local  # what is said of local rules below a plan

    def write(self, lines: Iterable[str]) -> None:
        for line in lines:
            self.out.write(f"{line}\n")
        self.out.flush()

    def said(self, line: str) -> None:
        """What the person said, if it does not stand there already."""
        if self.echo:
            self.write([f"{PROMPT}{line}"])

    def show(self, replies: Iterable[Reply]) -> None:
        """Everything said in answer to one line, a blank line between one thing and the next."""
        for reply in replies:
            self.write(["", *self._reply(reply)])

    def plan(self, talk: Talk) -> None:
        """The plan as it stands, as a page."""
        if talk.plan is not None:
            self.write(self._page(talk.plan))

    def _reply(self, reply: Reply) -> Iterator[str]:
        if reply.kind == "plan" and reply.plan is not None:
            yield from self._page(reply.plan)
            return
        if reply.question is not None:
            yield from self._question(reply.question)
            return
        lead = "Take care. " if reply.kind == "caution" else ""
        for line in f"{lead}{reply.text}".split("\n"):
            for folded in self.folded(line):
                yield self.ink.grave(folded) if reply.kind == "caution" else folded
        for line in reply.diary.lines if reply.diary is not None else ():
            yield from self.folded(line)
        yield from self._named(reply.lines)
        for chart in reply.charts:
            yield from ["", *chart_text(chart, width=self.width, colour=self.ink.colour).splitlines()]

    def _page(self, plan: Plan) -> Iterator[str]:
        yield page(plan, width=self.width, colour=self.ink.colour, why=_NO_LINE, local=self.local).rstrip()
        yield ""
        yield from self.folded("Every line can say why: “why m1”, for instance.")

    def _named(self, lines: Iterable[Line]) -> Iterator[str]:
        for line in lines:
            yield from self.folded(line.text, "  ")

    def _question(self, question: Question) -> Iterator[str]:
        many = " (one or more)" if question.many else ""
        yield from (self.ink.heading(line) for line in self.folded(f"{question.ask}{many}"))
        column = len(str(len(question.options))) + 4
        for number, option in enumerate(question.options, 1):
            mark = "-" if question.figures else number
            yield from self.folded(option.label, f"{mark:>{column - 2}}  ")

    def folded(self, text: str, lead: str = "") -> Iterator[str]:
        """A line folded to the width, what is folded standing under its beginning."""
        own = len(text) - len(text.lstrip(" "))
        numbered = _NUMBERED.match(text)
        indent = " " * (len(lead) + (numbered.end() if numbered else own))
        yield from textwrap.wrap(
            text.strip(),
            self.width,
            initial_indent=f"{lead}{' ' * own}",
            subsequent_indent=indent,
            break_long_words=True,
            break_on_hyphens=False,
        ) or [""]


def typed() -> Iterator[str]:
    """Lines as they are typed, with a prompt and line editing where a terminal offers it; or as they are piped in.

    Raises:
        HouseholdError: a line is in no encoding that can be read.
    """
    by_hand = sys.stdin.isatty()
    if by_hand:
        with suppress(ImportError):  # not to be had everywhere; importing it gives line editing and history
            import readline  # noqa: F401
    while True:
        try:
            line = input(PROMPT if by_hand else "")
        except EOFError:
            return
        except UnicodeDecodeError:
            raise HouseholdError(
                "not UTF-8 text", where="standard input", hint="write ½ as 1/2, or use UTF-8"
            ) from None
        yield line
