"""What people tell at once reaches the household and the plan; what is advised is common practice, no source."""

from __future__ import annotations

from pathlib import Path

from conversing import Person


def _held(person: Person) -> set[str]:
    return {one.material for one in person.talk.household.holdings}


def test_a_heap_of_something_is_in_the_mix_and_how_to_build_is_told(tmp_path: Path) -> None:
    person = Person(tmp_path).says("3 sacks of beech leaves, barrow of mowings, heap of torn paper. how do i build it")
    assert len(_held(person)) == 3
    assert "twigs" in person.text


def test_a_stable_of_muck_a_day_goes_to_a_row(tmp_path: Path) -> None:
    person = Person(tmp_path).says("3 ponies, 4 barrows of dung and straw a day, an acre, tractor with a bucket")
    assert _held(person) == {"horse-manure", "straw"}
    assert person.method == "windrow"


def test_only_peels_in_a_flat_are_no_trouble_yet(tmp_path: Path) -> None:
    person = Person(tmp_path).says("flat in Leeds, 2 people, only peelings. what should I do?")
    assert _held(person) == {"vegetable-peelings"}
    assert person.method in ("worm-bin", "fermented-bucket")
    person.says("will it smell")
    assert "What does it smell of?" not in person.everything()
    person.says("no leaves here")
    assert _held(person) == {"vegetable-peelings"}
    assert "no leaves" in person.text


def test_a_correction_takes_nothing_else_back(tmp_path: Path) -> None:
    person = Person(tmp_path).says("two sacks of grass and a sack of leaves", "no wait, it's 3 sacks of grass")
    assert _held(person) == {"grass-clippings", "dry-leaves"}
