"""Every manure there is can be replaced in every month, and nothing that is offered breaks a rule of safety."""

from __future__ import annotations

import math
from functools import cache

import pytest

from advisor.blend.substitute import MOST_KINDS
from advisor.counsel.candidates import is_manure
from advisor.counsel.seasons import SEASONS, season_of
from advisor.counsel.stead import Stead, Substitutes
from advisor.counsel.substitutes import shipped_replacing_engine, substitutes
from advisor.errors import HouseholdError
from advisor.household.holdings import holdings_told
from advisor.household.shapes import Holding, Household, Quantity
from advisor.knowledge.load import shipped

MANURES = sorted(name for name, material in shipped().materials.items() if is_manure(material))

#: Traits that keep a material out of every balanced heap (rules/keep-out.toml, by their own sources).
NEVER = {"treated", "coal-ash", "plastic", "coated", "human-waste", "pet-waste", "diseased", "spreads", "poisonous"}

#: The largest shares of a heap, by volume, that the sources of rules/keep-out.toml print.
PUBLISHED_CAPS = {
    "grass-clippings": 50,
    "coffee-grounds": 100 / 3,
    "blood-meal": 5,
    "cottonseed-meal": 5,
    "seaweed": 100 / 3,
}


@cache
def two_barrows(material: str, season: str) -> Substitutes:
    wanted = [Holding(material, Quantity(2, 2, 2, "wheelbarrow"), f"2 barrows of {material}")]
    return substitutes(wanted, shipped(), shipped_replacing_engine(), season=season)


def asked(text: str, have: str = "", **answers: str) -> Substitutes:
    knowledge = shipped()
    there = Household(
        "a test",
        holdings_told(have, knowledge, lambda _: "") if have else (),
        {name.replace("__", "."): (word,) for name, word in answers.items()},
    )
    wanted = holdings_told(text, knowledge, lambda _: "--for")
    return substitutes(wanted, knowledge, shipped_replacing_engine(), household=there)


@pytest.mark.parametrize("material", MANURES)
def test_every_manure_in_every_month(material: str) -> None:
    materials = shipped().materials
    for month in range(1, 13):
        season = season_of(month)
        found = two_barrows(material, season)
        assert found.options, month
        for option in found.options:
            total = math.fsum(part.litres for part in option.parts)
            assert len(option.parts) <= MOST_KINDS
            for part in option.parts:
                used = materials[part.material]
                assert not NEVER & set(used.traits), part.material
                assert used.role != "never"
                assert not is_manure(used), "there is no manure to be had"
                assert not used.seasons or season in used.seasons, (part.material, month)
                cap = min(part.most_of_heap_pct or 100.0, PUBLISHED_CAPS.get(part.material, 100.0))
                # A liquid fills pores: it counts all the same.
                assert part.litres <= cap / 100 * total * (1 + 1e-6), (part.material, month)
            for supply in (each for food in option.plant_food for each in food.supplies):
                assert not NEVER & set(materials[supply.material].traits)
                assert supply.material != "wood-ash" or supply.litres <= 0.01 * option.litres * (1 + 1e-6)
            if "urine" in {part.material for part in option.parts}:
                assert any("ammonia" in line.text.casefold() for line in found.cautions)


@pytest.mark.parametrize("material", ["horse-manure", "cow-manure-straw", "rabbit-bedding", "farmyard-manure"])
@pytest.mark.parametrize("season", SEASONS)
def test_the_common_manures_are_matched(material: str, season: str) -> None:
    """Nitrogen and C:N both within a tenth, by plain sums over the shipped tables."""
    found = two_barrows(material, season)
    one = shipped().materials[material]
    kg = 2 * shipped().measures["wheelbarrow"].litres.typical * one.density.typical / 1000
    nitrogen = kg * (1 - one.moisture.typical / 100) * one.nitrogen.typical / 100
    assert found.nitrogen_kg.typical == pytest.approx(nitrogen)
    option = found.options[0]
    assert option.met
    assert option.nitrogen_kg == pytest.approx(nitrogen, rel=0.1)
    assert option.carbon_nitrogen == pytest.approx(one.carbon_nitrogen.typical, rel=0.1)  # type: ignore[union-attr]


