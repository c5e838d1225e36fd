"""What nobody has said yet, and what it would change."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Static

if TYPE_CHECKING:
    from advisor.counsel.plan import Plan

_MOST = 3  # the ones that would change most come first; more would be a questionnaire


class MissingView(Static):
    """What is still missing, the most telling first, and what is not right with the mix yet."""

    DEFAULT_CSS = """
    MissingView { height: auto; }
    """

    plan: reactive[Plan | None] = reactive(None)
    """The plan whose doubts and misses are shown."""

    def watch_plan(self) -> None:
        """Another plan, other doubts."""
        plan = self.plan
        if plan is None:
            self.update("")
            return
        lines: list[Content] = []
        if plan.recipe.misses:
            lines.append(Content.styled("Not right yet", "bold $grave"))
            lines += [Content(f"· {line.text}") for line in plan.recipe.misses]
        if plan.recipe.fetch:
            lines.append(Content.styled("To fetch, and it would be right", "bold"))
            lines += [Content(f"· {line.line.text}") for line in plan.recipe.fetch]
        if plan.doubts:
            lines.append(Content.styled("Not said yet", "bold"))
            lines += [Content(f"· {doubt.ask}") for doubt in plan.doubts[:_MOST]]
            more = len(plan.doubts) - _MOST
            if more > 0:
                lines.append(Content.styled(f"  and {more} more on the plan (F4)", "$quiet"))
        self.update(Content("\n").join(lines))
