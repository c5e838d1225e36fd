"""What every page of plain text is written with: words set off, lines with their names, and reasons below them."""

from __future__ import annotations

import textwrap
from collections.abc import Collection, Iterable, Iterator

from advisor.counsel.plan import Because, Line
from advisor.records import dataclass

#: Columns; what is narrower is treated as this.
NARROWEST = 40
#: The column of the words where lines have their names in front, and where they have none.
_NAMED, _UNNAMED = 6, 4

_ROOM_FOR_NAMES = 48
_MARKS = {"told": "you:", "computed": "sum:", "rule": "rule:"}


@dataclass(frozen=True, slots=True)
class Ink:
    """How words are set off: by terminal codes, or by nothing. No meaning hangs on it."""

    colour: bool

    def heading(self, text: str) -> str:
        return f"\x1b[1m{text}\x1b[0m" if self.colour else text

    def quiet(self, text: str) -> str:
        return f"\x1b[2m{text}\x1b[0m" if self.colour else text

    def grave(self, text: str) -> str:
        return f"\x1b[1;33m{text}\x1b[0m" if self.colour else text


class Pen:
    """Writes lines at a width.

    `why` is None for a page without names of lines; the first row of a line then stands out to the left. Otherwise
    every line has its name in front, and those that `why` names have their reasons below them, all if it is empty.
    `margin` is the column at which a line goes on in its second row.
    """

    def __init__(self, width: int, *, colour: bool, why: Collection[str] | None) -> None:
        self.width, self.ink, self.why = max(width, NARROWEST), Ink(colour), why
        self.margin = _UNNAMED if why is None else _NAMED

    def section(self, title: str, lines: Iterable[Line], *, grave: bool = False) -> Iterator[str]:
        """A headed part, if it has any lines."""
        shown = tuple(lines)
        if not shown:
            return
        yield ""
        if title:
            yield (self.ink.grave if grave else self.ink.heading)(title)
        yield from self.lines(shown)

    def lines(self, lines: Iterable[Line]) -> Iterator[str]:
        """Lines and, if they were asked for, their names and reasons.

        A line without a name that comes after one with a name belongs to it, and is set in.
        """
        named = False
        for line in lines:
            if named and not line.id:
                yield from self.wrapped(line.text, self.margin + 2, quiet=True)
                continue
            named = bool(line.id)
            lead = "  " if self.why is None else f"{line.id:<{_NAMED - 1}} "
            yield from self.wrapped(line.text, self.margin, lead)
            if self.why is not None and (not self.why or line.id in self.why):
                for because in line.why:
                    yield from self.because(because, 1)

    def because(self, because: Because, depth: int) -> Iterator[str]:
        """A reason, and below it the reasons for that."""
        indent = self.margin + 2 * depth
        yield from self.wrapped(f"{_MARKS[because.origin]} {because.statement}", indent, quiet=True)
        if because.because:
            yield from self.wrapped(because.because, indent + 2, quiet=True)
        if because.about:
            yield from self.wrapped(f"[{because.about}]", indent + 2, quiet=True)
        for child in because.rests_on:
            yield from self.because(child, depth + 1)

    def wrapped(self, text: str, indent: int, lead: str | None = None, *, quiet: bool = False) -> Iterator[str]:
        """Text folded to the width at a column. `lead` goes in front of it, blanks if there is none."""
        indent = min(indent, self.width // 3)
        room = self.width - indent
        narrow = room < _ROOM_FOR_NAMES  # names of rules are long words joined by hyphens
        folded = textwrap.wrap(text, room, break_long_words=False, break_on_hyphens=narrow) or [""]
        for place, part in enumerate(folded):
            shown = self.ink.quiet(part) if quiet else part
            yield f"{lead if lead is not None and place == 0 else ' ' * indent}{shown}"
