"""Asking for the name of a file to write."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from advisor.text_files import place_of

if TYPE_CHECKING:
    from textual.app import ComposeResult


#: Bytes that the name of a file may have on every system in use (NAME_MAX of Linux; from memory).
_LONGEST_NAME = 255


class SaveAs(ModalScreen["Path | None"]):
    """Asks for the name of a file. A file that is there already is only written over when Enter is pressed twice."""

    CSS_PATH = "saving.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "cancel", "Back", show=False)]

    def __init__(self, what: str, name: str) -> None:
        super().__init__()
        self._what, self._name = what, name
        self._warned_of: Path | None = None

    def compose(self) -> ComposeResult:
        """The question and the line to type in."""
        with Vertical(id="box"):
            yield Static(self._what, id="what", markup=False)
            yield Static(f"In the folder {place_of(Path.cwd())}, or type another path.", id="where", markup=False)
            yield Input(self._name, id="name", select_on_focus=False)
            yield Static("Enter saves, Esc goes back", id="warning", markup=False)

    def on_mount(self) -> None:
        """Ready to type."""
        self.query_one("#name", Input).focus()

    @on(Input.Submitted, "#name")
    def _named(self, event: Input.Submitted) -> None:
        text = event.value.strip()
        path = _path(text)
        trouble = _trouble(text, path)
        if trouble:
            self._warn(trouble)
        elif os.path.lexists(path) and self._warned_of != path:
            self._warned_of = path
            self._warn("There is such a file already. Enter again writes over it.")
        else:
            self.dismiss(path)

    def _warn(self, text: str) -> None:
        self.query_one("#warning", Static).update(text)

    def action_cancel(self) -> None:
        """Save nothing."""
        self.dismiss(None)


def _path(text: str) -> Path:
    """The path that was typed; "~" is the home of a person, and stays what it is if there is no such person."""
    with suppress(RuntimeError):
        return Path(text).expanduser()
    return Path(text)


def _trouble(text: str, path: Path) -> str:
    if not text or "\0" in text:
        return "Type a name for the file."
    if len(os.fsencode(path.name)) > _LONGEST_NAME:
        return "That name is too long for a file. Type a shorter one."
    if os.path.isdir(path):  # noqa: PTH112  Path.is_dir fails on a path that is too long
        return "That is a folder. Type a name for the file in it."
    if not os.path.isdir(path.parent):  # noqa: PTH112
        return f"There is no folder {place_of(path.parent)}."
    return ""
