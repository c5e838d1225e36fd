"""Signs out of words."""

from __future__ import annotations

import pytest

from advisor.diagnosis.signs import read_signs
from advisor.knowledge.load import shipped

KNOWLEDGE = shipped()


@pytest.mark.parametrize(
    ("text", "attribute", "values"),
    [
        ("it stinks of ammonia", "smell", ("ammonia",)),  # the general word gives way to the particular one
        ("there is no smell", "smell", ("none",)),
        ("it does not smell of anything", "smell", ("none",)),
        ("smells like rotten eggs", "smell", ("rotten-egg",)),
        ("the heap won't heat up", "heat_before", ("never-hot",)),
        ("it is warm only in the middle", "warmth", ("warm-core",)),
        ("the heap is too hot to touch", "warmth", ("too-hot",)),
        ("a thermometer says 131 F", "degrees", (55.0,)),
        ("it reads 72 °C", "degrees", (72.0,)),
        ("it stays below 40 C", "degrees", (40.0,)),
        ("soggy and slimy", "moisture", ("wet",)),
        ("it is like a wrung-out sponge", "moisture", ("right",)),
        ("clouds of tiny flies", "animals", ("fruit-flies",)),
        ("soldier fly larvae everywhere", "animals", ("soldier-fly-larvae",)),
        ("green and black mould, and white mould", "looks", ("coloured-mould", "white-mould")),
        ("mostly grass clippings", "mix", ("mostly-green",)),
        ("my worm bin stinks", "method", ("worm-bin",)),
        ("leaves of tomatoes curl and cup", "effects", ("leaves-twist",)),
        ("it smells of amonia", "smell", ("ammonia",)),  # misspelt
        ("HORSE MANURE went in and it stinks", "holds", ("manure",)),
    ],
)
def test_what_people_say(text: str, attribute: str, values: tuple[object, ...]) -> None:
    signs, _ = read_signs(text, KNOWLEDGE)
    assert signs[attribute] == values


@pytest.mark.parametrize(("last", "cooled"), [(51, True), (53, False)])
def test_two_readings_of_one_heap_differ_by_less_than_one_that_has_cooled(last: int, *, cooled: bool) -> None:
    """Our own estimate, which the figure "heat-fallen-k" says: by 8 K."""
    signs, _ = read_signs(f"the thermometer said 60 C, then {last} C", KNOWLEDGE)
    assert (signs.get("heat_before") == ("was-hot",)) == cooled


@pytest.mark.parametrize(
    ("text", "attribute"),
    [
        ("it is not wet", "moisture"),
        ("there are no rats", "animals"),
        ("no steam", "looks"),
        ("it isn't slimy", "texture"),
    ],
)
def test_what_is_denied_does_not_count(text: str, attribute: str) -> None:
    assert attribute not in read_signs(text, KNOWLEDGE)[0]


def test_two_readings_tell_a_fall() -> None:
    signs, _ = read_signs("the pile dropped from 140 F to 90 F", KNOWLEDGE)
    assert signs["degrees"] == (32.0,)  # 90 °F is 32.2 °C by the definition of the scale; whole degrees are kept
    assert signs["heat_before"] == ("was-hot",)


@pytest.mark.parametrize(("text", "size"), [("my heap is 60 cm high", "small"), ("the pile is 3 m wide", "large")])
def test_a_size_in_figures(text: str, size: str) -> None:
    assert read_signs(text, KNOWLEDGE)[0]["size"] == (size,)


def test_what_is_not_understood_is_handed_back() -> None:
    signs, unplaced = read_signs("the zeitgeist of my heap is cold", KNOWLEDGE)
    assert unplaced == ("zeitgeist",)
    assert signs["warmth"] == ("cold",)


@pytest.mark.parametrize("text", ["", "   ", "?!", "the", "1 2 3", "no", "°", "not", "a" * 500])
def test_nothing_is_made_of_nothing(text: str) -> None:
    assert read_signs(text, KNOWLEDGE)[0] == {}


def test_only_one_value_where_only_one_can_hold() -> None:
    signs, _ = read_signs("first it was cold, then hot, then frozen; small, then large heap", KNOWLEDGE)
    kinds = KNOWLEDGE.kinds["sign"].attributes
    for name, values in signs.items():
        assert kinds[name].many or len(values) == 1


@pytest.mark.parametrize(
    ("said", "holds"),
    [
        ("the middle is grey, like cold ash", ()),
        ("it reeks of old cheese", ()),
        ("it smells as if fish had been left in it", ()),
        ("it stinks of ammonia since the grass went in", ("grass",)),  # what follows is told
        ("tomato plants have cupped, fern-like shoots after I added cow manure", ("manure",)),
    ],
)
def test_what_it_is_likened_to_did_not_go_in(said: str, holds: tuple[str, ...]) -> None:
    found = dict(read_signs(said, KNOWLEDGE)[0])
    assert found, said
    assert found.get("holds", ()) == holds
