"""Driving the real app by keys, as a person would."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress

from textual import events
from textual.drivers.headless_driver import HeadlessDriver
from textual.geometry import Size
from textual.pilot import Pilot
from textual.widget import Widget

from advisor.household.shapes import Household
from advisor.screens.app import HeapwrightApp
from advisor.screens.desk import State
from advisor.screens.talk_screen import TalkScreen
from advisor.screens.widgets.say_line import SayLine
from advisor.screens.widgets.transcript import Transcript
from advisor.screens.widgets.turn import Turn
from advisor.talk.replies import Question

DRAWN_EVERY = 0.001
"""Seconds between two drawings. A screen is drawn sixty times a second for people; tests wait for it, and need not."""

CYCLES = 4  # a key, the message it posts, what that changes, and its layout
NARROW, WIDE = (80, 24), (120, 40)


class Driver:
    """A person at the keyboard."""

    def __init__(self, pilot: Pilot[None]) -> None:
        self.pilot = pilot
        app = pilot.app
        assert isinstance(app, HeapwrightApp)
        self.app = app
        talk = app.screen_stack[0]
        assert isinstance(talk, TalkScreen)
        self.talk = talk

    async def press(self, *keys: str) -> None:
        """Press keys and wait until what follows is on the screen."""
        for key in keys:
            self.app.post_message(events.Key(key, key if len(key) == 1 else None))
            await self.settled()

    async def type(self, text: str) -> None:
        """Type text key by key, as fast as a terminal hands keys on, without Enter."""
        for sign in text:
            self.app.post_message(events.Key(sign, sign))

    async def say(self, text: str) -> None:
        """Type a line and press Enter."""
        await self.type(text)
        await self.press("enter")

    async def settled(self) -> None:
        """Until all that was said is answered and drawn."""
        await self.talk.opened.wait()
        await self.drawn()
        await self.talk.jobs.join()
        opening = [worker for worker in self.app.workers if worker.group == "plan"]
        if opening:
            await self.app.workers.wait_for_complete(opening)
        await self.drawn()

    async def drawn(self) -> None:
        """Until every message, and what each of them led to, has been dealt with and drawn."""
        for _ in range(CYCLES):
            await self._read()
            refreshed = asyncio.Event()
            if self.app._exit or not self.app.screen.call_after_refresh(refreshed.set):
                return
            with suppress(asyncio.TimeoutError):  # an app that is on its way out draws no more
                await asyncio.wait_for(refreshed.wait(), 1)
            await asyncio.sleep(0)

    async def _read(self) -> None:
        """Until no message waits to be read, such as the rest of a line that is typed."""
        async with asyncio.timeout(10):
            while any(
                pump._message_queue is not None and not pump._message_queue.empty()
                for pump in (self.app, *self.app.screen.walk_children(with_self=True))
            ):
                await asyncio.sleep(DRAWN_EVERY)

    async def resize(self, width: int, height: int) -> None:
        """Give the window another size, as a terminal tells of it, and wait until it is drawn."""
        size = Size(width, height)
        if isinstance(self.app._driver, HeadlessDriver):
            self.app._driver._size = size
        self.app.post_message(events.Resize(size, size))
        async with asyncio.timeout(10):
            while (self.app._size != size or self.app._resize_event is not None) and self.app._exception is None:
                await asyncio.sleep(DRAWN_EVERY)  # sizes that follow each other fast are taken together
        await self.drawn()

    @property
    def state(self) -> State:
        """What stands."""
        return self.talk.desk.state

    @property
    def line(self) -> SayLine:
        """The line to type in."""
        return self.talk.query_one(SayLine)

    @property
    def turns(self) -> list[Turn]:
        """What was said so far."""
        return list(self.talk.query_one(Transcript).query(Turn))

    @property
    def said(self) -> list[str]:
        """The words of every turn."""
        return [turn.said for turn in self.turns]

    def shown(self, selector: str = "Screen") -> str:
        """The signs on the screen, or in one part of it, as a reader sees them."""
        widget: Widget = self.app.screen if selector == "Screen" else self.app.screen.query_one(selector)
        return text_of(self.app, widget)


def text_of(app: HeapwrightApp, widget: Widget) -> str:
    """The rows of the screen that a widget covers."""
    region = widget.region
    rows = []
    for strip in app.screen._compositor.render_strips()[region.y : region.bottom]:
        rows.append(strip.crop(region.x, region.right).text.rstrip())
    return "\n".join(rows)


@asynccontextmanager
async def driven(size: tuple[int, int] = NARROW, household: Household | None = None) -> AsyncIterator[Driver]:
    """The app, opened and ready."""
    app = HeapwrightApp(household=household)
    app.animation_level = "none"
    async with app.run_test(size=size) as pilot:
        driver = Driver(pilot)
        await driver.settled()
        yield driver
    assert app.faults == []


def typed_answer(question: Question, household: Household) -> str:
    """What a household would type in answer to a question, by its file: numbers, words, or the last answer."""
    room = household.room
    if question.attribute == "place.room" and room is not None:
        return f"{room.length_m:g} x {room.width_m:g} m"
    told = household.answers.get(question.attribute, ())
    numbers = [str(place) for place, option in enumerate(question.options, 1) if option.value in told]
    if question.attribute == "place.holds" and told:
        return f"{told[0]:g} litres"
    return ", ".join(numbers) or str(len(question.options))
