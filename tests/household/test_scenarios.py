"""The households that come with the program, read with the rules that come with it."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.household import files
from advisor.household.files import read_household, write_household
from advisor.knowledge.base import Knowledge
from advisor.knowledge.load import read
from advisor.places import rules_folder, scenarios_folder

FILES = sorted(scenarios_folder().glob("*.toml"))


@pytest.fixture(scope="module")
def shipped_rules() -> Knowledge:
    return read(rules_folder())[0]


def test_there_are_households_enough() -> None:
    assert len(FILES) >= 14


@pytest.mark.parametrize("file", FILES, ids=[file.stem for file in FILES])
def test_a_shipped_household_is_read_and_written(file: Path, shipped_rules: Knowledge, tmp_path: Path) -> None:
    household = read_household(file, shipped_rules)
    assert household.holdings
    assert household.about
    copy = tmp_path / file.name
    copy.write_text(write_household(household, shipped_rules), encoding="utf-8")
    assert read_household(copy, shipped_rules) == household
    assert all(f'"{holding.said}"' in file.read_text(encoding="utf-8") for holding in household.holdings)


def test_the_households_differ_in_what_matters(shipped_rules: Knowledge) -> None:
    """Every kind of space, season, climate and wish is met by one of them, and some leave much unknown."""
    households = [read_household(file, shipped_rules) for file in FILES]
    for name in ("place.space", "place.season", "place.climate", "wish.aim", "wish.turning"):
        kind, attribute = name.split(".")
        words = set(shipped_rules.kinds[kind].attributes[attribute].words)
        told = {value for household in households for value in household.answers.get(name, ())}
        missing = words - told
        assert not missing - {"leaf-mould"}, f"{name}: nobody says {sorted(missing)}"
    assert any(len(household.answers) < 6 for household in households)


def test_names_are_told_once(shipped_rules: Knowledge) -> None:
    names = [read_household(file, shipped_rules).name for file in FILES]
    assert len(set(names)) == len(names)


def test_the_format_as_documented_is_the_format_as_read(shipped_rules: Knowledge, tmp_path: Path) -> None:
    example = [line[4:] for line in (files.__doc__ or "").splitlines() if line.startswith("    ") or not line]
    (tmp_path / "example.toml").write_text("\n".join(example), encoding="utf-8")
    household = read_household(tmp_path / "example.toml", shipped_rules)
    assert household.name == "the terrace at number nine"
    assert [holding.material for holding in household.holdings] == ["dry-leaves", "kitchen-scraps"]
    assert household.answers["place.container"] == ("closed-bin",)
    assert household.measures["bucket"].litres == 12
