"""From cold to a recipe in at most eight exchanges, for every household that comes with the program.

The measure of the aim is the whole file: the method must be the one that the consultation gives to somebody who has
answered everything.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from conversing import ENGINE, KNOWLEDGE
from simulate import play

from advisor.counsel.consult import consult
from advisor.counsel.doubts import outline
from advisor.household.amounts import read_phrase
from advisor.household.names import find_material
from advisor.household.shapes import Holding, Household
from advisor.places import scenarios_folder
from advisor.talk.memory import State
from advisor.talk.reckoning import MOVES_TO_A_PLAN, Reckoning

SHIPPED = sorted(scenarios_folder().glob("*.toml"))
CASES = tomllib.loads((Path(__file__).parents[1] / "counsel" / "method_cases.toml").read_text(encoding="utf-8"))["case"]


@pytest.mark.parametrize("path", SHIPPED, ids=[path.stem for path in SHIPPED])
def test_a_shipped_household_comes_to_its_recipe_within_eight_exchanges(path: Path) -> None:
    played = play(path)
    assert played.concluded
    assert played.exchanges <= 8
    assert played.method == played.wanted
    assert played.lost == []


def household_of(case: dict) -> Household:
    holdings = []
    for words in case["have"]:
        phrase = read_phrase(words, KNOWLEDGE)
        assert phrase.quantity is not None
        holdings.append(Holding(find_material(phrase.name, KNOWLEDGE).id, phrase.quantity, words))
    answers = {
        name: (value,) if isinstance(value, str | int | float) else tuple(value)
        for name, value in case["answers"].items()
    }
    return Household(case["id"], tuple(holdings), answers)


def test_so_does_every_published_situation() -> None:
    # The published situations of tests/counsel/method_cases.toml, each with its source there. Eight moves may leave a
    # question unasked, so one in twenty may come to another method than the whole file, but to none the source does not
    # accept.
    missed, other = [], []
    for case in CASES:
        whole = household_of(case)
        state = State(Household(whole.name, whole.holdings), spent=1)
        reckoning = Reckoning(KNOWLEDGE, ENGINE)
        while state.spent < MOVES_TO_A_PLAN:
            reckoning.work_out(state.household, "metric")
            asked, _ = reckoning.next_asked(state, "metric")
            if asked is None:
                break
            given = whole.answers.get(asked.key)
            answers = {**state.household.answers, **({asked.key: given} if given else {})}
            skipped = state.skipped if given else state.skipped | {asked.key}
            state = State(Household(whole.name, whole.holdings, answers), skipped, spent=state.spent + 1)
        came_to = outline(state.household, KNOWLEDGE, ENGINE).method
        if came_to != consult(whole, KNOWLEDGE, ENGINE, with_doubts=False).choice.method:
            other.append((case["id"], came_to))
            if came_to not in {*case["recommended"], *case.get("acceptable", [])}:
                missed.append((case["id"], came_to))
    assert missed == []
    assert len(other) <= len(CASES) / 20
