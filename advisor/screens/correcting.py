"""Correcting an entry of the diary: its words and its day."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from advisor.diary.by_day import day_title, near_day

if TYPE_CHECKING:
    from datetime import date

    from textual.app import ComposeResult

    from advisor.diary.by_day import Row
    from advisor.screens.desk import Desk
    from advisor.talk.replies import Reply  # noqa: F401  of the base class

_HOW = "Enter keeps it, Tab goes to the other line, Esc goes back"


class Correct(ModalScreen["Reply | None"]):
    """Asks for the words and the day. What cannot be read is said below them, and nothing is changed."""

    CSS_PATH = "saving.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "cancel", "Back", show=False)]

    def __init__(self, desk: Desk, row: Row, today: date) -> None:
        super().__init__()
        self._desk, self._row = desk, row
        self._was = near_day(row.day, today) or day_title(row.day, today)

    def compose(self) -> ComposeResult:
        """What is corrected, and the lines to type in."""
        with Vertical(id="box"):
            named = f"{self._row.vessel}: " if self._row.vessel else ""
            yield Static(f"{named}{self._row.text}", id="what", markup=False)
            yield Static("What was done or seen:", classes="label", markup=False)
            yield Input(self._row.said, id="words", select_on_focus=False)
            yield Static(f"The day, if it was not {self._was}:", classes="label", markup=False)
            yield Input("", id="day", placeholder="yesterday, last Sunday, 14 November", select_on_focus=False)
            yield Static(_HOW, id="warning", markup=False)

    def on_mount(self) -> None:
        """Ready to type."""
        self.query_one("#words", Input).focus()

    @on(Input.Submitted)
    async def _kept(self) -> None:
        words, day = (self.query_one(f"#{name}", Input).value for name in ("words", "day"))
        said = await self._desk.ask(lambda talk: talk.book.correct(self._row, words, day))
        if said.kind == "lost":
            self.query_one("#warning", Static).update(said.text)
        else:
            self.dismiss(said)

    def action_cancel(self) -> None:
        """Change nothing."""
        self.dismiss(None)
