"""Every manure there is can be replaced in every month, and nothing that is offered breaks a rule of safety."""

from __future__ import annotations

import math
from functools import cache

import pytest

from advisor.blend.substitute import MOST_KINDS
from advisor.counsel.candidates import is_manure
from advisor.counsel.seasons import SEASONS, season_of
from advisor.counsel.stead import Substitutes
from advisor.counsel.substitutes import shipped_replacing_engine, substitutes
from advisor.errors import HouseholdError
from advisor.household.holdings import holdings_told
from advisor.household.shapes import Holding, Household, Quantity
from advisor.knowledge.load import shipped

MANURES = sorted(name for name, material in shipped().materials.items() if is_manure(material))

#: Traits that keep a material out of every balanced heap (rules/keep-out.toml, by their own sources).
NEVER = {"treated", "coal-ash", "plastic", "coated", "human-waste", "pet-waste", "diseased", "spreads", "poisonous"}

#: The largest shares of a heap, by volume, that the sources of rules/keep-out.toml print.
PUBLISHED_CAPS = {"grass-clippings": 50, "coffee-grounds": 33, "blood-meal": 5, "cottonseed-meal": 5, "seaweed": 33}


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
