"""Rules that come near the engine's fixed sizes are named before the engine stumbles over them."""

from __future__ import annotations

import subprocess
import sys

import pytest
import toy_garden as toy
from toy_garden import fact, rule

from advisor.errors import InferenceFault
from advisor.inference.engine import Engine
from advisor.inference.limits import limits
from advisor.knowledge.base import Rule

ENDS = [("yard.mood", "ash")]


def _areas(count: int) -> list[Rule]:
    return [rule(f"area-{n:03}", [f"yard.area > {n}"], ENDS) for n in range(count)]


def test_ordinary_rules_are_within_the_limits() -> None:
    assert limits(toy.RULES) == []
    assert limits(toy.many_rules(40)) == []
    assert limits([]) == []


def test_the_shipped_rules_are_within_the_limits() -> None:
    rules, _ = toy.shipped()
    assert rules
    assert limits(rules) == []


def test_too_many_conditions_in_a_rule() -> None:
    many = rule("many", [f"yard.area > {n}" for n in range(13)], ENDS)
    assert limits([many]) == ["rule many: 13 conditions, of 12 allowed"]


def test_too_many_comparisons_in_a_condition() -> None:
    words = ", ".join(["'ash'", "'bark'", "'clay'"])
    named = ", ".join(f"'{pile}'" for pile in toy.PILES)
    fine = rule("fine", [f"pile[{named}].trait in ({words})"], ENDS)
    assert limits([fine]) == []
    (condition,) = rule("many", ["25 <= yard.area < 35"], ENDS).when
    many = Rule(
        "many",
        "toy",
        "situation",
        (type(condition)("yard", "area", (), condition.tests * 12, False, "yard.area"),),
        fine.then,
        "So.",
        ("x",),
        "tradition",
        "toy.toml",
    )
    assert limits([many]) == ["rule many: 25 comparisons in yard.area, of 24 allowed"]


def test_one_fact_that_would_pass_too_many_tests_at_once() -> None:
    """The engine holds 64 that wait; 65 rules on one number are too many for it."""
    assert limits(_areas(48)) == []
    assert limits(_areas(49)) == ["yard.area: 49 passes 49 tests at once, of 48 allowed"]
    with Engine(_areas(64), toy.KINDS).consultation() as talk:
        talk.tell([fact("yard.area", 500)], "told")
    assert len(talk.firings) == 64
    with Engine(_areas(65), toy.KINDS).consultation() as talk, pytest.raises(InferenceFault) as caught:
        talk.tell([fact("yard.area", 500)], "told")
    assert "303" in str(caught.value.__cause__)


def test_tests_that_exclude_each_other_do_not_add_up() -> None:
    bands = [rule(f"band-{n:03}", [f"{n} <= yard.area < {n + 1}"], ENDS) for n in range(40)]
    assert limits(bands) == []


def test_tests_that_wait_below_one_another_do_add_up() -> None:
    """One fact passes all the areas; while the last is followed up to ten more, the others wait."""
    below = [rule(f"below-{n}", [f"60 < yard.area < {900 + n}"], ENDS) for n in range(10)]
    assert limits(_areas(38) + below) == []
    assert limits(_areas(39) + below) == ["yard.area: 480 passes 49 tests at once, of 48 allowed"]
    with Engine(_areas(54) + below, toy.KINDS).consultation() as talk:
        talk.tell([fact("yard.area", 500)], "told")
    assert len(talk.firings) == 64
    with Engine(_areas(55) + below, toy.KINDS).consultation() as talk, pytest.raises(InferenceFault) as caught:
        talk.tell([fact("yard.area", 500)], "told")
    assert "303" in str(caught.value.__cause__)


def test_many_rules_on_one_condition() -> None:
    alike = [rule(f"alike-{n:03}", ["yard.soil == 'clay'"], ENDS) for n in range(201)]
    assert limits(alike[:200]) == []
    assert limits(alike) == ["yard.soil == clay: 201 rules have this very condition, of 200 allowed"]


def test_many_different_comparisons_of_one_attribute() -> None:
    """At 512 the engine hangs; see the test of its edges."""
    bands = [rule(f"band-{n:03}", [f"{n} <= yard.area < {n + 0.5}"], ENDS) for n in range(401)]
    problems = limits(bands)
    assert "yard.area: 401 different comparisons follow, of 400 allowed" in problems


def test_many_lists_of_alternatives_with_one_word() -> None:
    lists = [rule(f"list-{n:03}", [f"yard.guests in ('ash', '{toy.WORDS[1 + n % 4]}')"], ENDS) for n in range(101)]
    assert "yard.guests == ash: 101 lists of alternatives share it, of 100 allowed" in limits(lists)


def test_rules_that_cannot_be_compiled_are_listed_and_the_rest_are_measured() -> None:
    fine = rule("too-fine", ["yard.area > 0.12345"], ENDS)
    assert limits([fine, *_areas(49)]) == [
        "rule too-fine: yard.area > 0.12345: facts are kept to four decimals, and this bound is finer",
        "yard.area: 49 passes 49 tests at once, of 48 allowed",
    ]


def test_the_same_must_mean_one_thing() -> None:
    two = ["pile['north'].share > 5", "pile['south'].share > 5"]
    assert limits([rule("two", two, [("pile.fate", "ash", "same")])]) == [
        "rule two: says pile = 'same', but its conditions name the pile more than once"
    ]
    assert limits([rule("two", two, [("pile.fate", "ash", "north")])]) == []
    one = ["pile['north'].share > 5", "pile['north'].trait == 'elm'"]
    assert limits([rule("one", one, [("pile.fate", "ash", "same")])]) == []
    free = ["pile['north'].share > 5", "pile.trait == 'elm'"]
    assert limits([rule("free", free, [("pile.fate", "ash", "same")])]) == []


def test_measuring_needs_no_engine() -> None:
    code = "import sys, advisor.inference.limits; sys.exit('durable' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False, timeout=60).returncode == 0
