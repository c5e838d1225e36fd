"""The picture for the papers: the app's own, of a shipped household."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from advisor.household.files import read_household
from advisor.household.shapes import Household, Room
from advisor.knowledge.load import shipped
from advisor.places import scenarios_folder
from advisor.screens.picture import HOUSEHOLD, answer_to, picture
from advisor.talk.replies import Option, Question


@pytest.mark.asyncio
async def test_it_is_an_svg_with_the_talk_and_the_heap() -> None:
    root = ElementTree.fromstring(await picture())
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    words = " ".join(part.replace("\xa0", " ") for part in root.itertext())
    household = read_household(scenarios_folder() / f"{HOUSEHOLD}.toml", shipped())
    for holding in household.holdings:
        assert shipped().materials[holding.material].name.split(",")[0] in words
    assert "You: " in words and "wanted" in words


def test_questions_are_answered_from_the_file() -> None:
    asked = Question(
        "place.space", "?", "", (Option("A garden", "a garden", "garden"), Option("A flat", "a flat", "flat"))
    )
    assert answer_to(asked, Household("x", answers={"place.space": ("garden",)})) == "a garden"
    assert answer_to(asked, Household("x")) == "I don't know"
    room = Question("place.room", "?", "", ())
    assert answer_to(room, Household("x", room=Room(1.5, 2))) == "1.5 by 2 m"
    holds = Question("place.holds", "?", "", ())
    assert answer_to(holds, Household("x", answers={"place.holds": (300.0,)})) == "300 litres"
