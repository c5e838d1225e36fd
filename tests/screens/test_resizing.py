"""A window may be made any size at any moment, whatever lies open in it."""

from __future__ import annotations

import random

import pytest
from driving import NARROW, WIDE, Driver, driven
from textual import events

from advisor.screens.talk_screen import FEWEST_COLUMNS, FEWEST_ROWS
from advisor.screens.widgets.choices import Choices
from advisor.screens.widgets.transcript import Transcript

pytestmark = pytest.mark.asyncio

SMALLEST, SMALL, LARGEST = (30, 8), (60, 18), (200, 60)

#: What is said in turn, so that every kind of reply and of question lies open once: a greeting with its doors, a heard
#: line with a verdict and cautions, an answer to pick, several, a figure to type, a chart, words that were lost, a
#: diagnosis, a sheet, the page of the plan, of the reasons and of the keys.
SAID = (
    "",
    "3 sacks of leaves, 1 bucket of coffee grounds, 2 buckets of grass",
    "help",
    "purple monkey",
    "what if I had no leaves",
    "my heap stinks of ammonia",
    "check my soil",
    "never mind",
    "deep bedding",
    "never mind",
    "compare quick and slow",
    "never mind",
    "what have I told you so far",
)
PAGES = ("f2", "escape", "f4", "enter", "escape", "escape", "f3", "escape", "f1", "escape")


async def walk(driver: Driver, chance: random.Random) -> None:
    """To a size as it comes, and to a small one, where rows and columns run out."""
    for most in (LARGEST, SMALL):
        size = tuple(chance.randint(low, high) for low, high in zip(SMALLEST, most, strict=True))
        await driver.resize(*size)
        assert driver.app._exception is None, f"at {size}"


@pytest.mark.parametrize("seed", range(2))
async def test_no_size_breaks_it_whatever_lies_open(seed: int) -> None:
    chance = random.Random(seed)
    async with driven(WIDE) as driver:
        for words in SAID:
            if words:
                await driver.talk.hear(words)
                await driver.settled()
            await walk(driver, chance)
        await driver.resize(*WIDE)
        for key in PAGES:
            driver.app.post_message(events.Key(key, None))
            await driver.drawn()
            await walk(driver, chance)
        await driver.resize(*NARROW)
        await driver.settled()
        assert driver.line.display and driver.line.region.width > 0


@pytest.mark.parametrize("many", [False, True])
async def test_wide_to_small_at_one_go_with_answers_open(many: bool) -> None:
    async with driven((160, 50)) as driver:
        await driver.say("3 sacks of leaves, 1 bucket of coffee grounds")
        while many and driver.state.question is not None and not driver.state.question.many:
            await driver.say(str(len(driver.state.question.options)))
        for size in ((40, 12), (120, 40), (50, 15), (160, 50), SMALLEST, (112, 20), (FEWEST_COLUMNS, FEWEST_ROWS)):
            await driver.resize(*size)
            assert driver.app._exception is None, f"at {size}"
        assert driver.talk.query_one(Choices).offered


async def test_a_page_over_the_talk_does_not_keep_it_from_following_the_window() -> None:
    async with driven(WIDE) as driver:
        await driver.say("3 sacks of leaves, 1 bucket of coffee grounds")
        await driver.press("f4")
        await driver.resize(*NARROW)
        await driver.press("escape")
        assert not driver.talk.query_one("#heap").display
        assert driver.talk.query_one(Transcript).region.width == NARROW[0]