def test_what_is_on_hand_comes_first() -> None:
    found = asked("1 barrow horse manure", "4 barrows grass clippings, 6 sacks dry leaves", place__season="summer")
    assert {part.reach for part in found.options[0].parts} == {"on-hand"}
    assert found.options[0].met


def test_what_is_on_hand_comes_first_even_where_its_carbon_is_off() -> None:
    """Grass alone is richer than stable manure: it is offered all the same, and the gap is said."""
    found = asked("1 barrow horse manure", "6 barrows garden weeds", place__season="summer")
    assert {part.reach for part in found.options[0].parts} == {"on-hand"}
    assert not found.options[0].met
    assert "more browns" in found.options[0].line.text
    assert any(option.met for option in found.options[1:])


@pytest.mark.parametrize("material", MANURES)
@pytest.mark.parametrize("have", ["", "16 L kitchen scraps, 5 L coffee grounds"])
def test_straw_by_the_barrow_is_no_source_of_nitrogen(material: str, have: str) -> None:
    """A heap works up to 40 parts of carbon to one of nitrogen (The Art and Science of Composting, table 1)."""
    wanted = [Holding(material, Quantity(1, 1, 1, "sack"), f"1 sack of {material}")]
    there = Household("a test", holdings_told(have, shipped(), lambda _: "") if have else ())
    found = substitutes(wanted, shipped(), shipped_replacing_engine(), household=there, season="winter")
    for option in found.options:
        assert option.carbon_nitrogen <= max(40.0, 1.1 * found.carbon_nitrogen) + 1e-6


def test_what_packs_is_not_laid_a_hand_thick_and_two_fingers_too() -> None:
    page = " ".join(line.text for line in asked("2 barrows horse manure", place__season="summer").lines())
    assert "a hand is wide" not in page
    assert "two fingers" in page


def test_water_by_the_hundred_litres_is_no_matter_of_cans() -> None:
    page = " ".join(line.text for line in asked("1 m3 cow manure").lines())
    assert "with a hose" in page and "watering cans" not in page


def test_the_manure_itself_is_no_substitute_for_itself() -> None:
    found = asked("1 barrow horse manure", "5 barrows horse manure", place__season="summer")
    assert all(part.material != "horse-manure" for one in found.options for part in one.parts)


def test_what_must_stay_out_is_named_and_not_used() -> None:
    found = asked("1 barrow horse manure", "2 buckets dog waste, 3 sacks dry leaves", place__season="winter")
    assert all(part.material != "dog-waste" for one in found.options for part in one.parts)
    assert any("og" in line.text for line in found.stays_out)


def test_each_way_says_what_manure_brings_besides() -> None:
    found = asked("2 barrows horse manure", place__season="spring")
    for option in found.options:
        said = " ".join(line.text for line in option.makes_up)
        assert "microbes" in said
        if option.water_litres >= 1:
            assert "Moisture" in said


def test_no_manure_is_asked_about() -> None:
    with pytest.raises(HouseholdError, match="no manure"):
        asked("2 barrows grass clippings")


def test_every_line_has_a_name_of_its_own() -> None:
    found = two_barrows("horse-manure", "summer")
    names = [line.id for line in found.lines()]
    assert len(names) == len(set(names))
    assert all(line.why for line in found.lines())


# ---------------------------------------------------------------- phosphate and potash

#: Printed on their tables: % water of the whole, P2O5 and K2O in % of dry mass. Horse manure: RB209 section 2 of 2023
#: (read), 25 % dry matter with 5.0 and 6.0 kg/t; ASAE D384 (from memory) 1.08 and 2.01. Grass: 1 and 3, as extension
#: leaflets have it for clippings (from memory). Leaves: medians of J. Environ. Qual. 25:355 (1996), read.
PRINTED = {"horse-manure": ((1.08, 2.0), (2.01, 2.4)), "grass-clippings": ((1, 1), (3, 3))}
LEAVES = (0.229, 0.434)


