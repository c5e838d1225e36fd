"""Greens, kitchen scraps, meals, minerals and what stays out, against the tables they were drawn from.

published_greens.csv holds values as the handbooks print them, in their own units, each with its table.
Some are of whole weight ("whole") and some of dry mass; they are compared only through the moisture.
"""

from __future__ import annotations

import csv
import tomllib
from pathlib import Path

import pytest

from advisor.knowledge.load import read
from advisor.knowledge.shapes import Figure, Material
from advisor.places import rules_folder

KNOWLEDGE, _ = read(rules_folder())
FILES = ("green", "kitchen", "harvest", "meals", "minerals", "keep-out")
FIGURES = ("nitrogen", "carbon_nitrogen", "carbon", "moisture", "density", "density_packed", "ash")

#: kg/m3 in one lb/yd3 and one lb per US gallon: the pound and the inch are exact by the agreement of 1959.
_POUND_KG, _INCH_M = 0.45359237, 0.0254
KG_M3 = {"lb/yd3": _POUND_KG / (36 * _INCH_M) ** 3, "lb/gal": _POUND_KG / (231 * _INCH_M**3)}

#: Printed to so many figures: a value at the very edge of a range may be rounded in it.
ROUNDING = 0.01


def ids(file: str) -> list[str]:
    return list(tomllib.loads((rules_folder() / "materials" / f"{file}.toml").read_text(encoding="utf-8")))


def ours() -> dict[str, Material]:
    return {name: KNOWLEDGE.materials[name] for file in FILES for name in ids(file)}


def figure(material: Material, name: str) -> Figure:
    found = getattr(material, name)
    assert isinstance(found, Figure), f"has no {name}"
    return found


def published_rows() -> list[dict[str, str]]:
    path = Path(__file__).with_name("published_greens.csv")
    with path.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def spans(low: float, high: float, least: float, most: float) -> bool:
    return low * (1 - ROUNDING) <= least and most <= high * (1 + ROUNDING)


@pytest.mark.parametrize("row", published_rows(), ids=lambda row: f"{row['id']} {row['property']} {row['printed']}")
def test_our_range_spans_what_is_published(row: dict[str, str]) -> None:
    material = KNOWLEDGE.materials[row["id"]]
    our = figure(material, row["property"])
    least, _, most = row["printed"].partition("-")
    printed = float(least), float(most or least)
    low, high = our.low, our.high
    match row["basis"]:
        case "whole":  # the driest that is leanest would weigh least nitrogen: the whole interval must hold it
            wettest, driest = material.moisture.high, material.moisture.low
            low, high = low * (100 - wettest) / 100, high * (100 - driest) / 100
        case "protein":
            printed = printed[0] / 6.25, printed[1] / 6.25
        case "lb/yd3" | "lb/gal" as unit:
            printed = printed[0] * KG_M3[unit], printed[1] * KG_M3[unit]
        case "dry" | "wet" | "ratio":
            pass
        case other:
            pytest.fail(f"no basis '{other}'")
    assert spans(low, high, *printed), f"{low:g} to {high:g} does not span {printed}, {row['source']}"


@pytest.mark.parametrize(
    ("name", "carbon", "nitrogen"),
    [
        ("alfalfa-meal", 40.5, 2.7),
        ("blood-meal", 43, 13),
        ("cottonseed-meal", 42, 6),
        ("soybean-meal", 42, 6),
        ("kitchen-scraps", 10, 1),
        ("coffee-grounds", 25, 1),
        ("coffee-grounds", 21, 2),
    ],
)
def test_carbon_over_nitrogen_needs_no_basis(name: str, carbon: float, nitrogen: float) -> None:
    # Whole-weight % C and % N: the handout on the C:N of a mix; the last pair, Georgia's list of amendments.
    ratio = figure(KNOWLEDGE.materials[name], "carbon_nitrogen")
    assert spans(ratio.low, ratio.high, carbon / nitrogen, carbon / nitrogen)


def test_moisture_of_mushroom_compost_follows_from_its_two_nitrogen_figures() -> None:
    # Fresh mushroom compost survey: 1.12 % nitrogen of wet and 2.65 % of dry mass.
    assert figure(KNOWLEDGE.materials["spent-mushroom-compost"], "moisture").typical == pytest.approx(
        100 * (1 - 1.12 / 2.65), abs=0.5
    )


def test_pure_substances_are_what_their_formulas_say() -> None:
    # Abridged standard atomic weights (IUPAC 2021).
    h, c, n, o, s = 1.008, 12.011, 14.007, 15.999, 32.06
    urea = c + o + 2 * (n + 2 * h)
    sulphate = 2 * (n + 4 * h) + s + 4 * o
    triolein = 57 * c + 104 * h + 6 * o
    materials = KNOWLEDGE.materials
    assert materials["urea"].nitrogen.high == pytest.approx(100 * 2 * n / urea, abs=0.1)
    assert figure(materials["urea"], "carbon_nitrogen").typical == pytest.approx(c / (2 * n), abs=0.005)
    assert materials["ammonium-sulphate"].nitrogen.high == pytest.approx(100 * 2 * n / sulphate, abs=0.1)
    assert figure(materials["cooking-fat"], "carbon").typical == pytest.approx(100 * 57 * c / triolein, abs=0.5)


