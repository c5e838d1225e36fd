"""Beside the talk, while it is about the soil: the beds of the diary and what their latest checks showed."""

from __future__ import annotations

import pytest
from driving import WIDE, Driver, driven

pytestmark = pytest.mark.asyncio


async def _counts_worms(driver: Driver, counts: str) -> None:
    for line in (counts, "20 cm", "2025-04-10", "yes"):
        await driver.say(line)


async def test_a_check_that_is_kept_stands_beside_the_talk_until_it_is_taken_out() -> None:
    async with driven(WIDE) as driver:
        await driver.say("count worms")
        for line in ("front bed", "skip", "skip"):
            await driver.say(line)
        assert "Nothing to go on yet" in driver.shown("#heap")
        await _counts_worms(driver, "3 4 2")
        beside = driver.shown("#heap")
        assert "front bed" in beside
        assert "earthworm count: few  10 April 2025" in beside
        await driver.press("ctrl+z")
        assert "Nothing to go on yet" in driver.shown("#heap")


async def test_the_heap_takes_its_place_back() -> None:
    async with driven(WIDE) as driver:
        await driver.say("count worms")
        for line in ("front bed", "skip", "skip"):
            await driver.say(line)
        await _counts_worms(driver, "30 40 32")
        assert "front bed" in driver.shown("#heap")
        await driver.say("no more for now")
        await driver.say("3 sacks of leaves and 2 buckets of grass")
        assert "front bed" not in driver.shown("#heap")
        assert driver.state.plan is not None
