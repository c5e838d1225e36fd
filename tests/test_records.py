"""Classes whose methods are written when first called are in all else as those of the standard library."""

from __future__ import annotations

import copy
import dataclasses
import pickle
import threading
from collections.abc import Callable
from dataclasses import field
from functools import cached_property
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.records import dataclass


def _classes(decorated: Callable[..., Any], *, slots: bool) -> tuple[Any, Any]:
    """A class of every kind of field, and one with a default and a property, under one decorator or another."""

    @decorated(frozen=True, slots=slots)
    class Bed:
        """A bed."""

        name: str
        area: float = 1.0
        crops: tuple[str, ...] = ()
        notes: dict[str, str] = field(default_factory=dict, compare=False)
        key: str = field(init=False, repr=False)

        def __post_init__(self) -> None:
            object.__setattr__(self, "key", f"{self.name}/{self.area}")

        def twice(self) -> float:
            return 2 * self.area

    @decorated(frozen=True, slots=slots)
    class Bare:
        side: float

    return Bed, Bare


PAIRS = [(_classes(dataclass, slots=slots), _classes(dataclasses.dataclass, slots=slots)) for slots in (True, False)]
NAMES, AREAS = st.text(max_size=3), st.sampled_from([0.5, 1.0, 2.0])
ARGUMENTS = st.fixed_dictionaries({"name": NAMES}, optional={"area": AREAS, "crops": st.just(("oats",))})


@pytest.mark.parametrize("pair", PAIRS)
@given(one=ARGUMENTS, other=ARGUMENTS)
def test_two_are_as_like_and_as_told_as_those_of_the_standard_library(
    pair: Any, one: dict[str, Any], other: dict[str, Any]
) -> None:
    ours, plain = pair[0][0], pair[1][0]
    here, there = [kind(**one) for kind in (ours, plain)], [kind(**other) for kind in (ours, plain)]
    assert repr(here[0]) == repr(here[1])
    assert (here[0] == there[0]) is (here[1] == there[1])
    assert (hash(here[0]) == hash(there[0])) is (hash(here[1]) == hash(there[1]))
    assert here[0] != here[1]
    assert here[0].key == here[1].key
    assert dataclasses.asdict(here[0]) == dataclasses.asdict(here[1])
    assert repr(dataclasses.replace(here[0], area=4.0)) == repr(dataclasses.replace(here[1], area=4.0))


@pytest.mark.parametrize("pair", PAIRS)
@pytest.mark.parametrize("given_wrong", [{}, {"name": "a", "colour": 1}, {"name": "a", "key": "b"}])
def test_what_does_not_fit_is_refused_in_the_same_words(pair: Any, given_wrong: dict[str, Any]) -> None:
    told = []
    for kind in (pair[0][0], pair[1][0]):
        with pytest.raises(TypeError) as caught:
            kind(**given_wrong)
        told.append(str(caught.value))
    assert told[0] == told[1]


@pytest.mark.parametrize("pair", PAIRS)
def test_a_field_can_neither_be_set_nor_deleted(pair: Any) -> None:
    for kind in (pair[0][1], pair[1][1]):
        one = kind(2.0)
        with pytest.raises(dataclasses.FrozenInstanceError, match="cannot assign to field 'side'"):
            one.side = 3.0
        with pytest.raises(dataclasses.FrozenInstanceError, match="cannot delete field 'side'"):
            del one.side
        assert one.side == 2.0


@pytest.mark.parametrize("pair", PAIRS)
def test_what_the_standard_library_notes_of_a_class_is_noted(pair: Any) -> None:
    for ours, plain in zip(pair[0], pair[1], strict=True):
        assert [each.name for each in dataclasses.fields(ours)] == [each.name for each in dataclasses.fields(plain)]
        assert ours.__match_args__ == plain.__match_args__
        assert ours.__dataclass_params__.frozen
        assert getattr(ours, "__slots__", None) == getattr(plain, "__slots__", None)
        assert ours.__doc__ is not None


@dataclass(frozen=True, slots=True)
class Kept:
    """One that can be found by its name, as pickle must."""

    told: tuple[str, ...]
    much: float = 0.0
    length: int = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "length", len(self.told))


@pytest.mark.parametrize("again", [copy.copy, copy.deepcopy, lambda one: pickle.loads(pickle.dumps(one))])
def test_one_can_be_copied_and_kept(again: Callable[[Kept], Kept]) -> None:
    one = Kept(("hay",), 2.0)
    assert again(one) == one
    assert again(one).length == 1


def test_a_method_of_its_own_is_left_to_it() -> None:
    @dataclass(frozen=True)
    class Spoken:
        said: str

        def __repr__(self) -> str:
            return f"“{self.said}”"

        @cached_property
        def loud(self) -> str:
            return self.said.upper()

    assert repr(Spoken("hay")) == "“hay”"
    assert Spoken("hay").loud == "HAY"
    assert Spoken("hay") == Spoken("hay")


def test_a_class_made_from_one_has_its_methods() -> None:
    class More(Kept):
        def __init__(self, *told: str) -> None:
            super().__init__(told, 2.0)

        def both(self) -> tuple[object, ...]:
            return self.told, self.much

    assert More("hay").both() == (("hay",), 2.0)
    assert Kept(("hay",)) == Kept(("hay",))


def test_many_threads_may_come_first() -> None:
    ours = _classes(dataclass, slots=True)[0]
    start, found = threading.Barrier(8), []

    def make() -> None:
        start.wait()
        found.append(ours("north", 2.0))

    threads = [threading.Thread(target=make) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == 8
    assert len(set(found)) == 1