#: Urea is not grown: its carbon is checked against its formula above.
GROWN = [name for name, material in ours().items() if material.carbon_nitrogen and name != "urea"]


@pytest.mark.parametrize("name", GROWN)
def test_nitrogen_times_ratio_leaves_a_believable_carbon(name: str) -> None:
    # Organic matter is 40 % carbon (sugars) to 58 % (humus, by the old factor 1.724): from memory.
    material = KNOWLEDGE.materials[name]
    organic = 100 - (material.ash.typical if material.ash else 0)
    carbon = material.nitrogen.typical * figure(material, "carbon_nitrogen").typical
    assert 40 <= 100 * carbon / organic <= 58


@pytest.mark.parametrize("name", ids("kitchen"))
def test_every_kitchen_scrap_says_so(name: str) -> None:
    assert "kitchen" in KNOWLEDGE.materials[name].traits


def test_a_mineral_feeds_no_microbes() -> None:
    for name, material in ours().items():
        if material.role == "mineral":
            assert material.carbon_nitrogen is None, name
            sources = {published.source for published in material.nitrogen.published}
            assert material.nitrogen.high == 0 or sources - {"our-estimate"}, name


def test_figures_that_the_sums_rest_on_are_there() -> None:
    for name, material in ours().items():
        if material.role in ("green", "brown", "starter"):
            assert material.carbon_nitrogen or material.carbon, name
        if material.role == "mineral" or "soil" in material.traits or material.role == "starter":
            assert material.ash is not None, f"{name}: ash drives the air space"
        if material.density_packed:
            assert material.density_packed.typical > material.density.typical, name


def test_our_own_estimates_say_what_they_were_guessed_from() -> None:
    for name, material in ours().items():
        for place in FIGURES:
            found = getattr(material, place)
            if found and any(published.source == "our-estimate" for published in found.published):
                assert found.note, f"{name}.{place}"


def test_whole_weight_values_are_of_dry_stuff_properties() -> None:
    # Moisture and density are of the stuff as it is: flagging them would take them out of the range.
    for name, material in ours().items():
        for place in ("moisture", "density", "density_packed", "carbon_nitrogen"):
            found = getattr(material, place)
            assert not found or not any(published.as_received for published in found.published), f"{name}.{place}"


#: What town codes and extension leaflets keep out of a home heap (Merriam code 56-14, Farmer City code 53.05,
#: Moberly's materials to avoid, Test Valley on rats, as cited in sources.toml; the rest is common practice),
#: in the words people use, with the trait by which the rules know it.
KEPT_OUT = [
    ("meat", "meat"),
    ("fish", "meat"),
    ("chicken bones", "meat"),
    ("prawn shells", "meat"),
    ("milk", "dairy"),
    ("cheese", "dairy"),
    ("grease", "oily"),
    ("leftovers", "cooked"),
    ("bread", "cooked"),
    ("dog food", "cooked"),
    ("coal ash", "coal-ash"),
    ("barbecue ash", "coal-ash"),
    ("quicklime", "lime"),
    ("garden lime", "lime"),
    ("blight", "diseased"),
    ("club root", "diseased"),
    ("bindweed", "spreads"),
    ("quackgrass", "spreads"),
    ("ground elder", "spreads"),
    ("knotweed", "spreads"),
    ("oleander", "poisonous"),
    ("yew", "poisonous"),
    ("castor bean", "poisonous"),
    ("poison oak", "poisonous"),
    ("disposable nappies", "human-waste"),
    ("diapers", "human-waste"),
    ("plastic bags", "plastic"),
    ("compostable bags", "plastic"),
    ("cigarette butts", "poisonous"),
    ("treated grass", "may-carry-herbicide"),
    ("seedy weeds", "seedy"),
]


@pytest.mark.parametrize(("words", "trait"), KEPT_OUT)
def test_what_stays_out_is_known_by_its_common_name(words: str, trait: str) -> None:
    named = [m for m in KNOWLEDGE.materials.values() if words in (m.name.lower(), *(a.lower() for a in m.aliases))]
    assert len(named) == 1
    assert trait in named[0].traits


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("grass", "grass-clippings"),
        ("coffee", "coffee-grounds"),
        ("grounds", "coffee-grounds"),
        ("scraps", "kitchen-scraps"),
        ("food waste", "kitchen-scraps"),
        ("peelings", "vegetable-peelings"),
        ("weeds", "garden-weeds"),
        ("ashes", "wood-ash"),
        ("dirt", "garden-soil"),
        ("compost", "finished-compost"),
        ("lucerne meal", "alfalfa-meal"),
        ("zucchini", "cucumbers"),
        ("arugula", "lettuce"),
        ("rocket", "lettuce"),
    ],
)
def test_short_words_mean_the_common_thing(words: str, name: str) -> None:
    assert words in KNOWLEDGE.materials[name].aliases
