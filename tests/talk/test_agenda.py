"""The agenda asks what would move the conclusion most, and nothing that would not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from conversing import ENGINE, KNOWLEDGE, have

from advisor.counsel.doubts import Prospect, answered, outline, possible, prospects
from advisor.counsel.sketch import Outline
from advisor.household.files import read_household
from advisor.household.shapes import Household
from advisor.places import scenarios_folder
from advisor.talk.agenda import (
    AIM,
    METHOD,
    NOTICE,
    TURNINGS,
    amounts,
    together,
    topics,
    weight,
    worth,
)

SHIPPED = [read_household(path, KNOWLEDGE) for path in sorted(scenarios_folder().glob("*.toml"))]
GARDEN = Household(
    "a garden",
    tuple(have(words).holding for words in ("6 sacks dry leaves", "1 bucket kitchen scraps a week", "4 buckets grass")),
    {"place.space": ("garden",)},
)


def test_another_method_weighs_most_then_the_way_then_turnings_then_notices() -> None:
    now = Outline("bin", "steady", 3, frozenset({"caution.dust"}))
    assert weight(now, replace(now, method="open-heap"), KNOWLEDGE) == METHOD
    assert weight(now, replace(now, aim="hot", turnings=7), KNOWLEDGE) == AIM
    assert weight(now, replace(now, turnings=7), KNOWLEDGE) == TURNINGS
    assert weight(now, replace(now, notices=frozenset({"caution.dust", "caution.lifting"})), KNOWLEDGE) == NOTICE
    assert (
        weight(now, replace(now, notices=frozenset()), KNOWLEDGE) == 0
    )  # a caution that falls away is no reason to ask
    assert weight(now, now, KNOWLEDGE) == 0
    assert METHOD > AIM > TURNINGS > NOTICE


def test_what_no_answer_moves_is_not_asked() -> None:
    for household in SHIPPED[::4]:
        bare = replace(household, answers={}, room=None)
        asked = {topic.attribute for topic in topics(bare, KNOWLEDGE, ENGINE)}
        for prospect in prospects(bare, KNOWLEDGE, ENGINE):
            notices = any(after.notices - prospect.now.notices for _, after in prospect.outcomes)
            if prospect.moves or notices:
                continue
            # unless two answers together would bring another method; then it may be asked
            if prospect.question.attribute in asked:
                assert _moves_with_another(bare, prospect)


def _moves_with_another(household: Household, prospect: Prospect) -> bool:
    """By trying every pair of answers outright."""
    now = outline(household, KNOWLEDGE, ENGINE).method
    for answer, _ in prospect.outcomes:
        one = answered(household, prospect.question.attribute, answer)
        for other in prospects(one, KNOWLEDGE, ENGINE):
            if any(after.method != now for _, after in other.outcomes):
                return True
    return False


def test_the_best_question_is_the_one_with_the_largest_expected_move() -> None:
    found = topics(GARDEN, KNOWLEDGE, ENGINE)
    assert [topic.worth for topic in found] == sorted((topic.worth for topic in found), reverse=True)
    by_hand = {}
    for prospect in prospects(GARDEN, KNOWLEDGE, ENGINE):
        moves = [weight(prospect.now, after, KNOWLEDGE) for _, after in prospect.outcomes]
        by_hand[prospect.question.attribute] = sum(moves) / len(moves)
    for topic in found:
        assert topic.worth <= by_hand[topic.attribute] + 8.0  # what two answers together may add
        assert topic.worth > 0


def test_what_is_hard_to_find_out_is_worth_less() -> None:
    prospect = next(iter(prospects(GARDEN, KNOWLEDGE, ENGINE)))
    at_once = replace(prospect, question=prospect.question.model_copy(update={"ease": 1}))
    to_measure = replace(prospect, question=prospect.question.model_copy(update={"ease": 5}))
    assert worth(at_once, 0.5, KNOWLEDGE) > worth(to_measure, 0.5, KNOWLEDGE)


def test_what_is_answered_or_not_known_is_not_asked_again() -> None:
    first = topics(GARDEN, KNOWLEDGE, ENGINE)[0].attribute
    assert first not in {topic.attribute for topic in topics(GARDEN, KNOWLEDGE, ENGINE, passing_over={first})}
    told = answered(GARDEN, first, possible(first, KNOWLEDGE)[0])
    assert first not in {topic.attribute for topic in topics(told, KNOWLEDGE, ENGINE)}


def test_two_answers_that_only_together_bring_another_method_are_found() -> None:
    # Every pair of answers that do nothing alone, tried outright, against the reckoning by sums of scores.
    household = Household(
        "a desert yard",
        (have("1 bucket kitchen scraps a week").holding, have("2 sacks dry leaves").holding),
        {"place.space": ("garden",), "place.season": ("summer",), "wish.turning": ("rarely",)},
    )
    open_ones = prospects(household, KNOWLEDGE, ENGINE)
    shares = together(open_ones, KNOWLEDGE)
    tried = np.zeros((len(open_ones), len(open_ones)))
    for i, one in enumerate(open_ones):
        for value, alone in one.outcomes:
            if alone.method != one.now.method:
                continue
            further = answered(household, one.question.attribute, value)
            left = {p.question.attribute: p for p in prospects(further, KNOWLEDGE, ENGINE)}
            for j, other in enumerate(open_ones):
                prospect = left.get(other.question.attribute)
                if prospect is None or i == j:
                    continue
                for (_, by_itself), (_, both) in zip(other.outcomes, prospect.outcomes, strict=True):
                    if by_itself.method == one.now.method and both.method != one.now.method:
                        tried[i, j] += 1 / (len(one.outcomes) * len(other.outcomes))
    for place, share in enumerate(shares):
        # rules that see two answers at once escape the sums; what the sums find is there
        assert share <= tried[place].max() + 1e-9
    assert max(shares) > 0


def test_a_guess_is_asked_about_only_if_more_or_less_would_change_the_advice() -> None:
    some = have("2 buckets kitchen scraps a week").holding
    household = replace(GARDEN, holdings=(have("6 sacks dry leaves").holding, some))
    now = outline(household, KNOWLEDGE, ENGINE)
    found = amounts(household, {"kitchen-scraps"}, KNOWLEDGE, ENGINE, now)
    moved = []
    for factor in (0.25, 4.0):
        quantity = replace(some.quantity, count=2 * factor, low=2 * factor, high=2 * factor)
        other = replace(household, holdings=(household.holdings[0], replace(some, quantity=quantity)))
        moved.append(outline(other, KNOWLEDGE, ENGINE) != now)
    assert bool(found) == any(moved)
    assert amounts(household, set(), KNOWLEDGE, ENGINE, now) == ()
