"""rules/figures.toml: every constant is sourced, spans what its sources print, and is there if asked for."""

import re
import tomllib
from pathlib import Path

import pytest

from advisor import heap
from advisor.errors import RuleBaseError
from advisor.heap.ranges import figure
from advisor.places import rules_folder

FOOT_M = 0.3048  # exact since 1959, by definition
POUND_KG = 0.45359237


def test_every_source_is_in_the_bibliography(figures):
    known = tomllib.loads((rules_folder() / "sources.toml").read_text(encoding="utf-8"))
    cited = {value.source for each in figures.values() for value in each.published}
    assert cited <= set(known)


def test_every_range_spans_what_is_printed(figures):
    for name, each in figures.items():
        for value in each.published:
            if not value.outlier:
                assert each.low <= value.low <= value.high <= each.high, (name, value)


def test_our_own_estimates_say_what_they_were_guessed_from(figures):
    for name, each in figures.items():
        if any(value.source == "our-estimate" for value in each.published):
            assert each.note, name


def test_every_constant_the_arithmetic_asks_for_is_there(figures):
    code = "\n".join(path.read_text(encoding="utf-8") for path in Path(heap.__file__).parent.glob("*.py"))
    asked = set(re.findall(r'figure\(\s*(?:self\.)?figures,\s*"([a-z0-9-]+)"\s*\)', code))
    assert len(asked) > 30
    assert asked <= set(figures)


def test_a_missing_constant_is_named():
    with pytest.raises(RuleBaseError, match=r"rules/figures.toml: no \[layer-cm\]"):
        figure({}, "layer-cm")


@pytest.mark.parametrize(
    ("name", "end", "printed"),
    [
        ("smallest-hot-side-m", "typical", 3 * FOOT_M),  # Organic Gardener's Composting: 3 ft
        ("smallest-hot-side-m", "low", 32 / 12 * FOOT_M),  # University of California rapid method: 32 in
        ("highest-still-heap-m", "typical", 5 * FOOT_M),  # Rutgers FS074: at most 5 ft
        ("leaf-heap-width-m", "low", 4 * FOOT_M),  # Rutgers FS074: at least 4 ft
        ("leaf-heap-width-m", "high", 10 * FOOT_M),  # Rutgers FS074: at most 10 ft
        ("worm-bin-m2-per-weekly-kg", "typical", FOOT_M**2 / POUND_KG),  # 1 ft2 a pound, from memory
        ("worm-bin-litres-per-weekly-kg", "typical", 1000 * FOOT_M**3 / POUND_KG),  # book: 1 lb a ft3
        ("worm-bedding-litres-per-kg-worms", "low", 3000 * FOOT_M**3 / POUND_KG),  # book: 3 ft3 a pound
        ("worm-bedding-litres-per-kg-worms", "high", 4000 * FOOT_M**3 / POUND_KG),  # book: 4 ft3 a pound
        ("worms-per-kg", "low", 600 / POUND_KG),  # book: 600 to 1000 breeders, 2000 of all sizes
        ("worms-per-kg", "typical", 1000 / POUND_KG),
        ("worms-per-kg", "high", 2000 / POUND_KG),
        ("decay-doubling-celsius", "typical", 20 / 1.8),  # book: 20 F
        ("decay-doubling-from-celsius", "typical", (50 - 32) / 1.8),  # book: 50 F
        ("decay-doubling-to-celsius", "typical", (110 - 32) / 1.8),  # book: about 110 F
        ("trench-depth-cm", "high", 18 * 2.54),  # from memory: 18 in
    ],
)
def test_conversions_from_feet_pounds_and_fahrenheit(figures, name, end, printed):
    assert getattr(figures[name], end) == pytest.approx(printed, rel=0.02)
