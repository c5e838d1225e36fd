"""Phosphate and potash of materials against hand sums from printed tables, each named.

Factors by atomic weights: P2O5 is 2.2914 P, K2O is 1.2046 K (RB209 and every fertiliser table).
"""

from __future__ import annotations

import pytest

from advisor.knowledge.load import read
from advisor.knowledge.shapes import Figure
from advisor.places import rules_folder

MATERIALS = read(rules_folder())[0].materials
P2O5, K2O = 2.2914, 1.2046

#: ASAE D384, fresh dung and urine a day for 1000 kg of live animal, in kg: total solids, phosphorus, potassium (from
#: memory).
ASAE_D384 = {
    "cow-manure": (12, 0.094, 0.29),
    "sheep-manure": (11, 0.087, 0.32),
    "goat-manure": (13, 0.11, 0.31),
    "pig-manure": (11, 0.18, 0.29),
    "horse-manure": (15, 0.071, 0.25),
    "hen-manure": (16, 0.30, 0.30),
    "broiler-litter": (22, 0.30, 0.40),
    "turkey-litter": (12, 0.23, 0.24),
    "duck-manure": (31, 0.54, 0.71),
}

#: RB209, farmyard manures, kg/t fresh: % dry matter, phosphate, potash (horse: section 2 of 2023, read; the rest from
#: memory).
RB209 = {
    "horse-manure": (25, 5.0, 6.0),
    "cow-manure-straw": (25, 3.2, 8.0),
    "pig-manure-straw": (25, 6.0, 8.0),
    "sheep-manure-straw": (25, 3.2, 8.0),
    "duck-bedding": (25, 5.5, 7.5),
    "goat-manure-straw": (40, 4.5, 12.0),
    "hen-manure-dry": (60, 17.0, 21.0),
    "finished-compost": (60, 3.0, 6.8),  # green compost, table 2.17 (read)
}

#: USDA composition of foods, raw (nettles blanched): % water, mg phosphorus and mg potassium in 100 g (from memory).
FOODS = {
    "nettles": (87.67, 71, 334),
    "dandelions": (85.6, 66, 397),
    "purslane": (92.86, 44, 494),
    "amaranth": (91.69, 50, 611),
    "vegetable-culls": (92.18, 26, 170),  # cabbage
    "kitchen-scraps": (79.25, 57, 421),  # potatoes with their skin
    "vegetable-peelings": (94.98, 29, 194),  # lettuce
    "fruit-scraps": (85.56, 11, 107),  # apple with its skin
}


def figure(name: str, what: str) -> Figure:
    found = getattr(MATERIALS[name], what)
    assert isinstance(found, Figure), f"{name} states no {what}"
    return found


@pytest.mark.parametrize("name", ASAE_D384)
def test_manures_of_the_standard(name: str) -> None:
    solids, phosphorus, potassium = ASAE_D384[name]
    phosphate, potash = 100 * phosphorus * P2O5 / solids, 100 * potassium * K2O / solids
    assert figure(name, "phosphate").low <= phosphate <= figure(name, "phosphate").high
    assert figure(name, "potash").low <= potash <= figure(name, "potash").high
    printed = {one.low for one in figure(name, "phosphate").published if one.source == "asae-d384"}
    assert any(one == pytest.approx(phosphate, abs=0.006) for one in printed)


@pytest.mark.parametrize("name", RB209)
def test_manures_and_compost_of_the_guide(name: str) -> None:
    dry, phosphate, potash = RB209[name]
    assert figure(name, "phosphate").low <= 100 * phosphate / (10 * dry) <= figure(name, "phosphate").high
    assert figure(name, "potash").low <= 100 * potash / (10 * dry) <= figure(name, "potash").high


@pytest.mark.parametrize("name", FOODS)
def test_leaves_that_are_eaten(name: str) -> None:
    water, phosphorus, potassium = FOODS[name]
    dry_mg = 1000 * (100 - water)
    assert figure(name, "phosphate").low <= 100 * phosphorus * P2O5 / dry_mg <= figure(name, "phosphate").high
    assert figure(name, "potash").low <= 100 * potassium * K2O / dry_mg <= figure(name, "potash").high


def test_leaves_of_the_street() -> None:
    """Municipal leaves, J. Environ. Qual. 25:355 (1996), abstract, read: medians of 1.0 g/kg P and 3.6 g/kg K."""
    assert figure("dry-leaves", "phosphate").typical == pytest.approx(0.10 * P2O5, abs=0.01)
    assert figure("dry-leaves", "potash").typical == pytest.approx(0.36 * K2O, abs=0.01)


def test_wilted_comfrey() -> None:
    """Hills, Comfrey (from memory): at 75 % water 0.24 % P2O5 and 1.19 % K2O of the wilted leaf."""
    assert figure("comfrey", "phosphate").typical == pytest.approx(0.24 / 0.25, rel=0.05)
    assert figure("comfrey", "potash").typical == pytest.approx(1.19 / 0.25, rel=0.05)


def test_mushroom_compost() -> None:
    """Survey of 30 Pennsylvania samples, abstract, read: 0.69 % P and 2.44 % K of dry mass."""
    assert figure("spent-mushroom-compost", "phosphate").low <= 0.69 * P2O5
    assert figure("spent-mushroom-compost", "potash").high >= 2.44 * K2O


@pytest.mark.parametrize("name", sorted(name for name, one in MATERIALS.items() if one.phosphate or one.potash))
def test_minerals_are_part_of_the_ash(name: str) -> None:
    """Burning leaves phosphate and potash behind, so together they cannot be more than all the ash there is."""
    one = MATERIALS[name]
    if one.ash is None:
        pytest.skip("its ash is not known")
    together = sum(each.typical for each in (one.phosphate, one.potash) if each is not None)
    assert together <= one.ash.high
