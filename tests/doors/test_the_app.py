"""The app shows none of the signs that drive a terminal, and all of the writing."""

from __future__ import annotations

from pathlib import Path

import pytest
from hostile import BARE_IN_TOML, IN_TOML, SIGNS, WRITING, driving

from advisor.household.files import read_household
from advisor.knowledge.load import shipped
from advisor.screens.app import HeapwrightApp
from advisor.screens.saving import _path, _trouble
from advisor.screens.widgets.say_line import SayLine
from advisor.screens.widgets.turn import Turn


@pytest.mark.asyncio
async def test_a_household_of_somebody_else_and_hostile_words(tmp_path: Path) -> None:
    path = tmp_path / "home.toml"
    have = f'"3 sacks{BARE_IN_TOML} dry leaves", "2 buckets grass"'
    path.write_text(f'name = "A{IN_TOML}é"\nhave = [{have}]\n', encoding="utf-8")
    app = HeapwrightApp(household=read_household(path, shipped()))
    app.animation_level = "none"
    async with app.run_test(size=(120, 40)) as pilot:
        talk = app.screen_stack[0]
        await talk.opened.wait()
        await pilot.pause()
        line = talk.query_one(SayLine)
        line.value = f"xyzzy{SIGNS} of {WRITING}"
        await pilot.press("enter")
        await talk.jobs.join()
        await pilot.pause()
        for page in ("", "f2", "f3", "f4"):
            if page:
                await pilot.press(page)
                await pilot.pause()
            rows = "\n".join(strip.text for strip in app.screen._compositor.render_strips())
            assert not driving(rows), page
            await pilot.press("escape")
        said = [turn.said for turn in talk.query(Turn)]
        assert not driving("".join(said))
        assert any("xyzzy" in one and "👩‍🌾" in one for one in said)
    assert app.faults == []


@pytest.mark.parametrize("name", ["x" * 5000, "ü" * 200, "a/" * 3000 + "b", "~nobody-of-that-name/plan.md", ""])
def test_names_of_files_that_cannot_be_are_told_in_one_line(name: str) -> None:
    said = _trouble(name, _path(name))
    assert said and "\n" not in said and len(said) < 300
