"""Every shipped household talks to the app by keys alone, on a small and on a large terminal, and gets its plan."""

from __future__ import annotations

import tomllib

import pytest
from driving import NARROW, WIDE, Driver, driven, typed_answer
from shipped_plans import NAMES, roles

from advisor.household.files import read_household
from advisor.knowledge.load import shipped
from advisor.places import scenarios_folder
from advisor.screens.drawing.swatches import swatches
from advisor.screens.plan_page import PlanPage
from advisor.screens.widgets.holding_row import HoldingRow
from advisor.screens.widgets.section_view import SectionView

MOST_EXCHANGES = 8


@pytest.mark.asyncio
@pytest.mark.parametrize(("place", "name"), enumerate(NAMES), ids=NAMES)
async def test_from_what_there_is_to_the_plan(place: int, name: str) -> None:
    """Every household is shown at both sizes; which of them it is talked through at goes by turns."""
    path = scenarios_folder() / f"{name}.toml"
    household = read_household(path, shipped())
    have = tomllib.loads(path.read_text(encoding="utf-8"))["have"]
    sizes = (NARROW, WIDE) if place % 2 else (WIDE, NARROW)
    async with driven(sizes[0]) as driver:
        await driver.say(", ".join(have))
        exchanges = 1
        while driver.state.question is not None and exchanges < MOST_EXCHANGES:
            await driver.say(typed_answer(driver.state.question, household))
            exchanges += 1
        told = {holding.material for holding in driver.state.household.holdings}
        assert told == {holding.material for holding in household.holdings}
        assert not [turn for turn in driver.turns if turn.kind == "fault"]
        await shown(driver, sizes[0])
        await driver.resize(*sizes[1])
        await driver.settled()
        await shown(driver, sizes[1])


async def shown(driver: Driver, size: tuple[int, int]) -> None:
    """The heap and the page follow what was said, out of sight or beside the talk."""
    plan = driver.state.plan
    assert plan is not None
    assert [row.stock.name for row in driver.talk.query(HoldingRow)] == [heard.name for heard in plan.heard]
    if size == NARROW:
        await driver.press("f2")
    drawing = driver.talk.query_one(SectionView)
    assert drawing.plan is not None and drawing.plan.recipe == plan.recipe
    told = swatches(plan, roles())
    for line in plan.recipe.lines:
        assert told[line.material].patch in drawing.render().plain
    assert plan.choice.name.casefold() in driver.shown("#standing").casefold()

    await driver.press("f4")
    assert isinstance(driver.app.screen, PlanPage)
    assert "What there is" in driver.shown()
    await driver.press("escape")
    assert driver.app.screen is driver.talk
    if size == NARROW:
        await driver.press("f2")
