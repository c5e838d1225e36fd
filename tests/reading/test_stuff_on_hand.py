"""What is said of stuff on hand is no sign of a heap; commands and corrections put together. Lines of our own."""

from __future__ import annotations

import pytest

from advisor.hearing.hear import hear
from advisor.hearing.shapes import Heard
from advisor.knowledge.load import shipped


def _told(heard: Heard) -> set[str]:
    return {fact.name for fact in heard.facts if fact.stance == "told"}


@pytest.mark.parametrize(
    "line",
    [
        "two sacks of hedge trimmings, bit soggy",
        "spent hops by the tonne from the brewery, they honk a bit",
        "seaweed, a trailer load, dripping wet",
        "my nan's got a shed full of old newspapers, dusty as hell",
    ],
)
def test_dry_wet_or_stinking_stuff_is_stock(line: str) -> None:
    heard = hear(line, shipped())
    assert heard.acts[:1] == ("stock",)
    assert not _told(heard) & {"sign.moisture", "sign.smell"}


@pytest.mark.parametrize(
    "line",
    ["the heap is soggy since I put two sacks of trimmings on", "three buckets of grass in there and it stinks"],
)
def test_a_heap_that_is_named_keeps_its_signs(line: str) -> None:
    assert _told(hear(line, shipped())) & {"sign.moisture", "sign.smell"}


def test_a_vessel_that_only_measures_is_no_container() -> None:
    assert "place.container" not in _told(hear("a wheelie bin of cut grass", shipped()))
    assert "place.container" in _told(hear("I've built it out of old pallets", shipped()))


@pytest.mark.parametrize(("line", "name"), [("dry as a biscuit", "biscuit"), ("behind the oil tank", "oil")])
def test_what_stands_in_another_word_is_no_stuff(line: str, name: str) -> None:
    assert name not in {one.said for one in hear(line, shipped()).materials}


@pytest.mark.parametrize(
    ("line", "act"),
    [
        ("strike my previous entry", "undo"),
        ("ctrl + z", "undo"),
        ("un-undo that", "redo"),
        ("hang on to all this for me, kettle's on", "save"),
        ("where's my stuff from before", "load"),
        ("use kilos from now on", "units"),
        ("give us a list of what you can do", "help"),
        ("back to square one please", "start_over"),
        ("tea's on the table bye", "leave"),
        ("that will be all", "leave"),
        ("ta very much, you're a star", "off"),
        ("what do you make of the election", "off"),
        ("no no, it's the neighbour who has rats", "correct"),
        ("double what I said", "correct"),
        ("the site rules say nothing over four foot", "circumstance"),
        ("third floor, no lift, and I'm on my own", "circumstance"),
    ],
)
def test_the_first_act(line: str, act: str) -> None:
    assert hear(line, shipped()).acts[:1] == (act,)


@pytest.mark.parametrize(
    "line", ["keep it moist", "I left it there a week", "the election of the best bin for my compost", "a cup of tea"]
)
def test_what_only_sounds_like_a_command(line: str) -> None:
    assert not {"save", "leave", "off", "undo"} & set(hear(line, shipped()).acts[:1])
