"""The lines of a plan under their headings, each of which can be asked why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.content import Content
from textual.message import Message
from textual.widgets.option_list import Option as Row

from advisor.screens.widgets.folded_list import FoldedList

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual.events import Resize
    from textual.widgets import OptionList

    from advisor.counsel.plan import Line
    from advisor.papers.sections import Section

_HANG = 2  # columns


class PlanLines(FoldedList):
    """A page of headings and lines. The cursor goes from line to line; Enter or a click asks why."""

    @dataclass
    class Asked(Message):
        """Why was asked of a line."""

        line: Line

    def __init__(self, sections: Sequence[Section], *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._sections = tuple(sections)
        self._rows: dict[int, Line] = {}

    def on_resize(self, event: Resize) -> None:
        """Fold the words to the width."""
        del event
        place = self.highlighted
        self._fill()
        self.highlighted = place if place is not None else 1

    @property
    def pointed(self) -> Line | None:
        """The line the cursor is on."""
        return self._rows.get(self.highlighted) if self.highlighted is not None else None

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter and clicks ask why."""
        event.stop()
        line = self._rows.get(event.option_index)
        if line is not None:
            self.post_message(self.Asked(line))

    def _fill(self) -> None:
        rows: list[Row] = []
        self._rows = {}
        for number, section in enumerate(self._sections):
            title = f"{section.title}!" if section.grave else section.title
            rows.append(Row(Content(f"\n{title}" if number else title), disabled=True))
            for line in section.lines:
                self._rows[len(rows)] = line
                text = (self.folded(line.text, _HANG), "bold $grave" if section.grave else "")
                rows.append(Row(Content.assemble(" " * _HANG, text)))
        self.set_options(rows)
