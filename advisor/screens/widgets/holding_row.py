"""One material on hand: its amount can be changed where it stands, and the row be removed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.message import Message
from textual.widgets import Input, Static

if TYPE_CHECKING:
    from textual.app import ComposeResult
    from textual.events import Click

    from advisor.screens.on_hand_rows import Stock


class HoldingRow(Horizontal, can_focus=True):
    """A row of the table. Enter or a click on the amount changes it; Delete or a click on the cross removes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "edit", "Change the amount", show=False),
        Binding("delete,backspace", "remove", "Remove", show=False),
        Binding("escape", "keep", "Leave the amount as it was", show=False),
        Binding("up", "move(-1)", "The row above", show=False),
        Binding("down", "move(1)", "The row below", show=False),
    ]

    DEFAULT_CSS = """
    HoldingRow {
        height: 1;
        width: 1fr;
        & > .amount { width: 15; margin-right: 1; }
        & > .amount, & > .name { text-wrap: nowrap; text-overflow: ellipsis; }
        & > Input {
            width: 22;
            margin-right: 1;
            height: 1;
            border: none;
            padding: 0;
            display: none;
            background: $panel;
        }
        & > .name { width: 1fr; }
        & > .measures { width: auto; max-width: 24; margin-left: 1; color: $quiet; }
        & > .cross { width: 3; content-align: right middle; color: $quiet; }
        & > .cross:hover { color: $error; text-style: bold; }
        & > .amount:hover { text-style: underline; }
        &:focus { background: $block-cursor-background; color: $block-cursor-foreground; }
        &:focus > Static { color: $block-cursor-foreground; }
        &.-editing > Input { display: block; }
        &.-editing > .amount { display: none; }
        &.-editing > .measures { display: none; }
    }
    """

    @dataclass
    class AmountGiven(Message):
        """Another amount was typed for a material."""

        material: str
        text: str

    @dataclass
    class Removed(Message):
        """A material is to be taken off."""

        material: str
        name: str

    @dataclass
    class Moved(Message):
        """The row above (-1) or below (1) is wanted."""

        row: HoldingRow
        step: int

    def __init__(self, stock: Stock) -> None:
        super().__init__()
        self.stock = stock

    def compose(self) -> ComposeResult:
        """The cells."""
        yield Static(self.stock.amount, classes="amount", markup=False)
        yield Input(compact=True, select_on_focus=True)
        yield Static(self.stock.name, classes="name", markup=False)
        yield Static(self.stock.measures, classes="measures", markup=False)
        yield Static("×", classes="cross", markup=False)

    def show(self, stock: Stock) -> None:
        """Show other figures in the same row; nothing is drawn again that stays the same."""
        old, self.stock = self.stock, stock
        if not self.is_mounted:
            return
        for name in ("amount", "name", "measures"):
            if getattr(old, name) != getattr(stock, name):
                self.query_one(f".{name}", Static).update(getattr(stock, name))

    def action_edit(self) -> None:
        """Put the amount into an input in its place."""
        line = self.query_one(Input)
        line.value = self.stock.amount
        self.add_class("-editing")
        line.focus()

    def action_remove(self) -> None:
        """Ask for the row to be taken off."""
        self.post_message(self.Removed(self.stock.material, self.stock.name))

    def action_move(self, step: int) -> None:
        """Go to the row above or below."""
        self.post_message(self.Moved(self, step))

    def action_keep(self) -> None:
        """Leave the amount as it was."""
        self._finish()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:  # noqa: ARG002
        """While an amount is typed, Escape belongs to it; otherwise to the screen, and the arrows to the rows."""
        editing = self.has_class("-editing")
        return editing if action == "keep" else not editing

    @on(Input.Submitted)
    def _given(self, event: Input.Submitted) -> None:
        event.stop()
        self._finish()
        text = event.value.strip()
        if text and text != self.stock.amount:
            self.post_message(self.AmountGiven(self.stock.material, text))

    @on(Input.Blurred)
    def _left(self) -> None:
        self.remove_class("-editing")

    def _finish(self) -> None:
        self.remove_class("-editing")
        self.focus()

    def on_click(self, event: Click) -> None:
        """The cross removes, the amount is changed, anywhere else goes to the row."""
        widget = event.widget
        if widget is None or isinstance(widget, Input):
            return
        if widget.has_class("cross"):
            self.action_remove()
        elif widget.has_class("amount"):
            self.action_edit()
