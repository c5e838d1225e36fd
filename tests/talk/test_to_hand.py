"""What lies beside a heap in trouble is not counted as part of it, and is what the cure is made of.

The amounts are our own; that browns to hand are mixed into a heap too rich in grass is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from conversing import Person

IN_IT = "my heap stinks of ammonia, it is 6 buckets of grass"


def _cure(person: Person) -> str:
    return " ".join(line.text for reply in person.replies if reply.kind == "verdict" for line in reply.lines)


@pytest.mark.parametrize(
    "said",
    [
        "I have 2 sacks of leaves",
        "there are 2 sacks of leaves in the shed",
        "got 2 sacks of leaves going spare",
        "I could get 2 sacks of leaves from next door",
    ],
)
def test_what_is_to_hand_is_the_cure_and_not_the_heap(tmp_path: Path, said: str) -> None:
    person = Person(tmp_path)
    person.says(IN_IT)
    person.says(said)
    beside = [held for held in person.talk.household.holdings if held.beside]
    assert [held.material for held in beside] == ["dry-leaves"]
    assert "sacks of dry autumn leaves" in _cure(person)


@pytest.mark.parametrize("said", ["2 sacks of leaves went in as well", "and I put 2 sacks of leaves in it"])
def test_what_went_in_is_the_heap(tmp_path: Path, said: str) -> None:
    person = Person(tmp_path)
    person.says(IN_IT)
    person.says(said)
    assert not [held for held in person.talk.household.holdings if held.beside]


def test_a_part_of_a_sack_is_counted_in_buckets(tmp_path: Path) -> None:
    person = Person(tmp_path)
    person.says("I put in 5 buckets of grass and one of leaves and now it stinks of ammonia")
    person.says("there are 3 sacks of sawdust in the shed")
    assert "buckets of raw sawdust" in _cure(person)


def test_without_a_trouble_all_is_to_hand(tmp_path: Path) -> None:
    person = Person(tmp_path)
    person.says("I have a barrow of grass and a sack of leaves")
    assert not [held for held in person.talk.household.holdings if held.beside]
