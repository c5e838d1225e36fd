"""Asking for a file name, and writing a file whole or not at all."""

from __future__ import annotations

import os
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

if TYPE_CHECKING:
    from textual.app import ComposeResult


@dataclass(frozen=True, slots=True)
class Written:
    """Whether a file was written, and what to say of it."""

    done: bool
    said: str


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
            yield Static(f"In the folder {Path.cwd()}, or type another path.", id="where", markup=False)
            yield Input(self._name, id="name", select_on_focus=False)
            yield Static("Enter saves, Esc goes back", id="warning", markup=False)

    def on_mount(self) -> None:
        """Ready to type."""
        self.query_one("#name", Input).focus()

    @on(Input.Submitted, "#name")
    def _named(self, event: Input.Submitted) -> None:
        text = event.value.strip()
        path = Path(text).expanduser()
        trouble = _trouble(text, path)
        if trouble:
            self._warn(trouble)
        elif path.exists() and self._warned_of != path:
            self._warned_of = path
            self._warn("There is such a file already. Enter again writes over it.")
        else:
            self.dismiss(path)

    def _warn(self, text: str) -> None:
        self.query_one("#warning", Static).update(text)

    def action_cancel(self) -> None:
        """Save nothing."""
        self.dismiss(None)


def _trouble(text: str, path: Path) -> str:
    if not text or "\0" in text:
        return "Type a name for the file."
    if path.is_dir():
        return "That is a folder. Type a name for the file in it."
    if not path.parent.is_dir():
        return f"There is no folder {path.parent}."
    return ""


def write_text(path: Path, text: str) -> Written:
    """Write a file beside its place and move it there, so that a failure leaves what was there before."""
    beside = ""
    try:
        handle, beside = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(text)
        mask = os.umask(0)
        os.umask(mask)
        Path(beside).chmod(0o666 & ~mask)
        Path(beside).replace(path)
    except OSError as error:
        if beside:
            Path(beside).unlink(missing_ok=True)
        return Written(False, f"{path}: {error.strerror or error}")
    return Written(True, str(path.resolve()))
