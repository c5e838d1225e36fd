"""Liquids poured on for their nitrogen count in the recipe, in the mix asked about, in a cure and in the heat."""

from __future__ import annotations

import pytest

from advisor.counsel.consult import consult, shipped_engine
from advisor.counsel.heat import HeatAsked, heat_answer
from advisor.counsel.own_mix import comes_to, from_amounts
from advisor.diagnosis.diagnose import diagnose, shipped_diagnosis_engine
from advisor.heat.balance import Heap
from advisor.heat.draws import Draws
from advisor.heat.setting import Setting, Tables, heap
from advisor.household.files import household_from_options
from advisor.household.names import find_material
from advisor.knowledge.load import shipped

KNOWLEDGE = shipped()
POURED = [name for name, one in KNOWLEDGE.materials.items() if "liquid-feed" in one.traits]


def grams_a_litre(name: str, at: str) -> float:
    """Grams of nitrogen in a litre: with the low, the typical or the high figure of everything."""
    material = KNOWLEDGE.materials[name]
    wet = {"low": material.moisture.high, "typical": material.moisture.typical, "high": material.moisture.low}[at]
    return getattr(material.nitrogen, at) * (100 - wet) / 100 * material.density.typical / 100


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        # H. Jönsson and others, Guidelines on the Use of Urine and Faeces in Crop Production, EcoSanRes, 2004: 3 to 7 g
        ("urine", 3, 7),
        # the same in 3 to 10 parts of water: Compendium of Sanitation Technologies in Emergencies, 2018
        ("urine-diluted", 3 / 11, 7 / 4),
        # Nutrient Management Guide (RB209), AHDB: 1.6, 2.6 and 3.6 kg in a cubic metre of 2, 6 and 10 % dry matter
        ("cattle-slurry", 1.6, 3.6),
        # the same: 3.0, 3.6 and 4.4 kg in a cubic metre of 2, 4 and 6 %
        ("pig-slurry", 3.0, 4.4),
    ],
)
def test_nitrogen_in_a_litre_is_what_is_published(name: str, low: float, high: float) -> None:
    assert low < grams_a_litre(name, "typical") < high


def test_slurry_of_more_dry_matter_has_the_nitrogen_of_its_row() -> None:
    """RB209, AHDB: 6 % dry matter with 2.6 kg of nitrogen in a cubic metre of cattle slurry, printed in bold."""
    assert grams_a_litre("cattle-slurry", "typical") == pytest.approx(2.6, rel=0.05)
    assert grams_a_litre("pig-slurry", "typical") == pytest.approx(3.6, rel=0.05)


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("nettle tea", "nettle-water"),
        ("comfrey feed", "comfrey-water"),
        ("diluted urine", "urine-diluted"),
        ("slurry", "cattle-slurry"),
        ("liquid tomato feed", "liquid-feed"),
        ("blood meal in water", "blood-meal-water"),
        ("bucket liquid", "ferment-liquid"),
    ],
)
def test_what_people_pour_has_a_name(said: str, name: str) -> None:
    assert find_material(said, KNOWLEDGE).id == name
    assert name in POURED


@pytest.mark.parametrize("name", POURED)
def test_it_counts_in_the_mix_asked_about(name: str) -> None:
    told = KNOWLEDGE.materials[name].name
    dry = comes_to(from_amounts(household_from_options("100 L straw", KNOWLEDGE), KNOWLEDGE))
    wet = comes_to(from_amounts(household_from_options(f"100 L straw, 10 L {told}", KNOWLEDGE), KNOWLEDGE))
    brought = grams_a_litre(name, "typical") * 10 / 1000
    assert wet.nitrogen_kg.typical - dry.nitrogen_kg.typical == pytest.approx(brought, rel=0.05)
    assert wet.carbon_nitrogen.typical < dry.carbon_nitrogen.typical
    assert wet.moisture_pct.typical > dry.moisture_pct.typical + 20
    assert wet.carbon_nitrogen.low < wet.carbon_nitrogen.typical < wet.carbon_nitrogen.high


