"""What has been said and shown so far, the newest at the foot."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import VerticalScroll

if TYPE_CHECKING:
    from collections.abc import Sequence

    from advisor.screens.widgets.chart_view import ChartView
    from advisor.screens.widgets.turn import Turn

#: Older turns and charts than this are dropped from the screen (the talk keeps what they said).
MOST_TURNS = 200


class Transcript(VerticalScroll, can_focus=False):
    """Turns, and charts below theirs, that stay at their foot while they grow, unless the person has scrolled up."""

    DEFAULT_CSS = """
    Transcript {
        height: 1fr;
        min-height: 2;
        padding: 0;
        scrollbar-size-vertical: 1;
        scrollbar-gutter: stable;
        background: $background;
    }
    """

    def on_mount(self) -> None:
        """Stay at the foot from the start."""
        self.anchor()

    async def add(self, turns: Sequence[Turn | ChartView]) -> None:
        """Add turns, and drop the oldest beyond what is kept. What is too long for the screen shows its start."""
        if not turns:
            return
        self.anchor()
        there = list(self.children)
        old = there[: max(0, len(there) + len(turns) - MOST_TURNS)]
        if old:
            await self.remove_children(old)
        await self.mount_all(turns)
        self.call_after_refresh(self._show_start, turns)

    def _show_start(self, turns: Sequence[Turn | ChartView]) -> None:
        height = sum(turn.outer_size.height + 1 for turn in turns)
        if height > self.size.height and turns[0].is_attached:
            self.release_anchor()
            self.scroll_to_widget(turns[0], top=True, animate=False, immediate=True)

    async def empty(self) -> None:
        """Drop everything: the talk starts again."""
        await self.remove_children()
