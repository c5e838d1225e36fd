"""The table of what is on hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual import on
from textual.containers import Vertical
from textual.widgets import Static

from advisor.screens.widgets.holding_row import HoldingRow

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual.app import ComposeResult

    from advisor.screens.on_hand_rows import Stock


class OnHand(Vertical):
    """Rows that follow what is on hand: those that stay are kept, so that nothing flickers and no focus is lost."""

    DEFAULT_CSS = """
    OnHand { height: auto; }
    OnHand > .heading { text-style: bold; }
    """

    def compose(self) -> ComposeResult:
        """The heading; rows come as they are told."""
        yield Static("On hand (Enter changes an amount, Delete removes it)", classes="heading", markup=False)

    def on_mount(self) -> None:
        """Nothing on hand, nothing to show."""
        self.display = False

    @property
    def rows(self) -> list[HoldingRow]:
        """The rows, from the top."""
        return list(self.query_children(HoldingRow))

    async def show(self, stocks: Sequence[Stock]) -> None:
        """Make the rows those given. The mark stays with its material; if that is gone, with what now stands there."""
        self.display = bool(stocks)
        rows = self.rows
        place = next((place for place, row in enumerate(rows) if row.has_focus_within), None)
        marked = rows[place].stock if place is not None else None
        for row, stock in zip(rows, stocks, strict=False):
            row.show(stock)
        if len(stocks) > len(rows):
            await self.mount_all([HoldingRow(stock) for stock in stocks[len(rows) :]])
        if marked is not None and place is not None and stocks:
            same = [each for each, stock in enumerate(stocks) if stock.material == marked.material]
            wanted = min(same, key=lambda each: abs(each - place)) if same else min(place, len(stocks) - 1)
            if wanted != place:
                self.rows[wanted].focus()
        for row in rows[len(stocks) :]:
            await row.remove()

    @on(HoldingRow.Moved)
    def _move(self, event: HoldingRow.Moved) -> None:
        event.stop()
        rows = self.rows
        place = rows.index(event.row) + event.step
        if 0 <= place < len(rows):
            rows[place].focus()
