"""The page of reasons: the chain of rules, facts and sources behind every line."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.widgets import Static

from advisor.screens.page import Page, bindings
from advisor.screens.reasons import as_text, tree
from advisor.screens.widgets.reason_tree import ReasonTree

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from textual.binding import BindingType
    from textual.widget import Widget

    from advisor.counsel.plan import Line
    from advisor.knowledge.shapes import Source
    from advisor.screens.actions import Place


class WhyPage(Page):
    """Every line given, folded, but for the one asked about."""

    PLACE: ClassVar[Place] = "why"
    BINDINGS: ClassVar[list[BindingType]] = bindings("why")

    def __init__(self, lines: Sequence[Line], sources: Mapping[str, Source], *, opened: str = "") -> None:
        super().__init__()
        self._roots = tree(lines, sources, opened=opened)
        self._opened = opened

    def contents(self) -> Iterable[Widget]:
        """A word on how to read it, and the tree."""
        yield Static("Why: ▸ opens, ▾ shuts (Enter, or the right and left arrows)", classes="title", markup=False)
        yield ReasonTree(self._roots, id="reasons")

    def on_mount(self) -> None:
        """Begin at the line asked about."""
        reasons = self.query_one(ReasonTree)
        reasons.focus()
        wanted = next((root for root in self._roots if root.lead == self._opened), None)
        self.call_after_refresh(reasons.go_to, wanted)

    def action_unfold_all(self) -> None:
        """Open every reason, or shut them again."""
        self.query_one(ReasonTree).open_all()

    def action_copy(self) -> None:
        """Copy what can be seen of the tree."""
        self.app.copy_to_clipboard(as_text(self._roots))
        self.notify("The reasons that are open are on the clipboard.", title="Copied")