def dry_kg(part: Stead) -> float:
    return part.kilograms * (1 - shipped().materials[part.material].moisture.typical / 100)


def test_phosphate_and_potash_of_grass_and_leaves_by_hand() -> None:
    found = asked("2 barrows horse manure", "12 barrows grass clippings, 9 sacks dry leaves", place__season="summer")
    option = found.options[0]
    assert {part.material for part in option.parts} == {"grass-clippings", "dry-leaves"}
    kg = {part.material: dry_kg(part) for part in option.parts}
    horse = shipped().materials["horse-manure"]
    litres = 2 * shipped().measures["wheelbarrow"].litres.typical
    manure = litres * horse.density.typical / 1000 * (1 - horse.moisture.typical / 100)
    for number, food in enumerate(option.plant_food):
        low, high = (value / 100 * manure for value in PRINTED["horse-manure"][number])
        assert food.manure_kg is not None
        assert food.brings_kg is not None
        assert low <= food.manure_kg.typical <= high
        by_hand = (
            kg["grass-clippings"] * PRINTED["grass-clippings"][number][0] + kg["dry-leaves"] * LEAVES[number]
        ) / 100
        assert food.brings_kg == pytest.approx(by_hand, rel=0.06)
        assert food.gap_kg == pytest.approx(food.manure_kg.typical - food.brings_kg)


def test_what_is_short_is_made_up_in_measures() -> None:
    """Bone meal: 22 to 27 % P2O5 (Texas Earth-Kind table, read); wood ash: 3 to 6 % K2O (the same, and Georgia)."""
    option = asked("2 barrows horse manure", place__season="winter").options[0]
    phosphate, potash = option.plant_food
    bone = next(each for each in phosphate.supplies if each.material == "bone-meal")
    assert 0.20 * bone.kilograms <= bone.brings_kg <= 0.27 * bone.kilograms
    assert phosphate.gap_kg is not None
    assert phosphate.gap_kg <= bone.brings_kg <= 1.6 * phosphate.gap_kg
    ash = next(each for each in potash.supplies if each.material == "wood-ash")
    assert 0.03 * ash.kilograms <= ash.brings_kg <= 0.06 * ash.kilograms
    assert ash.litres <= 0.01 * option.litres * (1 + 1e-9), "a hundredth of the heap at most (Georgia ash column, read)"


def test_no_ash_beside_urine() -> None:
    """Alkaline ash drives ammonia off (Georgia ash column, read), and comfrey is no winter crop."""
    found = asked(
        "1 bucket hen manure", "3 jugs urine, 3 barrows kitchen scraps, 9 sacks straw", place__season="winter"
    )
    ways = [one for one in found.options if "urine" in {part.material for part in one.parts}]
    assert ways
    for one in ways:
        assert all(each.material != "wood-ash" for food in one.plant_food for each in food.supplies)
        assert any("No wood ash" in line.text for line in one.withheld)
    assert all(each.material != "comfrey" for one in found.options for food in one.plant_food for each in food.supplies)


def test_what_is_not_known_is_said_and_never_nought() -> None:
    found = asked("2 barrows guinea pig bedding", "9 buckets spent hops, 9 sacks straw", place__season="winter")
    assert found.options[0].plant_food[0].manure_kg is None
    for food in found.options[0].plant_food:
        assert food.not_known == ("spent-hops",)
        assert food.brings_kg is None
        assert food.gap_kg is None
        assert food.supplies == ()
        assert "not known" in food.line.text


def test_rich_manure_may_be_replaced_with_its_browns() -> None:
    """C:N 25 is the lower edge of a steady heap; the carbon beyond the manure's is told in sacks of leaves."""
    found = asked("2 buckets hen manure", place__season="summer")
    first = found.options[0]
    assert {part.reach for part in first.parts} <= {"on-hand", "near-home"}
    assert first.carbon_nitrogen == pytest.approx(25, rel=0.11)
    assert "of dry leaves" in first.line.text
    assert any(option.met for option in found.options[1:])
