"""Facts: their names, their values, and what the registry lets in."""

from __future__ import annotations

import json

import pytest
import toy_garden as toy
from hypothesis import given
from hypothesis import strategies as st
from toy_garden import fact

from advisor.errors import InferenceFault
from advisor.inference.facts import Fact, absence, admit


@pytest.mark.parametrize(
    ("target", "subject", "value", "key"),
    [
        ("place.space", "", "flat", "place.space = flat"),
        ("holding.trait", "grass-clippings", "mats", "holding[grass-clippings].trait = mats"),
        ("holding.share", "hay", 62.5, "holding[hay].share = 62.5"),
        ("heap.litres", "", 1000, "heap.litres = 1000"),
        ("heap.litres", "", 100.0, "heap.litres = 100"),
        ("heap.litres", "", 999_999_999_999.5, "heap.litres = 999999999999.5"),
        ("blend.moisture", "", 1 / 3, "blend.moisture = 0.3333"),
        ("blend.moisture", "", 1e-7, "blend.moisture = 0"),
        ("method.favour", "bin", -0.00001, "method[bin].favour = 0"),
        ("method.favour", "bin", -2, "method[bin].favour = -2"),
    ],
)
def test_a_fact_has_a_name_that_can_be_read(target: str, subject: str, value: str | float, key: str) -> None:
    assert fact(target, value, subject).key == key


def test_what_nobody_told_is_a_fact_too() -> None:
    assert absence("place", "digging").key == "unknown(place.digging)"


@given(st.floats(-1e11, 1e11))
def test_numbers_are_equal_when_their_names_are_and_never_take_an_exponent(number: float) -> None:
    kept = fact("heap.litres", number)
    assert isinstance(kept.value, float)
    assert abs(kept.value - number) <= 0.5e-4 + abs(number) * 1e-15
    assert "e" not in json.dumps(kept.value)
    assert fact("heap.litres", float(kept.key.removeprefix("heap.litres = "))) == kept


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf"), 1e12, True, None, ["flat"]])
def test_anything_but_a_word_or_a_figure_is_refused(value: object) -> None:
    with pytest.raises(InferenceFault, match=r"heap\.litres"):
        Fact("heap", "litres", "", value)  # type: ignore[arg-type]


def test_the_registry_lets_in_what_it_declares() -> None:
    for good in (
        fact("yard.soil", "clay"),
        fact("yard.area", 0),
        fact("yard.area", 1000),
        fact("pile.share", 20, "north"),
        fact("stuff.trait", "elm", "anything at all"),
    ):
        assert admit(good, toy.KINDS) is good


@pytest.mark.parametrize(
    ("bad", "complaint"),
    [
        (fact("yrad.soil", "clay"), "no fact kind 'yrad' (did you mean yard?)"),
        (fact("yard.sole", "clay"), "'yard' has no 'sole' (did you mean soil?)"),
        (fact("yard.soil", "cley"), "yard.soil = cley: yard.soil is never that (did you mean clay?)"),
        (fact("yard.soil", 3), "yard.soil = 3: yard.soil is never that"),
        (fact("yard.area", "clay"), "yard.area = clay: yard.area holds a number"),
        (fact("yard.area", 1000.5), "yard.area = 1000.5: yard.area lies between 0 and 1000"),
        (fact("yard.area", -1), "yard.area = -1: yard.area lies between 0 and 1000"),
        (fact("yard.soil", "clay", "north"), "yard[north].soil = clay: 'yard' has no subjects"),
        (fact("pile.share", 5), "pile.share = 5: 'pile' needs a subject"),
        (fact("pile.share", 5, "nort"), "pile[nort].share = 5: no pile 'nort' (did you mean north?)"),
        (absence("yard", "soil"), "no fact kind 'unknown'"),
    ],
)
def test_the_registry_refuses_and_says_what_is_near(bad: Fact, complaint: str) -> None:
    with pytest.raises(InferenceFault) as caught:
        admit(bad, toy.KINDS)
    assert complaint in str(caught.value)
