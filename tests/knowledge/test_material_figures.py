"""Our figures for materials against printed tables, and against what plant matter can be made of.

`published_materials.csv` copies values as their sources print them, in the units printed; it is kept by hand,
apart from rules/, so that a slip in one shows against the other. Its column `source` is an entry of
rules/sources.toml. Rows that say "from memory" are to be confirmed.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from pathlib import Path
from typing import Any

import pytest

from advisor.knowledge.load import read
from advisor.knowledge.shapes import Figure, Material
from advisor.places import rules_folder

MATERIALS = read(rules_folder())[0].materials
WITH_CARBON = sorted(name for name, material in MATERIALS.items() if material.carbon_nitrogen)
PROPERTIES = ("nitrogen", "carbon_nitrogen", "carbon", "moisture", "density", "density_packed", "ash")

KG_PER_LB = 0.45359237  # by definition
TO_OURS = {
    "%": 1.0,
    "ratio": 1.0,
    "kg/m3": 1.0,
    "lb/yd3": KG_PER_LB / 0.9144**3,
    "lb/ft3": KG_PER_LB / 0.3048**3,
}


def _printed() -> list[Any]:
    with (Path(__file__).parent / "published_materials.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return [pytest.param(row, id=f"{row['material']} {row['property']} {row['low']} {row['source']}") for row in rows]


def _figure(row: dict[str, str]) -> Figure:
    figure = getattr(MATERIALS[row["material"]], row["property"])
    assert isinstance(figure, Figure), f"{row['material']} states no {row['property']}"
    return figure


@pytest.mark.parametrize("row", _printed())
def test_range_spans_what_the_table_prints(row: dict[str, str]) -> None:
    figure = _figure(row)
    low, high = float(row["low"]), float(row["high"])
    if row["unit"] == "% of whole":
        # Whole-weight nitrogen has only to be possible: at some moisture of ours it falls in our dry range.
        moisture = MATERIALS[row["material"]].moisture
        assert low / (1 - moisture.low / 100) <= figure.high
        assert high / (1 - moisture.high / 100) >= figure.low
    else:
        scale = TO_OURS[row["unit"]]
        assert figure.low <= low * scale
        assert high * scale <= figure.high


@pytest.mark.parametrize("row", _printed())
def test_figure_quotes_the_table(row: dict[str, str]) -> None:
    whole = row["unit"] == "% of whole"
    scale = 1.0 if whole else TO_OURS[row["unit"]]
    low, high = float(row["low"]) * scale, float(row["high"]) * scale
    rounding = 0.5 if row["unit"].startswith("lb") else 1e-9
    quoted = [value for value in _figure(row).published if value.source == row["source"]]
    assert any(
        abs(value.low - low) <= rounding and abs(value.high - high) <= rounding and value.as_received == whole
        for value in quoted
    ), f"{row['source']} prints {row['low']}-{row['high']} {row['unit']}; quoted are {quoted}"


@pytest.mark.parametrize("name", WITH_CARBON)
def test_nitrogen_and_ratio_imply_a_possible_amount_of_carbon(name: str) -> None:
    """Organic matter is 40 % carbon (glucose, by its formula) to 62 % (lignin and resin, from memory).

    Urea is 20 % and uric acid 36 % carbon by their formulas. Matter with a C:N under 3 is mostly such salts,
    some of them with no carbon at all, so as little as 15 % passes there.
    """
    material = MATERIALS[name]
    assert material.carbon_nitrogen is not None
    carbon = material.nitrogen.typical * material.carbon_nitrogen.typical
    floor = 0.15 if material.carbon_nitrogen.typical < 3 else 0.40
    organic = 100 - (material.ash.typical if material.ash else 0)
    assert floor * organic <= carbon <= 0.62 * organic


@pytest.mark.parametrize("name", [name for name in WITH_CARBON if MATERIALS[name].carbon])
def test_stated_carbon_agrees_with_nitrogen_times_ratio(name: str) -> None:
    material = MATERIALS[name]
    assert material.carbon is not None
    assert material.carbon_nitrogen is not None
    implied = material.nitrogen.typical * material.carbon_nitrogen.typical
    assert implied == pytest.approx(material.carbon.typical, rel=0.05)


@pytest.mark.parametrize("name", sorted(MATERIALS))
def test_range_spans_every_value_it_cites(name: str) -> None:
    for label, figure in _figures(MATERIALS[name]):
        for value in figure.published:
            on_another_basis = value.as_received and label in {"nitrogen", "carbon"}
            if not (value.outlier or on_another_basis):
                assert figure.low <= value.low, f"{label}: {value}"
                assert value.high <= figure.high, f"{label}: {value}"


@pytest.mark.parametrize("name", sorted(MATERIALS))
def test_estimates_and_outliers_are_explained(name: str) -> None:
    for label, figure in _figures(MATERIALS[name]):
        if any(value.outlier or value.source == "our-estimate" for value in figure.published):
            assert figure.note, f"{label} needs a note"


@pytest.mark.parametrize("name", sorted(MATERIALS))
def test_pressing_makes_nothing_lighter(name: str) -> None:
    loose, packed = MATERIALS[name].density, MATERIALS[name].density_packed
    if packed is not None:
        assert packed.low >= loose.low
        assert packed.typical >= loose.typical
        assert packed.high >= loose.high


def test_a_word_means_one_material() -> None:
    meanings = defaultdict(set)
    for name, material in MATERIALS.items():
        for word in (name.replace("-", " "), material.name.casefold(), *map(str.casefold, material.aliases)):
            meanings[word].add(name)
    assert {word: names for word, names in meanings.items() if len(names) > 1} == {}


@pytest.mark.parametrize("name", sorted(MATERIALS))
def test_no_alias_is_listed_twice(name: str) -> None:
    words = [MATERIALS[name].name.casefold(), *map(str.casefold, MATERIALS[name].aliases)]
    assert sorted(words) == sorted(set(words))


@pytest.mark.parametrize("word", ["manure", "litter", "bedding"])
def test_words_too_vague_to_guess_belong_to_nothing(word: str) -> None:
    """Manure runs from 7 to 55 in C:N by animal and bedding, so the person has to be asked which."""
    assert not any(word in {material.name, *material.aliases} for material in MATERIALS.values())


@pytest.mark.parametrize("trait", ["human-waste", "treated", "coated"])
def test_what_home_guides_keep_out_is_marked_never(trait: str) -> None:
    """Common practice of home composting guides: no human waste, treated wood or coated paper.

    Dog and cat waste may be buried apart; the rules bar it from every heap (tests/counsel).
    """
    bearers = {name: material.role for name, material in MATERIALS.items() if trait in material.traits}
    assert bearers
    assert set(bearers.values()) == {"never"}, bearers


def _figures(material: Material) -> list[tuple[str, Figure]]:
    found = ((label, getattr(material, label)) for label in PROPERTIES)
    return [(label, figure) for label, figure in found if figure is not None]
