"""What is worked out ahead of an answer is what the answer would have brought, and says nothing of itself."""

from __future__ import annotations

import pytest
from conversing import ENGINE, KNOWLEDGE

from advisor.household.files import read_household
from advisor.household.shapes import Household
from advisor.places import scenarios_folder
from advisor.screens.picture import answer_to
from advisor.talk import reckoning
from advisor.talk.session import Talk

SHIPPED = [read_household(path, KNOWLEDGE) for path in sorted(scenarios_folder().glob("*.toml"))]


def played(household: Household, *, ahead: bool) -> list[object]:
    """All that is said and stands in a talk about a household, its first five exchanges."""
    talk, found = Talk(KNOWLEDGE, ENGINE), []
    said = ", ".join(holding.said for holding in household.holdings)
    for _ in range(5):
        found += [*talk.hear(said), talk.plan]
        if ahead:
            for _ in talk.look_ahead():
                pass
        if talk.question is None:
            break
        said = answer_to(talk.question, household)
    return found


@pytest.mark.parametrize("household", SHIPPED[::4], ids=lambda household: household.name)
def test_a_talk_that_looks_ahead_says_the_same(household: Household) -> None:
    assert played(household, ahead=True) == played(household, ahead=False)


def test_an_answer_that_was_looked_at_is_not_worked_out_again(monkeypatch) -> None:
    talk, consulted = Talk(KNOWLEDGE, ENGINE), []
    consult = reckoning.consult
    monkeypatch.setattr(reckoning, "consult", lambda *given, **named: consulted.append(1) or consult(*given, **named))
    talk.hear("6 sacks of leaves, 4 buckets of grass")
    before = talk.plan
    for _ in talk.look_ahead():
        pass
    assert talk.plan is before
    looked_at = len(consulted)
    told = [option for option in talk.question.options if option.value is not None]
    assert looked_at == 1 + len(told)
    assert not list(talk.look_ahead())  # there is nothing left to look at
    talk.hear(told[-1].say)
    assert len(consulted) == looked_at
    assert talk.household.answers[next(iter(talk.household.answers))] == (told[-1].value,)


def test_other_units_are_worked_out_afresh() -> None:
    talk = Talk(KNOWLEDGE, ENGINE)
    talk.hear("6 sacks of leaves, 4 buckets of grass")
    for _ in talk.look_ahead():
        pass
    answer = next(option.say for option in talk.question.options if option.value is not None)
    talk.hear("in gallons")
    talk.hear(answer)
    assert talk.plan.units == talk.units == "us"


def test_where_nothing_is_asked_there_is_nothing_to_look_at() -> None:
    talk = Talk(KNOWLEDGE, ENGINE)
    talk.open()
    assert list(talk.look_ahead()) == []
