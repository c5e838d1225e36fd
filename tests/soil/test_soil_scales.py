"""Every class table against the limits as published."""

import tomllib
from pathlib import Path

import pytest

from advisor.errors import RuleBaseError
from advisor.knowledge.shapes import Scale
from advisor.soil.scales import scale

POINTS = tomllib.loads((Path(__file__).parent / "published_classes.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("table", "value", "word"),
    [(table, value, word) for table, entry in POINTS.items() for value, word in entry["points"]],
)
def test_published_class(table: str, value: float, word: str, scales: dict[str, Scale]) -> None:
    assert scales[table].of(value).word == word


def test_every_shipped_word_is_reached_by_a_published_point(scales: dict[str, Scale]) -> None:
    for table, entry in POINTS.items():
        assert {word for _, word in entry["points"]} == {band.word for band in scales[table].bands}


def test_a_missing_table_is_named(scales: dict[str, Scale]) -> None:
    with pytest.raises(RuleBaseError, match="moonlight"):
        scale(scales, "moonlight")


def test_limits_must_rise() -> None:
    with pytest.raises(ValueError, match="rise"):
        Scale.model_validate(
            {
                "about": "a table",
                "unit": "%",
                "source": "common-practice",
                "bands": [
                    {"below": 5, "word": "one", "say": "one"},
                    {"below": 5, "word": "two", "say": "two"},
                    {"word": "three", "say": "three"},
                ],
            }
        )
