"""The line at the foot of the talk, where a person types."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widgets import Input

if TYPE_CHECKING:
    from advisor.talk.replies import Question

_ANYTHING = "What have you got? “3 sacks of leaves, a bucket of coffee grounds”"
_MORE = "Ask or add something: “why”, “show the plan”, “1 bucket of grass”"

MOST_REMEMBERED = 200


class SayLine(Input):
    """An input that remembers what was typed: up brings it back, down goes forward again.

    Pasted lines are joined with semicolons, so that no word of them is lost; control characters become blanks.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "recall(-1)", "What was typed before", show=False),
        Binding("down", "recall(1)", "Forward again, or into the answers", show=False),
        Binding("tab", "below", "Into the answers", show=False),
    ]

    DEFAULT_CSS = """
    SayLine {
        border: none;
        border-top: solid $panel;
        height: 2;
        padding: 0 1;
        background: $background;
        &:focus { border: none; border-top: solid $primary; background-tint: $foreground 0%; }
        &>.input--placeholder { color: $quiet; }
    }
    """

    @dataclass
    class Said(Message):
        """A line was finished with Enter."""

        text: str

    class Below(Message):
        """Tab, or Down with nothing further to recall: the person is looking for the answers to pick from."""

    def __init__(self, *, placeholder: str = "", id: str | None = None) -> None:  # noqa: A002
        super().__init__(placeholder=placeholder, id=id, select_on_focus=False)
        self._typed: list[str] = []
        self._place = 0  # in what was typed; its length when nothing is recalled
        self._draft = ""

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Empty the line and hand on what it held."""
        event.stop()
        text = event.value
        self.value = ""
        if text.strip():
            self._remember(text)
        self.post_message(self.Said(text))

    def give_back(self, text: str) -> None:
        """Put back a line that could not be dealt with, unless something new was begun meanwhile."""
        if not self.value:
            self.value = text
            self.cursor_position = len(text)

    def action_recall(self, step: int) -> None:
        """Show what was typed before (-1) or after (1)."""
        place = self._place + step
        if not 0 <= place <= len(self._typed):
            if step > 0:
                self.post_message(self.Below())
            return
        if self._place == len(self._typed):
            self._draft = self.value
        self._place = place
        self.value = self._draft if place == len(self._typed) else self._typed[place]
        self.cursor_position = len(self.value)

    def action_below(self) -> None:
        """Leave the line for what can be picked."""
        self.post_message(self.Below())

    def _remember(self, text: str) -> None:
        if not self._typed or self._typed[-1] != text:
            self._typed = [*self._typed, text][-MOST_REMEMBERED:]
        self._place = len(self._typed)
        self._draft = ""

    def _on_paste(self, event: events.Paste) -> None:
        lines = [_printable(line).strip() for line in event.text.splitlines()]
        text = "; ".join(line for line in lines if line)
        if self.selection.is_empty:
            self.insert_text_at_cursor(text)
        else:
            self.replace(text, *self.selection)
        event.prevent_default()
        event.stop()


def _printable(text: str) -> str:
    return "".join(" " if unicodedata.category(sign) in ("Cc", "Cs") else sign for sign in text)


def placeholder(question: Question | None, *, planned: bool = False) -> str:
    """What the line invites to type, by what is asked and, if nothing is, by whether a plan stands."""
    if question is None:
        return _MORE if planned else _ANYTHING
    if question.options and not question.figures:
        return "Numbers (2, 3), or your own words" if question.many else "A number, or your own words"
    return "Your answer, or “I don't know”"
