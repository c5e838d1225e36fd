"""A list whose entries are folded to its width; the pages of plan, reasons and diary are such lists."""

from __future__ import annotations

import textwrap

from textual.widgets import OptionList

from advisor.screens.widgets.turn import BROADEST

_NARROWEST = 16  # columns of words, however narrow the screen is


class FoldedList(OptionList):
    """Entries below each other, some of them headings, with a quiet mark on the one that the cursor is on."""

    DEFAULT_CSS = """
    FoldedList {
        height: 1fr;
        border: none;
        padding: 0 1;
        scrollbar-size-vertical: 1;
        scrollbar-gutter: stable;
        background: $background;
        &:focus { border: none; background-tint: $foreground 0%; }
        &>.option-list--option-disabled { color: $primary; text-style: bold; }
        &>.option-list--option-highlighted { background: $panel; color: $foreground; text-style: none; }
        &:focus>.option-list--option-highlighted { background: $panel; color: $foreground; text-style: none; }
    }
    """

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id, markup=False)

    def folded(self, text: str, lead: int) -> str:
        """Fold a text to the width; all lines but the first begin with `lead` blanks."""
        width = max(min(self.scrollable_content_region.width, BROADEST) - lead, _NARROWEST)
        return f"\n{' ' * lead}".join(textwrap.wrap(text, width, break_on_hyphens=False) or [""])