@pytest.mark.parametrize("name", POURED)
def test_the_recipe_counts_its_nitrogen_and_its_water(name: str) -> None:
    told = KNOWLEDGE.materials[name].name
    have = f"20 buckets straw, 3 buckets coffee grounds, 15 L {told}"
    found = consult(household_from_options(have, KNOWLEDGE), KNOWLEDGE, shipped_engine(), with_doubts=False)
    line = next(line for line in found.recipe.additions if "pour on" in line.text)
    assert "pour on none" not in line.text, "straw with few grounds is short of nitrogen"
    assert "nitrogen and its water are counted" in line.text
    without = consult(
        household_from_options("20 buckets straw, 3 buckets coffee grounds", KNOWLEDGE),
        KNOWLEDGE,
        shipped_engine(),
        with_doubts=False,
    )
    assert found.recipe.water_litres < without.recipe.water_litres


def test_a_leaf_heap_drinks_what_is_poured_in_the_place_of_water() -> None:
    def water(have: str) -> float:
        found = consult(household_from_options(have, KNOWLEDGE), KNOWLEDGE, shipped_engine(), with_doubts=False)
        assert found.choice.method == "leaf-heap"
        return found.recipe.water_litres

    alone = water("10 sacks dry leaves")
    assert water("10 sacks dry leaves, 10 L nettle water") == pytest.approx(alone - 10, abs=0.3)
    assert water("10 sacks dry leaves, 300 L nettle water") == pytest.approx(0, abs=1)


def test_a_cure_is_less_by_what_was_poured_and_says_so() -> None:
    signs = {"warmth": ("cold",), "moisture": ("right",), "progress": ("nothing",)}

    def greens(heap: str) -> tuple[float, str]:
        found = diagnose(
            signs,
            KNOWLEDGE,
            shipped_diagnosis_engine(),
            household=household_from_options(heap, KNOWLEDGE),
        )
        dose = next(one.dose for one in found.remedies if one.dose is not None and one.dose.material)
        return dose.litres, dose.rests_on

    alone, said_alone = greens("6 sacks dry leaves")
    fed, said = greens("6 sacks dry leaves, 20 L urine")
    assert 0 < fed < 0.6 * alone
    assert "I have counted the 20 L of urine poured on." in said
    assert "poured" not in said_alone


class _Settled(Exception):
    """Carries the heap as the heat balance would take it."""


def test_it_counts_in_the_heat_and_takes_up_no_room(monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(setting: Setting, tables: Tables, *_: object, **__: object) -> None:
        raise _Settled(setting, heap(setting, tables, Draws(20)))

    monkeypatch.setattr("advisor.counsel.heat.foresee", stop)

    def settled(have: str) -> tuple[Setting, Heap]:
        with pytest.raises(_Settled) as found:
            heat_answer(household_from_options(have, KNOWLEDGE), KNOWLEDGE, asked=HeatAsked(moisture=60.0))
        return found.value.args[0], found.value.args[1]

    (dry, dry_heap), (fed, fed_heap) = settled("1000 L straw"), settled("1000 L straw, 40 L urine")
    assert fed.litres == dry.litres
    assert fed.water_kg == pytest.approx(dry.water_kg - 38, abs=3), "its water stands in for water"
    assert fed_heap.carbon_nitrogen.mean() < 0.8 * dry_heap.carbon_nitrogen.mean()


@pytest.mark.parametrize(
    ("have", "says"),
    [
        # WHO Guidelines for the Safe Use of Wastewater, Excreta and Greywater, volume 4, 2006 (from memory): a month
        # between pouring and harvest, and no storage where a household eats its own crops
        ("6 buckets straw, 5 L urine", ("your own household", "strong medicines", "a month", "eaten raw", "bleach")),
        ("6 buckets straw, 20 L diluted urine", ("your own household", "strong medicines", "a month", "eaten raw")),
        # common practice, no source
        ("6 buckets straw, 20 L slurry", ("gas that kills", "raw manure")),
        ("6 buckets straw, 20 L nettle tea", ("lid", "child", "eaten raw")),
    ],
)
def test_its_cautions_are_told(have: str, says: tuple[str, ...]) -> None:
    found = consult(household_from_options(have, KNOWLEDGE), KNOWLEDGE, shipped_engine(), with_doubts=False)
    told = " ".join(line.text for line in found.cautions)
    for words in says:
        assert words in told
