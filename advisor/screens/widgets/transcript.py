"""What has been said and shown so far, the newest at the foot."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.containers import VerticalScroll
from textual.message import Message

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual.geometry import Size

    from advisor.screens.widgets.chart_view import ChartView
    from advisor.screens.widgets.turn import Turn

#: Older turns and charts than this are dropped from the screen (the talk keeps what they said).
MOST_TURNS = 200


class Transcript(VerticalScroll, can_focus=False):
    """Turns, with charts below theirs. The latest answer rests at its foot if all of it can be seen, else at its top.

    It keeps resting there while the window or its neighbours change size, until the person scrolls.
    """

    DEFAULT_CSS = """
    Transcript {
        height: 1fr;
        min-height: 2;
        padding: 0;
        align-vertical: bottom;
        scrollbar-size-vertical: 1;
        scrollbar-gutter: stable;
        background: $background;
    }
    """

    class Shifted(Message):
        """There may be more, or less, below what can be seen."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._latest: tuple[Turn | ChartView, ...] = ()
        self._let_go = False

    @property
    def more_below(self) -> bool:
        """Whether something stands below what can be seen."""
        return self.scroll_y < self.max_scroll_y

    def rows_of(self, turns: Sequence[Turn | ChartView]) -> int:
        """The rows that turns take here, with the gap below each, whether they are here yet or not."""
        room = self.scrollable_content_region.size
        width = max(room.width - 2, 1)  # a cell of air to either side
        return sum(turn.get_content_height(room, room, width) + 1 for turn in turns)

    async def add(self, turns: Sequence[Turn | ChartView], *, to_latest: bool = False) -> None:
        """Add turns, and drop the oldest beyond what is kept.

        Args:
            to_latest: whether they belong to the answer that was added last.
        """
        if not turns:
            return
        there = list(self.children)
        old = there[: max(0, len(there) + len(turns) - MOST_TURNS)]
        if old:
            await self.remove_children(old)
        self._latest = (*self._latest, *turns) if to_latest else tuple(turns)
        self._let_go = False
        await self.mount_all(turns)
        self.call_after_refresh(self.rest)

    def rest(self) -> None:
        """Show the latest answer: to its end if it fits, else from its top; nothing once the person has scrolled."""
        latest = [turn for turn in self._latest if turn.is_attached]
        if self._let_go or not latest:
            return
        top, foot = latest[0].virtual_region.y, latest[-1].virtual_region.bottom
        fits = foot - top <= self.size.height
        self.scroll_to(y=self.max_scroll_y if fits else top, animate=False, immediate=True)
        self._let_go = False
        self.post_message(self.Shifted())

    def release_anchor(self) -> None:
        """The person scrolls (Textual says so by this call)."""
        super().release_anchor()
        self._let_go = True

    def watch_virtual_size(self, virtual_size: Size) -> None:
        """Something has grown or shrunk."""
        del virtual_size
        self.call_after_refresh(self.rest)

    def on_resize(self) -> None:
        """There is more room now, or less."""
        self.call_after_refresh(self.rest)

    def watch_scroll_y(self, old_value: float, new_value: float) -> None:
        """Say so, for the hint of what is below."""
        super().watch_scroll_y(old_value, new_value)
        self.post_message(self.Shifted())
