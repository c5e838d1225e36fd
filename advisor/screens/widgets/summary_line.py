"""The line at the head of the screen: what the program is, or what it comes to so far."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Static

if TYPE_CHECKING:
    from advisor.counsel.plan import Plan
    from advisor.diagnosis.shapes import Diagnosis

NAME = "heapwright"
_SHOWN = ("carbon-nitrogen", "moisture")


class SummaryLine(Static):
    """One line that says how the heap stands, wherever the heap itself is out of sight."""

    DEFAULT_CSS = """
    SummaryLine { height: 1; background: $panel; color: $foreground; padding: 0 1; }
    """

    plan: reactive[Plan | None] = reactive(None)
    """What stands."""

    cure: reactive[Diagnosis | None] = reactive(None)
    """What ails the heap; it goes before the plan."""

    busy: reactive[bool] = reactive(False)
    """Whether something is being worked out."""

    def watch_plan(self) -> None:
        """Another plan, other words."""
        self._show()

    def watch_cure(self) -> None:
        """The heap is ill, or well again."""
        self._show()

    def watch_busy(self) -> None:
        """Say that it is working, in words."""
        self._show()

    def on_mount(self) -> None:
        """Show the name from the start."""
        self._show()

    def on_resize(self) -> None:
        """As many words as there is room for."""
        self._show()

    def _show(self) -> None:
        room = max(self.content_size.width, 1) - len(NAME) - 2
        words = "working it out…" if self.busy else ailing(self.cure, room) or summary(self.plan, room)
        self.update(Content.assemble((NAME, "bold $primary"), f"  {words}" if words else ""))


def ailing(cure: Diagnosis | None, width: int) -> str:
    """What ails the heap, and when to look again, as far as there is room; empty if nothing is known to."""
    if cure is None:
        return ""
    from advisor.screens.wording import ails, look_again

    parts = [ails(cure), look_again(cure)]
    said = " · ".join(part for part in parts if part)
    return said if len(said) <= width else parts[0]


def summary(plan: Plan | None, width: int) -> str:
    """The method, the two figures that matter most, and whether it will heat: as many of them as there is room for."""
    if plan is None:
        return ""
    from advisor.screens.wording import HEATS, short, standing, warmth

    gauges = [short(gauge, plan.units) for gauge in plan.recipe.gauges if gauge.what in _SHOWN]
    parts = [standing(plan), *gauges]
    if plan.body is not None and warmth(plan):
        parts.append(HEATS[plan.body.heats])
    while len(" · ".join(parts)) > width and len(parts) > 1:
        parts.pop()
    return " · ".join(parts)
