"""The footer: the few keys that matter here, each of which can be clicked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.style import Style
from textual.widgets import Static

from advisor.screens.actions import footer

if TYPE_CHECKING:
    from collections.abc import Mapping

    from advisor.screens.actions import Place


class FootLine(Static):
    """The footer of a place, made from the table of actions."""

    DEFAULT_CSS = """
    FootLine { dock: bottom; height: 1; background: $panel; color: $foreground; padding: 0 1; }
    """

    def __init__(self, place: Place, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id, markup=False)
        self._place = place
        self._labels: dict[str, str] = {}

    def on_mount(self) -> None:
        """Show the keys."""
        self._show()

    def show(self, place: Place, labels: Mapping[str, str] | None = None) -> None:
        """Show the keys of another place; `labels` say something else than the table for some actions."""
        wanted = dict(labels or {})
        if (place, wanted) != (self._place, self._labels):
            self._place, self._labels = place, wanted
            self._show()

    def _show(self) -> None:
        parts = []
        for action in footer(self._place):
            label = self._labels.get(action.name, action.label)
            part = Content.assemble((action.shown_key, "bold $accent"), f" {label}")
            parts.append(part.stylize(Style.from_meta({"@click": action.target})))
        self.update(Content("   ").join(parts))
