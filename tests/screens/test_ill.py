"""While a heap is ill the screen shows the cure: at its head, beside the talk, and on the page of the plan.

That dry browns go into a heap that smells of ammonia: source cornell-troubles-memory of the rule base.
"""

from __future__ import annotations

import pytest
from driving import NARROW, WIDE, driven

from advisor.screens.plan_page import PlanPage
from advisor.screens.widgets.section_view import SectionView
from advisor.screens.widgets.standing_view import StandingView
from advisor.screens.widgets.summary_line import SummaryLine

SICK = "my heap stinks of ammonia, it is 6 buckets of grass"


@pytest.mark.asyncio
@pytest.mark.parametrize("size", [NARROW, WIDE])
async def test_the_cure_stands_in_the_place_of_the_plan(size: tuple[int, int]) -> None:
    async with driven(size) as driver:
        await driver.say("3 sacks of leaves, 2 barrows of grass, I have a garden")
        await driver.say(SICK)
        head = str(driver.talk.query_one(SummaryLine).render())
        assert "too many greens" in head and "look again" in head
        beside = str(driver.talk.query_one(StandingView).render())
        assert "Today: " in beside and "If not" in beside
        assert not [view for view in driver.talk.query(SectionView) if view.region.area and driver.talk.is_wide]
        await driver.press("f4")
        assert isinstance(driver.app.screen, PlanPage)
        shown = driver.shown()
        assert "What to do" in shown and "The mix" not in shown
        await driver.press("escape")
        await driver.say("show the plan")
        assert driver.app.screen is driver.talk, "in words the cure is said again"
        assert "Today: " in driver.shown()


@pytest.mark.asyncio
async def test_lines_stand_without_their_names() -> None:
    async with driven(NARROW) as driver:
        await driver.say(SICK)
        assert not [row for row in driver.shown().splitlines() if row.strip().startswith(("t1", "t2"))]
