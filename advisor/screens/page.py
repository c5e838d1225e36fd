"""What the pages over the talk have in common: a place in the table of actions, a footer, and a way back."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.binding import Binding, BindingType
from textual.screen import Screen

from advisor.screens.actions import at
from advisor.screens.widgets.foot_line import FootLine

if TYPE_CHECKING:
    from collections.abc import Iterable

    from textual.app import ComposeResult
    from textual.widget import Widget

    from advisor.screens.actions import Place

#: Bound by Textual itself, with the same meaning.
_BOUND_ALREADY = ("command_palette", "leave")


def bindings(*places: Place) -> list[BindingType]:
    """The keys of places, from the table of actions."""
    wanted = dict.fromkeys(action for place in places for action in at(place))
    return [
        Binding(action.key, action.target, action.tells, show=False)
        for action in wanted
        if action.key and action.name not in _BOUND_ALREADY
    ]


class Page(Screen[None]):
    """A page that covers the talk until Escape."""

    CSS_PATH = "page.tcss"
    AUTO_FOCUS = ""
    PLACE: ClassVar[Place] = "help"

    def compose(self) -> ComposeResult:
        """What the page shows, over its footer."""
        yield from self.contents()
        yield FootLine(self.PLACE)

    def contents(self) -> Iterable[Widget]:
        """The widgets of the page."""
        raise NotImplementedError

    def action_back(self) -> None:
        """Back to what lies below."""
        self.dismiss(None)
