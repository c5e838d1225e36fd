"""The table [year] of a household file: read strictly, and written so that it reads back the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.errors import HouseholdError
from advisor.household.files import read_household
from advisor.household.shapes import Arrival, Household
from advisor.household.writing import write_household
from advisor.household.year import arrival_text, month_named
from advisor.knowledge.base import Knowledge
from advisor.knowledge.load import shipped

TERRACE = """
name = "a terrace"
[year]
begins = "September"
storage = "1200 L"
bays = 2
arrives = [
    "Oct-Nov: 4 sacks dry leaves a week",
    "Nov-Feb: 1 bag shredded paper a month",
    "Dec: 2 sacks straw",
    "5 L kitchen scraps a week",
]
"""


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return shipped()


def read(text: str, folder: Path, knowledge: Knowledge) -> Household:
    path = folder / "home.toml"
    path.write_text(text, encoding="utf-8")
    return read_household(path, knowledge)


def test_a_year_is_read(tmp_path: Path, knowledge: Knowledge) -> None:
    year = read(TERRACE, tmp_path, knowledge).year
    assert year is not None
    assert (year.begins, year.storage_l, year.bays) == (9, 1200.0, 2)
    assert [(one.first, one.last, one.holding.material, one.holding.quantity.per) for one in year.arrivals] == [
        (10, 11, "dry-leaves", "week"),
        (11, 2, "shredded-paper", "month"),
        (12, 12, "straw", "once"),
        (1, 12, "kitchen-scraps", "week"),
    ]


def test_it_is_written_and_reads_back_the_same(tmp_path: Path, knowledge: Knowledge) -> None:
    household = read(TERRACE, tmp_path, knowledge)
    again = read(write_household(household, knowledge), tmp_path, knowledge)
    assert again == household


def test_an_empty_year_is_a_year_all_the_same(tmp_path: Path, knowledge: Knowledge) -> None:
    household = read('name = "x"\n[year]\n', tmp_path, knowledge)
    assert household.year is not None
    assert read(write_household(household, knowledge), tmp_path, knowledge) == household


def test_a_household_without_one_has_none(tmp_path: Path, knowledge: Knowledge) -> None:
    household = read("have = []\n", tmp_path, knowledge)
    assert household.year is None
    assert "[year]" not in write_household(household, knowledge)


def test_months_round_the_turn_of_the_year(tmp_path: Path, knowledge: Knowledge) -> None:
    year = read(TERRACE, tmp_path, knowledge).year
    assert year is not None
    paper = year.arrivals[1]
    assert [month for month in range(1, 13) if paper.in_month(month)] == [1, 2, 11, 12]
    assert arrival_text(paper).startswith("Nov-Feb: ")
    assert isinstance(paper, Arrival)


@pytest.mark.parametrize(("word", "number"), [("Oct", 10), ("october", 10), ("May", 5), ("sept", 9), ("JUNE", 6)])
def test_names_of_months(word: str, number: int) -> None:
    assert month_named(word, "here") == number


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ('arives = ["5 L kitchen scraps a week"]', "did you mean 'arrives'"),
        ('begins = "Septober"', "is no month"),
        ('arrives = ["Octo-Dezember: 1 sack dry leaves"]', "is no month"),
        ('arrives = ["Oct: 4 sacks dry leavs of gold a week"]', "line 2"),
        ("arrives = [4]", "not an item in words"),
        ("bays = 0", "no number of bays"),
        ("bays = true", "no number of bays"),
        ('storage = "-4 L"', "home.toml"),
        ("storage = [1]", "is a volume"),
    ],
)
def test_what_is_not_understood_is_said_with_its_place(
    line: str, message: str, tmp_path: Path, knowledge: Knowledge
) -> None:
    with pytest.raises(HouseholdError) as caught:
        read(f"[year]\n{line}\n", tmp_path, knowledge)
    assert message in f"{caught.value} {caught.value.hint}"
    assert "home.toml" in str(caught.value)
