"""Answers written to files: a page to print, Markdown, a calendar. No file is lost that is not ours or was changed."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from contextlib import suppress
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal

from advisor.errors import HeapwrightError, HouseholdError, OtherFile
from advisor.records import dataclass
from advisor.text_files import place_of, read_text, write_text

if TYPE_CHECKING:
    from advisor.knowledge.shapes import Source
    from advisor.papers.paper import Answer
    from advisor.papers.print.page import Size

Kind = Literal["page", "markdown", "calendar"]

#: How files of each kind end, and what each is called.
SUFFIXES: Final[dict[Kind, str]] = {"page": ".html", "markdown": ".md", "calendar": ".ics"}
CALLED: Final[dict[Kind, str]] = {"page": "page to print", "markdown": "page of Markdown", "calendar": "calendar"}

#: How lines end in each kind of file: the calendar's standard asks for both codes (RFC 5545, 3.1).
LINE_ENDS: Final[dict[Kind, str]] = {"page": "\n", "markdown": "\n", "calendar": "\r\n"}

#: The last line of a page of ours: a digest of all that stands before it.
_MARK: Final = re.compile(r"<!-- heapwright ([0-9a-f]{16}) -->\n\Z")


@dataclass(frozen=True, slots=True)
class Handed:
    """An answer to be handed over, with the bibliography, the time with its zone, the size of paper, and what is said
    of local rules."""

    answer: Answer
    sources: Mapping[str, Source]
    now: datetime
    size: Size = "a4"
    local: tuple[str, ...] = ()

    def text(self, kind: Kind, before: str = "") -> str:
        """The file of a kind as text.

        Args:
            before: the calendar of ours that it takes the place of.

        Raises:
            HeapwrightError: it has no dates for a calendar, or the earlier calendar is about another matter.
        """
        if kind == "calendar":
            from advisor.papers.calendar import calendar_file
            from advisor.papers.dates import dates_of

            return calendar_file(dates_of(self.answer, self.now.date()), self.now, before)
        from advisor.papers.paper import paper_of

        paper = paper_of(self.answer, self.sources, self.local)
        if kind == "markdown":
            from advisor.papers.markdown import markdown

            return _marked(markdown(paper) + "\n")
        from advisor.papers.print.page import printed_page

        return _marked(printed_page(paper, self.size))

    def write(self, kind: Kind, path: Path, *, overwrite: bool = False) -> Path:
        """Write the file, whole or not at all, and return where it is.

        A file of ours that nobody has changed is written anew.

        Args:
            overwrite: write over whatever file is there.

        Raises:
            HeapwrightError: it cannot be written, or there is a file that is not ours or was changed; one line.
        """
        target = _target(path)
        try:
            before = _before(kind, target)
            text = self.text(kind, before)
        except OtherFile as error:
            if not overwrite:
                raise OtherFile(error.message, where=place_of(path), hint=_HINT) from None
            text = self.text(kind)
        try:
            write_text(target, text)
        except (OSError, ValueError) as error:
            reason = getattr(error, "strerror", None) or "no reason given"
            raise HeapwrightError(f"cannot be written: {reason}", where=place_of(path)) from None
        return target


def kind_named(path: Path) -> Kind:
    """What is meant by the end of a file's name; Markdown if it is none of ours."""
    return next((kind for kind, end in SUFFIXES.items() if end == path.suffix.lower()), "markdown")


_HINT: Final = "name another file, or say --overwrite"


def free_path(folder: Path, stem: str, kind: Kind, handed: Handed) -> Path:
    """Where a file can be written without asking: the name, or the first of NAME-2, NAME-3 that is free or ours.

    Raises:
        HeapwrightError: the answer has no dates for a calendar, or there is no such folder.
    """
    number = 1
    while True:
        path = folder / f"{stem}{f'-{number}' if number > 1 else ''}{SUFFIXES[kind]}"
        number += 1
        try:
            handed.text(kind, _before(kind, _target(path)))
        except OtherFile:
            continue
        return path


def _target(path: Path) -> Path:
    """The file itself, if the path leads to it by links. Raises HeapwrightError if nothing can be written there."""
    where = place_of(path)
    if "\0" in str(path):
        raise HeapwrightError("no file can have this name", where=where)
    target = path
    with suppress(OSError, RuntimeError):  # a ring of links, a name too long: writing tells
        target = path.resolve()
    if os.path.isdir(target):  # noqa: PTH112  Path.is_dir fails on a path that is too long
        raise OtherFile("this is a folder", where=where, hint="name a file in it")
    if os.path.lexists(target) and not os.path.isfile(target):  # noqa: PTH113
        raise OtherFile("this is a pipe or a device, not a file", where=where, hint="- writes to the standard output")
    if not os.path.isdir(target.parent):  # noqa: PTH112
        raise HeapwrightError("there is no such folder", where=place_of(path.parent))
    return target


def _before(kind: Kind, target: Path) -> str:
    """The file of ours that is there, or nothing. Raises OtherFile if it is not ours, or was changed."""
    if not os.path.lexists(target):
        return ""
    try:
        text = read_text(target, CALLED[kind])
    except HouseholdError:
        text = ""
    if kind == "calendar":
        from advisor.papers.calendar import is_calendar_of_ours

        ours = is_calendar_of_ours(text)
    else:
        ours = text == _marked(_MARK.sub("", text))
    if not ours:
        raise OtherFile("there is a file of this name that heapwright did not write, or that was changed since")
    return text


def _marked(text: str) -> str:
    return f"{text}<!-- heapwright {sha256(text.encode()).hexdigest()[:16]} -->\n"
