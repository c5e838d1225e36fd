"""What has been said so far, the newest at the foot."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import VerticalScroll

from advisor.screens.widgets.turn import Turn

if TYPE_CHECKING:
    from collections.abc import Iterable

#: Older turns than this are dropped from the screen (the talk keeps what they said).
MOST_TURNS = 200


class Transcript(VerticalScroll):
    """A column of turns that stays at its foot while it grows, unless the person has scrolled up to read."""

    DEFAULT_CSS = """
    Transcript { height: 1fr; padding: 0; scrollbar-size-vertical: 1; background: $background; }
    """

    def on_mount(self) -> None:
        """Stay at the foot from the start."""
        self.anchor()

    async def add(self, turns: Iterable[Turn]) -> None:
        """Add turns, and drop the oldest beyond what is kept."""
        await self.mount_all(turns)
        old = list(self.query_children(Turn))[:-MOST_TURNS]
        if old:
            await self.remove_children(old)

    async def empty(self) -> None:
        """Drop everything: the talk starts again."""
        await self.remove_children()
