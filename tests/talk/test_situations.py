"""Somebody's situation in one line is advised at once: nothing of it is a trouble, and what they have is in the mix."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from conversing import KNOWLEDGE, Person

from advisor.hearing.hear import hear
from advisor.talk.asking import guess
from advisor.talk.situation import is_situation

SITUATIONS = tomllib.loads((Path(__file__).parent / "situations.toml").read_text(encoding="utf-8"))["situation"]


@pytest.fixture
def person(tmp_path: Path) -> Person:
    return Person(tmp_path)


@pytest.mark.parametrize("told", SITUATIONS, ids=lambda told: told["say"][:40])
def test_a_situation_is_advised_at_once(told: dict, person: Person) -> None:
    person.says(told["say"])
    household = person.talk.household
    assert person.plan is not None
    assert person.plan.choice.method in told["methods"]
    assert {held.material for held in household.holdings} >= set(told["stuff"])
    for attribute, value in told.get("answers", {}).items():
        assert value in household.answers[attribute]
    for material, litres in told.get("litres", {}).items():
        assert person.litres(material) == pytest.approx(litres)
    assert person.talk.cure is None


@pytest.mark.parametrize(
    "said",
    [
        "the heap stinks and I have a small garden",
        "rats in the compost, we have a terraced house",
        "my bin is full of flies, family of four",
        "can I put eggshells in, I have three hens",
        "turned the pile on Sunday, big garden",
    ],
)
def test_what_is_wrong_asked_or_done_is_no_situation(said: str) -> None:
    assert not is_situation(hear(said, KNOWLEDGE))


def test_the_scraps_of_more_people_are_more() -> None:
    """74 kg a head and year: Food Waste Index Report, UNEP 2021; so twice the people leave twice the scraps."""
    two, four = (guess("kitchen-scraps", KNOWLEDGE, people).quantity.count for people in (2, 4))
    assert four == pytest.approx(2 * two)


def test_how_many_eat_may_be_told_later(person: Person) -> None:
    person.says("peelings and cardboard, a small garden")
    before = person.litres("vegetable-peelings")
    person.says("there are six of us")
    assert person.litres("vegetable-peelings") == pytest.approx(3 * before)


@pytest.mark.parametrize(
    ("said", "people"),
    [
        ("family of seven", 7),
        ("nine of us at home", 9),
        ("four adults and a dog", 4),
        ("I live alone", 1),
        ("my husband and I", 2),
        ("retired couple", 2),
        ("3 sacks of leaves", None),
        ("no family here", None),
    ],
)
def test_how_many_people_eat(said: str, people: int | None) -> None:
    told = [float(fact.value) for fact in hear(said, KNOWLEDGE).told if fact.name == "household.people"]
    assert told == ([people] if people else [])


def test_the_card_shows_the_whole_mix_with_what_is_still_to_get(person: Person) -> None:
    person.says("2 buckets of grass clippings and 1 bucket of kitchen scraps, a small garden")
    plan = person.plan
    assert plan is not None
    assert plan.recipe.fetch
    whole = {line.material for line in plan.recipe.whole}
    assert {line.material for line in plan.recipe.fetch} <= whole
    assert "grass-clippings" in whole
