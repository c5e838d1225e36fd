"""A picture of the app as SVG, with a shipped household talking to it: `python -m advisor.screens.picture OUT.svg`.

It is the app's own picture of itself: what the household has is typed, its questions are answered from its file, and
the screen is written out.
"""

from __future__ import annotations

import argparse
import asyncio
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.screens.app import HeapwrightApp
from advisor.screens.talk_screen import TalkScreen
from advisor.screens.themes import DUSK, THEMES
from advisor.units import figure_text

if TYPE_CHECKING:
    from advisor.household.shapes import Household
    from advisor.talk.replies import Question

HOUSEHOLD = "coffee-shop"
ANSWERS = 2  # so many questions are answered before the picture is taken
COLUMNS, ROWS = 120, 40


async def picture(name: str = HOUSEHOLD, theme: str = DUSK, size: tuple[int, int] = (COLUMNS, ROWS)) -> str:
    """The screen after a shipped household has said what it has and answered a question or two, as SVG.

    Raises:
        HouseholdError: there is no such household.
    """
    from advisor.counsel.in_use import in_use
    from advisor.household.files import read_household
    from advisor.places import scenarios_folder

    household = read_household(scenarios_folder() / f"{name}.toml", in_use())
    app = HeapwrightApp(keeps=False)
    async with app.run_test(size=size) as pilot:
        app.theme = theme
        screen = app.screen
        assert isinstance(screen, TalkScreen)
        await screen.opened.wait()
        await screen.hear(", ".join(holding.said for holding in household.holdings))
        await screen.jobs.join()
        for _ in range(ANSWERS):
            question = screen.desk.state.question
            if question is not None:
                await screen.hear(answer_to(question, household))
                await screen.jobs.join()
        await pilot.pause()
        return app.export_screenshot(title="heapwright")


def answer_to(question: Question, household: Household) -> str:
    """What a household would answer to a question, by its file: words to type, "I don't know" if it does not say."""
    if question.attribute == "place.room" and household.room is not None:
        sides = (figure_text(round(side, 1)) for side in (household.room.length_m, household.room.width_m))
        return f"{' by '.join(sides)} m"
    told = household.answers.get(question.attribute, ())
    said = [option.say for option in question.options if option.value is not None and option.value in told]
    if said:
        return ", ".join(said)
    if told and question.attribute == "place.holds":
        return f"{told[0]:g} litres"
    return "I don't know"


def main() -> None:
    """Write the picture to the file named."""
    parser = argparse.ArgumentParser(description="a picture of the app, as SVG")
    parser.add_argument("out", type=Path)
    parser.add_argument("--household", default=HOUSEHOLD, help=f"a shipped household (default: {HOUSEHOLD})")
    parser.add_argument("--theme", choices=[theme.name for theme in THEMES], default=DUSK)
    given = parser.parse_args()
    given.out.write_text(asyncio.run(picture(given.household, given.theme)), encoding="utf-8")


if __name__ == "__main__":
    main()
