"""The questions, asked of people whose true cause is known: fewer than in a fixed order or at random, and as right.

Numbers by hand: `python tests/diagnosis/population.py`. Nothing here is about time.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from population import TROUBLES, as_advised, at_random, consult, in_file_order, people, summary

from advisor.knowledge.load import shipped


@pytest.fixture(scope="module")
def outcomes() -> Mapping[str, Mapping[str, float]]:
    crowd = people(4)
    orders = {"advised": as_advised, "file": in_file_order, "random": at_random}
    return {name: summary([consult(person, order) for person in crowd]) for name, order in orders.items()}


def test_the_true_cause_is_found_in_spite_of_wrong_and_missing_answers(
    outcomes: Mapping[str, Mapping[str, float]],
) -> None:
    assert outcomes["advised"]["right"] >= 0.75
    assert outcomes["advised"]["settled"] >= 0.9


def test_three_follow_ups_or_fewer_in_the_median(outcomes: Mapping[str, Mapping[str, float]]) -> None:
    assert outcomes["advised"]["median of those asked"] <= 3


def test_fewer_questions_than_in_a_fixed_order_or_at_random(outcomes: Mapping[str, Mapping[str, float]]) -> None:
    assert outcomes["advised"]["mean"] < outcomes["file"]["mean"] < outcomes["random"]["mean"]


def test_the_population_speaks_of_real_causes_and_signs() -> None:
    knowledge = shipped()
    signs = knowledge.kinds["sign"].attributes
    for trouble in TROUBLES:
        assert set(trouble.causes) <= set(knowledge.notices["cause"])
        for attribute, shares in trouble.sees.items():
            assert set(shares) <= set(signs[attribute].words), (trouble.causes, attribute)
        for complaint in trouble.comes_with:
            attribute, _, value = complaint.partition("=")
            assert value in signs[attribute].words, complaint
