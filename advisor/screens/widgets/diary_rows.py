"""The entries of the diary under their days, each of which can be put right or taken back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.content import Content
from textual.message import Message
from textual.widgets.option_list import Option as Entry

from advisor.diary.by_day import by_day
from advisor.screens.widgets.folded_list import FoldedList

if TYPE_CHECKING:
    from textual.events import Resize
    from textual.widgets import OptionList

    from advisor.diary.by_day import Row
    from advisor.talk.diary_book import DiaryView

_INDENT, _GAP = 2, 2  # columns
_NAMES = 18  # columns for the names of vessels, at the most
_AT_ONCE = 400  # entries: more take a moment to be laid out, and are shown when they are asked for


class DiaryRows(FoldedList):
    """Days, and below each what was told of it. The cursor goes from entry to entry; Enter or a click corrects one."""

    @dataclass
    class Chosen(Message):
        """An entry is to be corrected."""

        row: Row

    @dataclass
    class Pointed(Message):
        """The cursor went to an entry, or to none."""

        row: Row | None

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._view: DiaryView | None = None
        self._of_one = False
        self._rows: dict[int, Row] = {}
        self._most = _AT_ONCE

    def show(self, view: DiaryView, *, of_one: bool) -> None:
        """Show other rows; the cursor stays at its entry if that is still there, else near it.

        Args:
            of_one: whether all are of one vessel, whose name is then left out.
        """
        place, pointed = self.highlighted, self.pointed
        self._view, self._of_one = view, of_one
        self._fill()
        wanted = pointed.numbers if pointed is not None else ()
        same = next((at for at, row in self._rows.items() if row.numbers == wanted), None)
        near = [at for at in self._rows if place is None or at >= place] or list(self._rows)[-1:]
        self.highlighted = same if same is not None else next(iter(near), None)
        if self.highlighted is None:
            self.post_message(self.Pointed(None))

    @property
    def pointed(self) -> Row | None:
        """The entry that the cursor is on."""
        return self._rows.get(self.highlighted) if self.highlighted is not None else None

    def on_resize(self, event: Resize) -> None:
        """Fold the words to the width."""
        del event
        place = self.highlighted
        self._fill()
        self.highlighted = place

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Tell where the cursor is."""
        event.stop()
        self.post_message(self.Pointed(self.pointed))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter and clicks correct an entry."""
        event.stop()
        row = self._rows.get(event.option_index)
        if row is not None:
            self.post_message(self.Chosen(row))
        else:  # the last line: older ones are asked for
            self._most *= 4
            self._fill()
            self.highlighted = event.option_index

    def _fill(self) -> None:
        if self._view is None:
            return
        names = [] if self._of_one else [row.vessel for row in self._view.rows]
        column = min(max((len(name) for name in names), default=0), _NAMES)
        lead = _INDENT + (column + _GAP if column else 0)
        shown: list[Entry] = []
        self._rows = {}
        for day in by_day(self._view.rows[: self._most], self._view.today):
            shown.append(Entry(Content(f"\n{day.title}" if shown else day.title), disabled=True))
            for row in day.rows:
                self._rows[len(shown)] = row
                shown.append(Entry(_words(row, self.folded(row.text, lead), column)))
        older = len(self._view.rows) - self._most
        if older > 0:
            shown.append(Entry(Content.styled(f"\n{older} older entries: Enter shows more of them", "$quiet")))
        self.set_options(shown)


def _words(row: Row, text: str, column: int) -> Content:
    """An entry with the name of its vessel in a column before it, if there is a column for names."""
    if not column:
        return Content(f"{' ' * _INDENT}{text}")
    name = row.vessel if len(row.vessel) <= column else f"{row.vessel[: column - 1]}…"
    return Content.assemble(" " * _INDENT, (f"{name:<{column}}", "$accent"), " " * _GAP, text)
