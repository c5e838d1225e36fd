"""What is in print about proportions, held against recipes for the same things.

Figures of the materials are those printed in the sources named; densities of grass, and all of coffee but its C:N, are
from memory. Windows are those of The Art and Science of Composting, Table 1 (read in a reprint).
"""

from __future__ import annotations

import pytest

from advisor.blend.offers import Offer, Windows
from advisor.blend.recipe import solve
from advisor.blend.shapes import Composition, Window

PREFERRED = Windows(Window(25, 30, 35), Window(45, 55, 60))
ACCEPTABLE = Windows(Window(20, 30, 40), Window(40, 55, 65))

#: N: Humanure Handbook, Table 3.2. C:N: Cornell Fact Sheet 2. Moisture: Composting in Schools. Density: from memory.
GRASS = Composition(nitrogen_pct=2.4, carbon_pct=2.4 * 19, moisture_pct=77, density_kg_m3=208)
#: N and C:N: Humanure Handbook, Table 3.2. Moisture and density (60-80): a fact sheet's Table 3.
LEAVES = Composition(nitrogen_pct=0.9, carbon_pct=0.9 * 54, moisture_pct=38, density_kg_m3=70)
#: C:N: Humanure Handbook, Table 3.2. The rest from memory.
COFFEE = Composition(nitrogen_pct=2.2, carbon_pct=2.2 * 20, moisture_pct=60, density_kg_m3=430)


def buckets(name: str, composition: Composition, count: float, *, keeps: bool = False) -> Offer:
    return Offer(name, composition, 11.0, count, 0.5, perishable=not keeps, storable=keeps)


def kilograms(name: str, composition: Composition, count: float, step: float, *, keeps: bool = False) -> Offer:
    litres = 1000 / composition.density_kg_m3
    return Offer(name, composition, litres, count, step, perishable=not keeps, storable=keeps)


def test_three_of_leaves_to_one_of_grass() -> None:
    """Cornell Composting Fact Sheet 2: leaves and grass three to one by volume."""
    recipe = solve([buckets("leaves", LEAVES, 30), buckets("grass", GRASS, 10)], ACCEPTABLE)
    assert recipe.status == "met"
    assert dict(recipe.counts) == {"grass": 10, "leaves": 30}


def test_leaves_in_plenty_are_taken_about_as_the_guides_say() -> None:
    """Two or three of leaves to one of grass (Rutgers, quoted on Ontario's leaf composting page); equal parts at the
    least (Stop Food Waste, Irish EPA), three at the most (Cornell Fact Sheet 2)."""
    recipe = solve([buckets("leaves", LEAVES, 100, keeps=True), buckets("grass", GRASS, 10)], PREFERRED)
    counts = dict(recipe.counts)
    assert recipe.status == "met"
    assert counts["grass"] == 10
    assert 1 <= counts["leaves"] / counts["grass"] <= 3


def test_two_of_leaves_to_one_of_coffee_grounds() -> None:
    """Coffee grounds rev up the compost pile, Oregon newspaper: one of grounds to two of leaves."""
    recipe = solve([buckets("leaves", LEAVES, 20), buckets("coffee", COFFEE, 10)], ACCEPTABLE)
    assert recipe.status == "met"
    assert dict(recipe.counts) == {"coffee": 10, "leaves": 20}


def test_leaves_for_ten_kilograms_of_grass_by_moisture() -> None:
    """Composting in Schools (Cornell, 1996): 10 kg of grass at 77 % want 6.8 kg of leaves at 35 % to come to 60 %."""
    grass, leaves = Composition(2.4, 45, 77, 208), Composition(0.75, 50, 35, 70)
    stock = [kilograms("grass", grass, 10, 0.1), kilograms("leaves", leaves, 20, 0.1, keeps=True)]
    recipe = solve(stock, Windows(moisture=Window(0, 60, 60)))
    assert dict(recipe.counts) == {"grass": 10, "leaves": pytest.approx(6.8)}
    assert recipe.water_l == 0


def test_leaves_for_ten_kilograms_of_grass_by_carbon_and_nitrogen() -> None:
    """From the mass balance that Cornell's C/N page gives (from memory): 3.474 kg of leaves bring it to 30."""
    grass, leaves = Composition(2.4, 45, 77, 208), Composition(0.75, 50, 35, 70)
    stock = [kilograms("grass", grass, 10, 0.05), kilograms("leaves", leaves, 20, 0.05, keeps=True)]
    recipe = solve(stock, Windows(Window(30, 30, 40)))
    assert dict(recipe.counts) == {"grass": 10, "leaves": pytest.approx(3.5)}


def test_dry_leaves_alone_lack_nitrogen_and_are_wetted() -> None:
    """Leaves have a C:N of 40 to 80 and are slow by themselves (Cornell Fact Sheet 2)."""
    recipe = solve([buckets("leaves", LEAVES, 60, keeps=True)], PREFERRED)
    assert recipe.status == "nearest"
    assert [miss.lack for miss in recipe.misses] == ["nitrogen"]
    assert recipe.reached is not None
    assert recipe.reached.moisture_pct == pytest.approx(55)
    assert recipe.water_l > 0


def test_grass_alone_is_too_wet_and_too_rich() -> None:
    """Grass has a C:N of about 19 and 77 % water (Cornell Fact Sheet 2, Composting in Schools): both out of bounds."""
    recipe = solve([buckets("grass", GRASS, 20)], PREFERRED)
    assert recipe.status == "nearest"
    assert [(miss.what, miss.lack) for miss in recipe.misses] == [
        ("carbon-nitrogen", "carbon"),
        ("moisture", "dryness"),
    ]
    assert [round(miss.by, 6) for miss in recipe.misses] == [6, 17]
    assert recipe.short_of == ("carbon", "dryness")
