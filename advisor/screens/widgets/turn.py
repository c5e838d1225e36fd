"""One thing said in the talk."""

from __future__ import annotations

import re
import textwrap
from typing import TYPE_CHECKING, Literal

from textual.content import Content
from textual.message import Message
from textual.style import Style
from textual.widget import Widget

from advisor.safe_text import safe_text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual.events import Click
    from textual.geometry import Size

    from advisor.counsel.plan import Line
    from advisor.talk.replies import ReplyKind

    Kind = ReplyKind | Literal["you", "fault"]

#: The words before what is said, where what is said does not tell of itself what it is.
LEADS = {"you": "You: ", "caution": "Take care: ", "fault": "Amiss: "}

#: How the first words are set off, by the kind; what they mean is in the words.
_STYLES = {
    "you": "bold $told",
    "heard": "$success",
    "lost": "bold $grave",
    "question": "bold $accent",
    "verdict": "bold $primary",
    "caution": "bold $grave",
    "plan": "bold $primary",
    "fault": "bold $error",
}
#: Kinds that are set off from end to end, not only to the first colon.
_WHOLE = ("question",)
#: The first words, to the first stop: a few of them, or of what stands and what was not understood the whole clause.
_LEAD = re.compile(r"[^:.,!?]{1,24}[:,!]")
_CLAUSE = re.compile(r"[^:.,!?]{1,90}[:.,!?]")
_BY_CLAUSE = ("verdict", "lost")
_TWO_COLUMNS = re.compile(r"^( *\S.{0,30}?\S {2,})\S")
_NUMBERED = re.compile(r"^( *\d{1,2}\. )\S")
_NARROWEST = 10

#: Lines of text longer than this are hard to read. (`max-width` of a turn, less its padding.)
BROADEST = 90


class Turn(Widget):
    """Words said by the person or to them, and below them lines that can be asked why. A click on one asks.

    Lines fold under their own beginning, and the second column of a table under itself.
    """

    ALLOW_SELECT = True
    DEFAULT_CSS = """
    Turn {
        height: auto;
        width: 1fr;
        max-width: 92;
        padding: 0 1;
        margin: 0 0 1 0;
        color: $foreground;
        &.-you { background: $surface; }
    }
    """

    class Asked(Message):
        """Why was asked of a line."""

        def __init__(self, line: Line) -> None:
            super().__init__()
            self.line = line

    def __init__(self, kind: Kind, text: str, lines: Sequence[Line] = ()) -> None:
        super().__init__(classes=f"-{kind}")
        self.kind, self.said, self.lines = kind, safe_text(text), tuple(lines)
        self._folded: tuple[int, Content] | None = None

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:  # noqa: ARG002
        """As many rows as the words take."""
        return self._content(width).plain.count("\n") + 1

    def render(self) -> Content:
        """The words, folded to the width."""
        return self._content(self.content_size.width)

    def _content(self, width: int) -> Content:
        if self._folded is None or self._folded[0] != width:
            self._folded = (width, self._fold(min(max(width, _NARROWEST), BROADEST)))
        return self._folded[1]

    def _fold(self, width: int) -> Content:
        text = LEADS.get(self.kind, "") + self.said
        content = Content("\n".join(folded(line, width) for line in text.split("\n")))
        content = content.stylize(_STYLES.get(self.kind, ""), 0, self._set_off(content.plain))
        for place, line in enumerate(self.lines):
            row = Content(folded(f"  {line.text}", width)).stylize(Style.from_meta({"line": place}))
            content = Content("\n").join([content, row])
        return content

    def _set_off(self, text: str) -> int:
        if self.kind in _WHOLE:
            return len(text)
        lead = (_CLAUSE if self.kind in _BY_CLAUSE else _LEAD).match(text)
        return lead.end() if lead else 0

    def on_click(self, event: Click) -> None:
        """A click on a line with reasons asks for them."""
        place = event.style.meta.get("line")
        if place is not None:
            event.stop()
            self.post_message(self.Asked(self.lines[place]))


def folded(line: str, width: int) -> str:
    """A line folded to a width, what is carried over standing under its beginning, or under its second column.

    Args:
        width: columns, 1 or more.
    """
    columns = _NUMBERED.match(line) or _TWO_COLUMNS.match(line)
    hang = len(columns[1]) if columns else len(line) - len(line.lstrip())
    if hang > width // 2:
        hang = min(len(line) - len(line.lstrip()), width // 2)
    rows = textwrap.wrap(
        line,
        width,
        subsequent_indent=" " * hang,
        break_on_hyphens=False,
        replace_whitespace=False,
        drop_whitespace=True,
    )
    return "\n".join(rows)


def wrapped(text: str, width: int, hang: int) -> str:
    """A text wrapped to a width, each row but the first led by so many blanks.

    Args:
        width: columns beside the blanks, 1 or more.
        hang: blanks.
    """
    return f"\n{' ' * hang}".join(textwrap.wrap(text, width, break_on_hyphens=False) or [""])
