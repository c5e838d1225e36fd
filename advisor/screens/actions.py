"""Everything that can be done by a key, in one table. The footer, the help and the command list are made from it."""

from __future__ import annotations

from typing import Literal

from advisor.records import dataclass
from advisor.services.table import SERVICES

#: Where a key works: over the talk, in the heap beside it, on the pages of plan, reasons and diary, in help.
Place = Literal["talk", "heap", "plan", "why", "diary", "help"]

#: A footer holds no more than this.
MOST_IN_FOOTER = 6

_FOOTER_COLUMNS = 78

_PAGES: tuple[Place, ...] = ("plan", "why", "diary", "help")
_TALKING: tuple[Place, ...] = ("talk", "heap")


@dataclass(frozen=True, slots=True)
class Action:
    """Something that can be done.

    `name` is that of the `action_` method that does it, of the screen, or of the app if `everywhere`; what has words to
    `say` is done by saying them in the talk. `footer` gives its order in the footer, 0 for not there.
    """

    name: str
    key: str
    label: str
    tells: str
    places: tuple[Place, ...]
    footer: int = 0
    listed: bool = True  # in the command list
    everywhere: bool = False
    say: str = ""

    @property
    def target(self) -> str:
        """What Textual is told to run."""
        if self.say:
            return f"screen.say('{self.name}')"
        return f"app.{self.name}" if self.everywhere else f"screen.{self.name}"

    @property
    def shown_key(self) -> str:
        """The key as it is printed on keyboards: "F1", "Ctrl+S", "Esc"."""
        return shown(self.key)


def shown(key: str) -> str:
    """A key as it is printed on keyboards."""
    parts = key.split("+")
    named = {"escape": "Esc", "delete": "Del", "pageup": "PgUp", "pagedown": "PgDn"}
    return "+".join(
        named.get(part, part.upper() if len(part) == 1 and len(parts) > 1 else part.title()) for part in parts
    )


ACTIONS: tuple[Action, ...] = (
    Action(
        "help", "f1", "Help", "what can be done here", (*_TALKING, "plan", "why", "diary"), footer=1, everywhere=True
    ),
    Action("swap", "f2", "Heap", "to the heap, and back", _TALKING, footer=2),
    Action("why", "f3", "Why", "the reasons for any line", (*_TALKING, "plan"), footer=3),
    Action("plan", "f4", "Plan", "the whole plan as a page", _TALKING, footer=4),
    Action("diary", "f8", "Diary", "your heaps, day by day", _TALKING, footer=5),
    Action("correct", "enter", "Correct", "correct this entry", ("diary",), footer=2, listed=False),
    Action("take_back", "delete", "Take back", "take this entry back", ("diary",), footer=3),
    Action("save_plan", "f5", "To a file", "write the plan to a file", ("plan",), footer=2),
    Action("copy", "f6", "Copy", "copy it all to the clipboard", ("plan", "why"), footer=4),
    Action("unfold_all", "f7", "Open all", "open every reason, or shut them again", ("why",), footer=3),
    Action("earlier", "pageup", "Earlier", "up in what was said", ("talk",), listed=False),
    Action("later", "pagedown", "Later", "down again", ("talk",), listed=False),
    Action("undo", "ctrl+z", "Undo", "take back the last thing", (*_TALKING, "diary"), say="go back"),
    Action("save", "ctrl+s", "Save", "give it a file of its own", _TALKING, say="save"),
    Action("else", "", "What else", "what else could be done with it", _TALKING, say="what else could I do"),
    Action("told", "", "What I said", "what you have told so far", _TALKING, say="what have I told you so far"),
    *(
        Action(service.door, "", service.label, service.tells, _TALKING, say=service.say)
        for service in SERVICES
        if service.say
    ),
    Action("again", "", "Start again", "forget everything and start again", _TALKING, say="start again"),
    Action("metric", "", "Metric units", "litres, kilograms and metres", _TALKING, say="metric units"),
    Action("us", "", "US units", "gallons, pounds and feet", _TALKING, say="US units"),
    Action("light", "f9", "Light or dark", "light or dark colours", (*_TALKING, *_PAGES), everywhere=True),
    Action("back", "escape", "Back", "go back to the talk", ("heap", *_PAGES), footer=6, listed=False),
    Action(
        "command_palette",
        "ctrl+p",
        "Commands",
        "commands by name",
        (*_TALKING, "plan", "why", "diary"),
        listed=False,
        everywhere=True,
    ),
    Action("leave", "ctrl+q", "Leave", "close the program", (*_TALKING, *_PAGES), footer=6, everywhere=True),
)


def at(place: Place) -> tuple[Action, ...]:
    """What can be done in a place."""
    return tuple(action for action in ACTIONS if place in action.places)


def footer(place: Place) -> tuple[Action, ...]:
    """What the footer of a place shows, in its order, as far as eighty columns go."""
    there = sorted((action for action in at(place) if action.footer and action.key), key=lambda action: action.footer)
    shown_there = there[:MOST_IN_FOOTER]
    while sum(len(action.shown_key) + len(action.label) + 4 for action in shown_there) - 3 > _FOOTER_COLUMNS:
        shown_there.pop()
    return tuple(shown_there)


def named(name: str) -> Action:
    """The action of that name. Raises KeyError."""
    for action in ACTIONS:
        if action.name == name:
            return action
    raise KeyError(name)
