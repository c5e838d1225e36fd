"""Terminals of every kind: small, resized, without colour; and what is loaded before the first frame."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest
from driving import WIDE, driven

import advisor
from advisor.screens.app import HeapwrightApp
from advisor.screens.widgets.heap_pane import HeapPane

HAVE = "3 sacks of leaves, 1 bucket of coffee grounds, 2 buckets of grass"

COLOURS = re.compile(r"fill[:=] ?\"?(#[0-9a-f]{6})")
#: The frame that Textual draws around its pictures has three coloured buttons and a grey of its own.
WINDOW_BUTTONS = {"#ff5f57", "#febc2e", "#28c840", "#c5c8c6"}
GREYS = 10

HEAVY = (
    "pydantic",
    "numpy",
    "highspy",
    "durable",
    "rapidfuzz",
    "plotext",
    "advisor.papers.charts",
    "advisor.knowledge.load",
    "advisor.talk.session",
)


def test_nothing_heavy_is_loaded_before_the_first_frame() -> None:
    code = f"import sys, advisor.screens.app; print([name for name in {HEAVY!r} if name in sys.modules])"
    root = Path(advisor.__file__).parent.parent
    told = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True, cwd=root)
    assert told.stdout.strip() == "[]"


@pytest.mark.asyncio
@pytest.mark.parametrize("size", [(40, 12), (41, 17), (60, 20), (109, 30), (110, 24), (200, 60)])
async def test_the_talk_can_be_had_on_any_screen_that_is_not_tiny(size: tuple[int, int]) -> None:
    async with driven(size) as driver:
        await driver.say(HAVE)
        assert driver.state.plan is not None
        line = driver.line.region
        assert line.height >= 2 and driver.app.screen.region.contains_region(line)
        assert driver.talk.query_one("#foot").region.y == size[1] - 1
        assert driver.talk.query_one(HeapPane).display is (size[0] >= 110)
        await driver.press("f2")
        assert driver.state.plan.choice.name in driver.shown("#heap").casefold()


@pytest.mark.asyncio
@pytest.mark.parametrize("size", [(39, 24), (80, 11), (10, 3)])
async def test_a_tiny_terminal_says_so_and_loses_nothing(size: tuple[int, int]) -> None:
    async with driven((80, 24)) as driver:
        await driver.say("2 sacks of leaves")
        await driver.pilot.resize_terminal(*size)
        await driver.settled()
        assert "small" in driver.shown() or size == (10, 3)
        await driver.pilot.resize_terminal(80, 24)
        await driver.settled()
        assert "You: 2 sacks of leaves" in driver.shown()
        await driver.say("1 bucket of grass")
        assert len(driver.state.household.holdings) == 2, "the line has the focus again"


@pytest.mark.asyncio
async def test_panes_come_and_go_with_the_width() -> None:
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        heap = driver.talk.query_one(HeapPane)
        assert heap.display
        await driver.pilot.resize_terminal(80, 24)
        await driver.settled()
        assert not heap.display and driver.talk.query_one("#talk").display
        await driver.press("f2")
        assert heap.display
        await driver.pilot.resize_terminal(120, 40)
        await driver.settled()
        assert heap.display and driver.talk.query_one("#talk").display


@pytest.mark.asyncio
async def test_without_colour_everything_is_still_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        colours = set(COLOURS.findall(driver.app.export_screenshot()))
        assert {colour for colour in colours if not is_grey(colour)} <= WINDOW_BUTTONS
        without = words_of(driver.shown("#heap"))
    async with driven(WIDE) as driver:
        await driver.say(HAVE)
        assert words_of(driver.shown("#heap")) == without
        assert len(set(COLOURS.findall(driver.app.export_screenshot()))) > GREYS


def is_grey(colour: str) -> bool:
    red, green, blue = (int(colour[place : place + 2], 16) for place in (1, 3, 5))
    return max(red, green, blue) - min(red, green, blue) <= 2


def words_of(shown: str) -> str:
    """Without the scroll bar, whose ends are drawn with other signs where there is no colour."""
    return "\n".join(row.rstrip("▁▂▃▄▅▆▇█ ") for row in shown.splitlines())


@pytest.mark.asyncio
async def test_the_app_reports_how_it_ended() -> None:
    app = HeapwrightApp()
    async with app.run_test():
        await app.action_quit()
    assert app.return_code == 0
