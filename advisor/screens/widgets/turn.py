"""One thing said in the talk."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar, Literal

from textual.content import Content
from textual.message import Message
from textual.style import Style
from textual.widgets import Static

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual.events import Click

    from advisor.counsel.plan import Line
    from advisor.talk.replies import ReplyKind

Kind = Literal["you", "fault"]

#: The word before each kind of thing said, so that no meaning hangs on its colour.
MARKS: dict[str, tuple[str, str]] = {
    "you": ("You", "bold $told"),
    "heard": ("Noted", "bold $success"),
    "lost": ("Not clear", "bold $grave"),
    "question": ("Asked", "bold $accent"),
    "verdict": ("So far", "bold $primary"),
    "caution": ("Take care", "bold $grave"),
    "plan": ("The plan", "bold $primary"),
    "fault": ("Amiss", "bold $error"),
}


class Turn(Static):
    """Words said by the person or to them, with the word that tells which, and below them lines that can be asked why.

    A click on such a line asks why.
    """

    ALLOW_SELECT = True
    DEFAULT_CSS: ClassVar[str] = """
    Turn {
        height: auto;
        padding: 0 1;
        margin: 0 0 1 0;
        color: $foreground;
        &.-you { background: $surface; padding: 0 1; }
        &.-heard, &.-question { margin: 0; }
        &.-question { margin: 0 0 1 0; }
    }
    """

    class Asked(Message):
        """Why was asked of a line."""

        def __init__(self, line: Line) -> None:
            super().__init__()
            self.line = line

    def __init__(self, kind: ReplyKind | Kind, text: str, lines: Sequence[Line] = ()) -> None:
        self.kind, self.said, self.lines = kind, text, tuple(lines)
        super().__init__(self._content(), classes=f"-{kind}", markup=False)

    def _content(self) -> Content:
        parts: list[Content | str | tuple[str, str]] = []
        if self.kind in MARKS:
            word, style = MARKS[self.kind]
            parts.append((f"{word}: ", style))
        parts.append(self.said)
        content = Content.assemble(*parts)
        for place, line in enumerate(self.lines):
            shown = Content.assemble("\n", (f"{line.id:>3} ", "$quiet"), line.text)
            content += shown.stylize(_meta(place), 1)
        return content

    def on_click(self, event: Click) -> None:
        """A click on a line with reasons asks for them."""
        place = event.style.meta.get("line")
        if place is not None:
            event.stop()
            self.post_message(self.Asked(self.lines[place]))


def _meta(place: int) -> Style:
    return Style.from_meta({"line": place})
