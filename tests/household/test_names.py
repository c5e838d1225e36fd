"""Which material or measure a name stands for, and when it must be asked."""

from __future__ import annotations

from dataclasses import replace

import pytest

from advisor.household.names import find_material, find_measure, nearest
from advisor.household.tokens import singular
from advisor.knowledge.base import Knowledge

EXACT = [
    ("dry leaves", "dry-leaves"),
    ("Dry Leaves", "dry-leaves"),
    ("dry-leaves", "dry-leaves"),
    ("dry leaf", "dry-leaves"),
    ("leaves", "dry-leaves"),
    ("the leaves", "dry-leaves"),
    ("some of my leaves", "dry-leaves"),
    ("wet, matted leaves", "wet-leaves"),
    ("wet leaves", "wet-leaves"),
    ("GRASS", "grass-clippings"),
    ("fresh grass", "grass-clippings"),
    ("dry grass", "dry-grass"),
    ("lawn clipping", "grass-clippings"),
    ("woodchips", "wood-chips"),
    ("wood-chips", "wood-chips"),
    ("egg shells", "eggshells"),
    ("egg-shell", "eggshells"),
    ("eggshell", "eggshells"),
    ("chicken manure", "hen-manure"),
    ("hoof & horn", "hoof-and-horn"),
    ("hoof and horn meal", "hoof-and-horn"),
    ("ashes", "wood-ash"),
    ("gráss", "grass-clippings"),
]


@pytest.mark.parametrize(("name", "id_"), EXACT, ids=[row[0] for row in EXACT])
def test_a_known_name_is_taken_however_it_is_written(name: str, id_: str, knowledge: Knowledge) -> None:
    match = find_material(name, knowledge)
    assert (match.kind, match.id, match.score) == ("exact", id_, 100.0)


SLIPS = [
    ("horse manur", "horse-manure"),
    ("coffe grounds", "coffee-grounds"),
    ("kichen scraps", "kitchen-scraps"),
    ("grass clipings", "grass-clippings"),
    ("wood chipps", "wood-chips"),
    ("manure horse", "horse-manure"),
]


@pytest.mark.parametrize(("name", "id_"), SLIPS, ids=[row[0] for row in SLIPS])
def test_a_slip_of_the_pen_is_put_right(name: str, id_: str, knowledge: Knowledge) -> None:
    match = find_material(name, knowledge)
    assert (match.kind, match.id) == ("close", id_)
    assert match.score >= 90


ASKED = [
    ("manure", {"horse-manure", "cow-manure", "hen-manure", "hog-manure"}),
    ("clippings", {"grass-clippings", "dry-grass"}),
    ("coffee", {"coffee-grounds"}),
    ("sopping leaves", {"dry-leaves"}),
    ("shredded dry leaves", {"dry-leaves"}),
    ("old horse manure", {"horse-manure"}),
    ("dog manure", {"hog-manure"}),
    ("untreated wood", {"treated-wood"}),
    ("strow", {"straw"}),
]


@pytest.mark.parametrize(("name", "among"), ASKED, ids=[row[0] for row in ASKED])
def test_what_may_be_another_thing_is_asked(name: str, among: set[str], knowledge: Knowledge) -> None:
    """An adjective can change a material, "manure" is no answer, and a dog is not a hog with a slip in it."""
    match = find_material(name, knowledge)
    assert match.kind == "ask"
    assert match.id == ""
    assert among <= set(match.candidates)


def test_kinds_of_a_thing_come_before_things_that_only_mention_it(knowledge: Knowledge) -> None:
    assert find_material("manure", knowledge).candidates[:2] == ("horse-manure", "cow-manure")


def test_the_material_named_within_comes_first(knowledge: Knowledge) -> None:
    assert find_material("mouldy old straw", knowledge).candidates[0] == "straw"


@pytest.mark.parametrize("name", ["xyzzy", "🥔", "", "12345"])
def test_an_unknown_name_stays_unknown(name: str, knowledge: Knowledge) -> None:
    match = find_material(name, knowledge)
    assert match.kind == "unknown"
    assert match.id == ""
    assert len(match.candidates) <= 3


def test_an_alias_that_two_materials_claim_is_asked(knowledge: Knowledge) -> None:
    materials = dict(knowledge.materials)
    materials["hay"] = materials["hay"].model_copy(update={"aliases": ("bedding",)})
    materials["straw"] = materials["straw"].model_copy(update={"aliases": ("bedding",)})
    match = find_material("bedding", replace(knowledge, materials=materials))
    assert (match.kind, match.candidates) == ("ask", ("straw", "hay"))


def test_a_name_outranks_the_alias_of_another(knowledge: Knowledge) -> None:
    materials = dict(knowledge.materials)
    materials["straw"] = materials["straw"].model_copy(update={"aliases": ("hay",)})
    assert find_material("hay", replace(knowledge, materials=materials)).id == "hay"


@pytest.mark.parametrize(
    ("name", "kind", "id_"),
    [
        ("buckets", "exact", "bucket"),
        ("pail", "exact", "bucket"),
        ("builders bucket", "exact", "bucket"),
        ("wheelbarow", "close", "wheelbarrow"),
        ("buckte", "ask", ""),
        ("tub", "ask", ""),
        ("parsec", "unknown", ""),
    ],
)
def test_measures_are_found_the_same_way(name: str, kind: str, id_: str, knowledge: Knowledge) -> None:
    match = find_measure(name, knowledge)
    assert (match.kind, match.id) == (kind, id_)


@pytest.mark.parametrize(
    ("plural", "one"),
    [
        ("leaves", "leaf"),
        ("boxes", "box"),
        ("branches", "branch"),
        ("potatoes", "potato"),
        ("berries", "berry"),
        ("feet", "foot"),
        ("ashes", "ash"),
        ("grass", "grass"),
        ("moss", "moss"),
        ("citrus", "citrus"),
        ("grasses", "grass"),
        ("bales", "bale"),
        ("builder's", "builder"),
        ("caddies", "caddy"),
        ("gas", "gas"),
        ("tea", "tea"),
    ],
)
def test_singulars(plural: str, one: str) -> None:
    assert singular(plural) == one


def test_the_nearest_word_or_none() -> None:
    assert nearest("closed-bn", ["closed-bin", "open-bin", "none"]) == "closed-bin"
    assert nearest("castle", ["flat", "balcony", "garden"]) == ""
