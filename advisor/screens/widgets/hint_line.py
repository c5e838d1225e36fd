"""What is out of sight just now, and which key brings it: a line that is there only while there is something to say."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.style import Style
from textual.widgets import Static

if TYPE_CHECKING:
    from advisor.screens.widgets.choices import Choices


class HintLine(Static):
    """Keys with what they bring, each of which can be clicked."""

    DEFAULT_CSS = """
    HintLine { height: 1; padding: 0 1; color: $quiet; text-wrap: nowrap; text-overflow: ellipsis; display: none; }
    """

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id, markup=False)
        self._parts: tuple[tuple[str, str, str], ...] = ()

    def show(self, choices: Choices, *, more_to_read: bool) -> None:
        """Follow the answers, and what stands below the part of the talk that can be seen."""
        parts = tuple(_parts(choices, more_to_read=more_to_read))
        if parts == self._parts:
            return
        self._parts = parts
        self.display = bool(parts)
        shown = [
            Content.assemble((key, "bold $accent"), f" {label}").stylize(Style.from_meta({"@click": target}))
            for key, label, target in parts
        ]
        self.update(Content("   ").join(shown))


def _parts(choices: Choices, *, more_to_read: bool) -> list[tuple[str, str, str]]:
    """Each part as its key, its words and what a click on it does."""
    parts = [("PgDn", "more to read below", "screen.later")] if more_to_read else []
    count = len(choices.offered)
    if count and not choices.display:
        parts.append(("Down", f"{count} answers to pick from", "screen.choose"))
    elif choices.more_below:
        parts.append(("Down", "more answers below", "screen.choose"))
    if choices.many and choices.display:
        marked = f"send the {choices.marked} ticked" if choices.marked else "send"
        parts += [("Space", "tick", "screen.choose"), ("Enter", marked, "screen.send")]
    return parts
