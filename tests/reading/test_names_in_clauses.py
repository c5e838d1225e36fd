"""What anybody calls a material is that material, and a noun that is no stuff in its clause is none."""

from __future__ import annotations

import pytest

from advisor.hearing.hear import hear
from advisor.hearing.shapes import Heard
from advisor.knowledge.load import shipped

NAMED = {
    "leaves off next door's copper beech, six bags": "beech-leaves",
    "elm leaves": "elm-leaves",
    "bedding out of the rabbit hutch": "rabbit-bedding",
    "the goats' dirty straw": "goat-manure-straw",
    "hen poo on wood shavings": "hen-litter-shavings",
    "clippings off a yew hedge": "yew",
    "prunings from the blackcurrants": "prunings",
    "cinders from the coal fire": "coal-ash",
    "shells off the mussels": "seashells",
    "cardboard boxes": "cardboard",
    "pickled scraps": "fermented-scraps",
    "thistles that have gone to seed": "weeds-in-seed",
    "a bag of old carrots went in": "root-vegetables",
    "can I put lettuces in": "lettuce",
    "feed the worms lettuce": "lettuce",
    "potatoes that are sprouting": "potatoes",
    "I grow comfrey for the heap": "comfrey",
    "half a rotten cabbage and brown paper": "brown-paper",
}
NONE = [
    "my beans are all twisted since",
    "spread it round the gooseberries",
    "dressed the roses with it",
    "good for leeks and onions?",
    "the bin stands by the nettles",
    "lumps the size of walnuts",
    "grubs fat as peanuts",
    "a strawberry bed and a salad bed",
    "that was the last straw",
    "we had eggs for breakfast",
    "tea is on the table",
    "grass growing out of the top",
    "the lid is a sheet of plywood",
    "a slow worm lives in there",
]


def _heard(line: str) -> Heard:
    return hear(line, shipped())


@pytest.mark.parametrize(("line", "material"), NAMED.items())
def test_what_anybody_calls_it_is_that_material(line: str, material: str) -> None:
    assert material in {name for one in _heard(line).materials for name in one.ids}


@pytest.mark.parametrize("line", NONE)
def test_what_is_no_stuff_in_its_clause_is_none(line: str) -> None:
    heard = _heard(line)
    assert not heard.materials
    assert not [one for one in heard.amounts if one.ids]


def test_so_many_parts_without_a_measure_are_no_amount() -> None:
    amounts = _heard("10 of straw, 1 of leaves").amounts
    assert [(one.ids, one.quantity, one.trouble) for one in amounts] == [
        (("straw",), None, ""),
        (("dry-leaves",), None, ""),
    ]


@pytest.mark.parametrize("line", ["8 sq ft of turf", "20 x 50 litre bags of manure"])
def test_an_amount_of_stuff_is_no_ground(line: str) -> None:
    assert not _heard(line).sizes
