"""Every class table against the limits as published."""

import tomllib
from pathlib import Path

import pytest

from advisor.errors import RuleBaseError
from advisor.knowledge.soil_shapes import Scale
from advisor.places import rules_folder
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


def test_every_table_is_held_by_published_points_and_says_what_is_from_memory(scales: dict[str, Scale]) -> None:
    """No table without points; one whose sources are all from memory says so, or what disagrees, in a note."""
    assert set(scales) == set(POINTS)
    sources = tomllib.loads((rules_folder() / "sources.toml").read_text(encoding="utf-8"))
    for name, table in scales.items():
        if all(sources[source]["standing"] == "memory" for source in table.source):
            assert table.note, name


@pytest.mark.parametrize(
    ("table", "rule", "word"),
    [
        ("soil-ph", "soil-ph-low", "sour"),
        ("soil-ph", "soil-ph-high", "limy"),
        ("soil-organic-matter", "soil-humus-low", "low"),
        ("soil-organic-matter", "soil-humus-high", "very-rich"),
        ("soil-phosphorus", "soil-phosphorus-high", "full"),
        ("soil-phosphorus", "soil-phosphorus-middling", "enough"),
        ("soil-salt", "soil-salt-high", "high"),
        ("soil-salt", "soil-salt-middling", "middling"),
    ],
)
def test_rules_and_tables_draw_the_line_at_the_same_place(
    table: str, rule: str, word: str, scales: dict[str, Scale]
) -> None:
    from advisor.knowledge.load import shipped

    (condition,) = shipped().rule(rule).when
    for value in (number / 20 for number in range(2400)):
        assert condition.passes(value) == (scales[table].of(value).word == word), value


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
