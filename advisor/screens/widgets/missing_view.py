"""What nobody has said yet, and what it would change."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Static

if TYPE_CHECKING:
    from collections.abc import Iterator

    from advisor.counsel.plan import Doubt, Plan

_MOST = 3  # the ones that would change most come first; more would be a questionnaire


class MissingView(Static):
    """What is still missing, the most telling first, and what is not right with the mix yet."""

    DEFAULT_CSS = """
    MissingView { height: auto; }
    """

    plan: reactive[Plan | None] = reactive(None)
    """The plan whose misses are shown."""

    doubts: reactive[tuple[Doubt, ...]] = reactive(())
    """What nobody has said yet."""

    def watch_plan(self) -> None:
        """Another plan, other misses."""
        self._show()

    def watch_doubts(self) -> None:
        """Other doubts."""
        self._show()

    def _show(self) -> None:
        shown = Content("\n").join(self._lines(self.plan)) if self.plan is not None else Content("")
        # every update lays the whole screen out again
        if shown != self.content:
            self.update(shown)

    def _lines(self, plan: Plan) -> Iterator[Content]:
        if plan.recipe.misses:
            yield Content.styled("Not right yet", "bold $grave")
            yield from (Content(f"· {line.text}") for line in plan.recipe.misses)
        if plan.recipe.fetch:
            yield Content.styled("To fetch, and the mix would be right", "bold")
            yield from (Content(f"· {line.line.text}") for line in plan.recipe.fetch)
        if self.doubts:
            yield Content.styled("Not said yet", "bold")
            yield from (Content(f"· {doubt.ask}") for doubt in self.doubts[:_MOST])
            more = len(self.doubts) - _MOST
            if more > 0:
                yield Content.styled(f"  and {more} more on the plan (F4)", "$quiet")
