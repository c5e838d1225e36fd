"""Less of what there is: never below zero, said back, and taken back again.

Amounts are held against plain sums: 3 sacks less 1 sack are 2 sacks; what is counted in other measures is taken by
volume, with the litres of rules/measures.toml.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from conversing import HERE, KNOWLEDGE, Person
from hypothesis import given
from hypothesis import strategies as st

from advisor.household.shapes import Holding, Household, OwnMeasure, Quantity
from advisor.talk.hearing import listened
from advisor.talk.intents import Less
from advisor.talk.lessening import Lessened, lessened
from advisor.talk.memory import State, after

BUCKET, SACK = (KNOWLEDGE.measures[name].litres.typical for name in ("bucket", "sack"))


@pytest.fixture
def person(tmp_path: Path) -> Person:
    return Person(tmp_path)


def counts(person: Person, material: str) -> list[tuple[float, str]]:
    held = [one.quantity for one in person.talk.household.holdings if one.material == material]
    return [(quantity.count, quantity.measure) for quantity in held]


def leaves(count: float, measure: str = "sack", low: float | None = None, high: float | None = None) -> Holding:
    quantity = Quantity(count, low or count, high or count, measure)
    return Holding("dry-leaves", quantity, f"{count:g} {measure} leaves")


def left(there: list[Holding], taken: Quantity | float, household: Household | None = None) -> Lessened:
    found = lessened(there, taken, household or Household("any"), KNOWLEDGE)
    assert isinstance(found, Lessened), found
    return found


# ---------------------------------------------------------------------- said in the talk


def test_a_sack_less_is_said_back_and_taken_back(person: Person) -> None:
    person.says("3 sacks of leaves and 2 buckets of coffee grounds", "remove 1 sack of leaves")
    assert "1 sack of dry autumn leaves less, so 2 sacks of dry autumn leaves" in person.heard("heard")
    assert counts(person, "dry-leaves") == [(2.0, "sack")]
    assert person.litres("dry-leaves") == pytest.approx(2 * SACK)
    person.says("go back")
    assert "Taken back: 1 sack of dry autumn leaves less" in person.heard("heard")
    assert counts(person, "dry-leaves") == [(3.0, "sack")]


def test_what_is_used_up_is_gone(person: Person) -> None:
    person.says("3 sacks of leaves and 2 buckets of coffee grounds", "I used two buckets of the coffee grounds")
    assert "so no coffee grounds" in person.heard("heard")
    assert counts(person, "coffee-grounds") == []
    assert counts(person, "dry-leaves") == [(3.0, "sack")]


def test_more_than_there_is_leaves_nothing_and_says_so(person: Person) -> None:
    person.says("2 sacks of leaves, a bucket of grass", "take away 5 sacks of leaves")
    assert "there was no more" in person.heard("heard")
    assert counts(person, "dry-leaves") == []


def test_of_what_was_never_told_nothing_can_be_taken(person: Person) -> None:
    person.says("2 sacks of leaves", "take away a bucket of straw")
    assert "any straw" in person.heard("lost")
    assert [held.material for held in person.talk.household.holdings] == ["dry-leaves"]


def test_what_comes_every_week_is_lessened_by_the_week(person: Person) -> None:
    person.says("3 buckets of grass a week", "take away a bucket of grass")
    assert "again and again" in person.heard("lost")
    assert counts(person, "grass-clippings") == [(3.0, "bucket")]
    person.says("take away a bucket of grass a week")
    assert counts(person, "grass-clippings") == [(2.0, "bucket")]


def test_half_of_it(person: Person) -> None:
    person.says("3 sacks of leaves", "remove half the leaves")
    assert counts(person, "dry-leaves") == [(1.5, "sack")]


def test_a_guess_stays_a_guess() -> None:
    state = State(Household("any", (leaves(2),)), guesses=frozenset({"dry-leaves"}))
    heard = listened([Less("dry-leaves", Quantity(1, 1, 1, "sack"), HERE)], "", state, KNOWLEDGE, "metric")
    then = after(state, heard.changes, KNOWLEDGE)
    assert then.guesses == {"dry-leaves"}
    assert [held.quantity.count for held in then.household.holdings] == [1]


def test_in_the_same_line_as_the_amount(person: Person) -> None:
    person.says("3 sacks of leaves, remove 1 sack of leaves")
    assert counts(person, "dry-leaves") == [(2.0, "sack")]


def test_tried_first_and_kept_on_yes(person: Person) -> None:
    person.says("3 sacks of leaves", "what if I take away 1 sack of leaves")
    assert counts(person, "dry-leaves") == [(3.0, "sack")]
    person.says("yes")
    assert counts(person, "dry-leaves") == [(2.0, "sack")]


def test_a_part_is_taken_from_its_whole(person: Person) -> None:
    person.says("3 sacks of leaves, 2 of them oak")
    assert counts(person, "dry-leaves") == [(1.0, "sack")]
    assert counts(person, "oak-leaves") == [(2.0, "sack")]
    assert not person.heard("lost")


# ---------------------------------------------------------------------- the sums


def test_the_same_measure_first_and_other_measures_by_volume() -> None:
    both = [leaves(3), leaves(2, "bucket")]
    assert left(both, Quantity(1, 1, 1, "bucket")).left == (leaves(3), _with(both[1], 1))
    found = left(both, Quantity(4, 4, 4, "bucket"))
    (kept,) = found.left
    assert kept.quantity.measure == "sack"
    assert kept.quantity.count == pytest.approx(3 - 2 * BUCKET / SACK, abs=1e-5)
    assert not found.short


def test_a_bucket_of_their_own_counts() -> None:
    own = Household("any", measures={"bucket": OwnMeasure(20.0)})
    (kept,) = left([leaves(100, "L")], Quantity(2, 2, 2, "bucket"), own).left
    assert kept.quantity.count == pytest.approx(60)


def test_loose_amounts_stay_loose() -> None:
    (kept,) = left([leaves(5, low=4, high=7)], Quantity(2, 1, 3, "sack")).left
    assert (kept.quantity.low, kept.quantity.count, kept.quantity.high) == (1, 3, 6)


@given(
    st.lists(
        st.tuples(st.floats(0.5, 50), st.sampled_from(["sack", "bucket", "L", "wheelbarrow"])), min_size=1, max_size=4
    ),
    st.floats(0.1, 100),
    st.sampled_from(["sack", "bucket", "L", "wheelbarrow"]),
)
def test_nothing_falls_below_nought_and_nothing_vanishes(
    held: list[tuple[float, str]], count: float, measure: str
) -> None:
    there = [leaves(round(each, 2), of) for each, of in held]
    count = round(count, 2)
    found = left(there, Quantity(count, count, count, measure))
    assert all(0 <= one.quantity.low <= one.quantity.count <= one.quantity.high for one in found.left)
    before, after, gone = litres(there), litres(found.left), count * (1 if measure == "L" else size(measure))
    assert after == pytest.approx(max(0.0, before - gone), abs=0.01)
    assert found.short == (gone > before + 1e-6) or abs(gone - before) < 1e-3


def size(measure: str) -> float:
    return 1.0 if measure == "L" else KNOWLEDGE.measures[measure].litres.typical


def litres(held: tuple[Holding, ...] | list[Holding]) -> float:
    return sum(one.quantity.count * size(one.quantity.measure) for one in held)


def _with(held: Holding, count: float) -> Holding:
    return Holding(held.material, Quantity(count, count, count, held.quantity.measure), held.said)
