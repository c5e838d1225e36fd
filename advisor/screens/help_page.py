"""Help that fits a screen: the keys of the place it was asked from, and what can be said."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from advisor.screens.actions import at
from advisor.screens.page import Page, bindings

if TYPE_CHECKING:
    from collections.abc import Iterable

    from textual.binding import BindingType
    from textual.widget import Widget

    from advisor.screens.actions import Place

#: Things to say, by what they do. They are the talk's own words, so a test says each of them to it.
SAYINGS: tuple[tuple[str, str], ...] = (
    ("3 sacks leaves, 2 buckets grass", "what you have"),
    ("a caddy of scraps a week", "what comes in"),
    ("no straw", "take it off again"),
    ("my bucket is 12 litres", "your own measures"),
    ("1.5 by 2 metres", "the room there is"),
    ("can I put in citrus?", "ask about a material"),
    ("swap the straw for paper", "one for another"),
    ("turned it on Sunday, 58 C", "it goes into your diary"),
    ("what should I do today?", "what is due, heap by heap"),
    ("check my soil", "or: is my compost ready?"),
)

_PLACES = {
    "talk": "the talk",
    "heap": "the heap",
    "plan": "the plan",
    "why": "the reasons",
    "diary": "the diary",
    "help": "help",
}

#: Keys that are not in the table of actions because the part that has the focus answers them.
_MORE: dict[str, tuple[tuple[str, str], ...]] = {
    "talk": (
        ("Enter", "say what is typed"),
        ("Up", "what was typed before"),
        ("1 2 3", "pick an answer, then Enter"),
        ("Down, Tab", "into the answers"),
    ),
    "heap": (
        ("Tab", "into the table"),
        ("Enter", "change an amount"),
        ("Delete", "take a line off"),
        ("Up, Down", "from line to line"),
    ),
    "plan": (("Enter", "why of this line"), ("Up, Down", "from line to line")),
    "why": (("Right, Left", "open and shut"), ("Up, Down", "from line to line")),
    "diary": (("Left Right", "one heap, or all"), ("Up, Down", "from entry to entry")),
    "help": (),
}


class HelpPage(Page):
    """The keys of a place to the left, things to say to the right."""

    PLACE: ClassVar[Place] = "help"
    BINDINGS: ClassVar[list[BindingType]] = bindings("help")
    HORIZONTAL_BREAKPOINTS = [(0, "-stacked"), (72, "-beside")]  # noqa: RUF012

    def __init__(self, about: Place) -> None:
        super().__init__()
        self._about = about

    def contents(self) -> Iterable[Widget]:
        """Two columns under a title."""
        yield Static(f"Help: {_PLACES[self._about]}", classes="title", markup=False)
        keys = [*_MORE[self._about], *((action.shown_key, action.tells) for action in at(self._about) if action.key)]
        yield VerticalScroll(
            Static(_listed("Keys (the mouse will do as well)", keys, 11), classes="column", markup=False),
            Static(_said(), classes="column", markup=False),
        )

    def on_mount(self) -> None:
        """The arrows scroll where it does not fit."""
        self.query_one(VerticalScroll).focus()


def _listed(title: str, rows: Iterable[tuple[str, str]], width: int) -> Content:
    lines = [Content.styled(title, "bold $primary")]
    lines += [Content.assemble((f"{left:<{width}}", "bold $accent"), right) for left, right in rows]
    return Content("\n").join(lines)


def _said() -> Content:
    lines = [Content.styled("Things to say, in your own words", "bold $primary")]
    for words, does in SAYINGS:
        lines.append(Content.assemble((f"“{words}”", "$told")))
        lines.append(Content.styled(f"   {does}", "$quiet"))
    return Content("\n").join(lines)
