"""The app: one talk, the pages over it, two sets of colours, and the commands."""

from __future__ import annotations

import sys
import traceback
from typing import TYPE_CHECKING

from textual.app import App, SystemCommand
from textual.events import Key

from advisor.screens.actions import Place, at
from advisor.screens.desk import Desk
from advisor.screens.page import Page
from advisor.screens.talk_screen import TalkScreen
from advisor.screens.themes import THEMES, first_theme, other, remember, remembered

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable, Iterable

    from textual.events import Event
    from textual.screen import Screen

    from advisor.household.shapes import Household
    from advisor.units import Units


BYE = "bye"


def run(*, units: Units = "metric", household: Household | None = None) -> int:
    """Open the app and stay until the person leaves.

    Returns:
        The exit code: 0, or 1 if the app broke or if a fault of ours was met with on the way, which is then printed.
    """
    app = HeapwrightApp(units=units, household=household)
    app.run()
    for fault in app.faults:
        traceback.print_exception(fault, file=sys.stderr)
    return app.return_code or int(bool(app.faults))


class HeapwrightApp(App[None]):
    """heapwright on screen."""

    TITLE = "heapwright"
    # the talk is the default screen, whose own styles Textual does not read
    CSS_PATH = "talk_screen.tcss"

    def __init__(self, *, units: Units = "metric", household: Household | None = None, keeps: bool = True) -> None:
        """Make it.

        Args:
            household: what is known already.
            keeps: whether what is said is kept in the diary.
        """
        super().__init__()
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = remembered() or first_theme()
        self._units = units
        self._household = household
        self._keeps = keeps
        self._leaving = False
        self.faults: list[Exception] = []
        """What broke without ending the talk; told on the screen when it happened."""

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """The inks, for any theme that does not have them."""
        return dict(THEMES[0].variables)

    def get_default_screen(self) -> Screen[None]:
        """The talk is what everything else lies on."""
        return TalkScreen(Desk(self._units, self._household, keeps=self._keeps))

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """The commands that make sense where the person is, from the table of actions."""
        for action in at(place_of(screen)):
            if action.listed:
                yield SystemCommand(action.label, action.tells, _runner(self, action.target))

    def on_talk_screen_broke(self, event: TalkScreen.Broke) -> None:
        """Keep a fault, to be printed in the end."""
        self.faults.append(event.error)

    async def on_event(self, event: Event) -> None:
        """What is typed belongs to the line of the talk, wherever the person is: it has the focus before the letter."""
        if isinstance(event, Key) and event.is_printable and not event.is_forwarded:
            self._type_in_the_talk(event.character or "")
        await super().on_event(event)

    def _type_in_the_talk(self, sign: str) -> None:
        talk = self.screen_stack[0]
        if not isinstance(talk, TalkScreen) or not (self.screen is talk or isinstance(self.screen, Page)):
            return
        if talk.takes(sign, over_a_page=self.screen is not talk):
            while self.screen is not talk:
                self.pop_screen()
            talk.begin()

    def action_help(self) -> None:
        """Help for where the person is."""
        from advisor.screens.help_page import HelpPage

        self.push_screen(HelpPage(place_of(self.screen)))

    def action_light(self) -> None:
        """Light or dark."""
        self.theme = other(self.theme)
        remember(self.theme)

    async def action_quit(self) -> None:
        """Close the program, with a word of farewell if the talk is free to say it; at once if asked twice."""
        talk = self.screen_stack[0]
        if self._leaving or not isinstance(talk, TalkScreen) or not talk.opened.is_set():
            self.exit()
            return
        self._leaving = True
        await talk.hear(BYE)

    async def action_leave(self) -> None:
        """The same, by the name of the table of actions."""
        await self.action_quit()

    def action_help_quit(self) -> None:
        """What Ctrl+C does where there is nothing to copy: it says how to leave."""
        self.notify("Ctrl+Q leaves.", title="To leave")


def place_of(screen: Screen[object]) -> Place:
    """The place in the table of actions that a screen is."""
    if isinstance(screen, Page):
        return screen.PLACE
    return screen.place if isinstance(screen, TalkScreen) else "talk"


def _runner(app: App[None], target: str) -> Callable[[], Awaitable[None]]:
    async def run_it() -> None:
        await app.screen.run_action(target)

    return run_it
