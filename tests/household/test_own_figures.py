"""Own figures of a material, in options and in files."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path

import pytest

from advisor.blend.own import odd, with_own
from advisor.blend.spread import typical
from advisor.errors import HouseholdError
from advisor.household.files import household_from_options, read_household, write_household
from advisor.household.own_figures import own_figures, own_text, own_told
from advisor.household.shapes import OwnFigures
from advisor.knowledge.load import shipped


@pytest.mark.parametrize(
    ("words", "figures"),
    [
        ("moisture 70 %", OwnFigures(moisture_pct=70)),
        ("C:N 20, nitrogen 2.5 %", OwnFigures(nitrogen_pct=2.5, carbon_nitrogen=20)),
        ("density 0.45 kg/L and ash 8", OwnFigures(density_kg_m3=450, ash_pct=8)),
        ("10-10-10", OwnFigures(nitrogen_pct=10, moisture_pct=0)),
        ("weight 800 lb/yd3", OwnFigures(density_kg_m3=800 * 0.593276)),
    ],
)
def test_figures_in_words(words: str, figures: OwnFigures) -> None:
    """A pound a cubic yard is 0.593276 kg/m3, by definition; a label's first number is its nitrogen, by law in most
    countries (common practice, no source)."""
    found = own_figures(words, "here")
    assert found == figures
    if "10-10" not in words:
        assert asdict(own_figures(own_text(found), "here")) == pytest.approx(asdict(found))


@pytest.mark.parametrize("words", ["", "moisture", "moisture 170 %", "colour 5", "moisture 70, moisture 60", "C:N 0"])
def test_what_is_no_figure_is_refused(words: str) -> None:
    with pytest.raises(HouseholdError):
        own_figures(words, "here")


def test_a_material_that_is_not_there_is_refused() -> None:
    with pytest.raises(HouseholdError, match="moonshine"):
        own_told("moonshine: moisture 90", shipped(), "--own")


def test_carbon_stays_when_nitrogen_alone_is_told() -> None:
    grass = shipped().materials["grass-clippings"]
    mine = typical(with_own(grass, OwnFigures(nitrogen_pct=2.0)))
    assert mine.nitrogen_pct == 2.0
    assert mine.carbon_pct == pytest.approx(typical(grass).carbon_pct)


def test_only_what_lies_far_outside_is_odd() -> None:
    grass = shipped().materials["grass-clippings"]
    assert not list(odd(grass, OwnFigures(moisture_pct=grass.moisture.low)))
    assert [one.what for one in odd(grass, OwnFigures(moisture_pct=5, nitrogen_pct=3))] == ["moisture"]


def test_they_are_kept_with_the_household(tmp_path: Path) -> None:
    knowledge = shipped()
    home = household_from_options("2 sacks straw", knowledge, own={"straw": "moisture 15 %, C:N 90"})
    file = tmp_path / "home.toml"
    file.write_text(write_household(home, knowledge), encoding="utf-8")
    assert read_household(file, knowledge).own == home.own == {"straw": OwnFigures(carbon_nitrogen=90, moisture_pct=15)}
