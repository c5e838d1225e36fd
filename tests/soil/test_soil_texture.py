"""The texture triangle against the definitions of the standard, and the jar against the law of settling."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.soil.texture import TEXTURES, fall_seconds, finest_settled_um, jar, texture

# Each class as the Soil Survey Manual words it (from memory; sand, loamy sand, loam, clay loam and clay as read in the
# glossary of the Soil Science Society of America), all independent of one another and of any order.
DEFINITIONS = {
    "sand": lambda s, z, c: s >= 85 and z + 1.5 * c < 15,
    "loamy-sand": lambda s, z, c: 70 <= s <= 91 and z + 1.5 * c >= 15 and z + 2 * c < 30,
    "sandy-loam": lambda s, z, c: (
        (7 <= c < 20 and s > 52 and z + 2 * c >= 30) or (c < 7 and z < 50 and s > 43 and z + 2 * c >= 30)
    ),
    "loam": lambda s, z, c: 7 <= c < 27 and 28 <= z < 50 and s <= 52,
    "silt-loam": lambda _, z, c: (z >= 50 and 12 <= c < 27) or (50 <= z < 80 and c < 12),
    "silt": lambda _, z, c: z >= 80 and c < 12,
    "sandy-clay-loam": lambda s, z, c: 20 <= c < 35 and z < 28 and s > 45,
    "clay-loam": lambda s, _, c: 27 <= c < 40 and 20 < s <= 45,
    "silty-clay-loam": lambda s, _, c: 27 <= c < 40 and s <= 20,
    "sandy-clay": lambda s, _, c: c >= 35 and s > 45,
    "silty-clay": lambda _, z, c: c >= 40 and z >= 40,
    "clay": lambda s, z, c: c >= 40 and s <= 45 and z < 40,
}

# Points inside the classes: sand, silt, clay. The first is an engineering text's own example (read).
POINTS = [
    (40, 35, 25, "loam"),
    (40, 40, 20, "loam"),
    (92, 5, 3, "sand"),
    (65, 25, 10, "sandy-loam"),
    (60, 13, 27, "sandy-clay-loam"),
    (10, 56, 34, "silty-clay-loam"),
    (52, 6, 42, "sandy-clay"),
    (6, 47, 47, "silty-clay"),
    (30, 45, 25, "loam"),
    (45, 45, 10, "loam"),
    (70, 15, 15, "sandy-loam"),
]


def named_by_definition(sand: float, silt: float, clay: float) -> list[str]:
    return [name for name, holds in DEFINITIONS.items() if holds(sand, silt, clay)]


@pytest.mark.parametrize(("sand", "silt", "clay", "name"), POINTS)
def test_published_points(sand: float, silt: float, clay: float, name: str) -> None:
    assert texture(sand, silt, clay).name == name


def test_every_whole_percent_has_the_one_class_that_the_definitions_give_it() -> None:
    for sand in range(101):
        for silt in range(101 - sand):
            clay = 100 - sand - silt
            assert named_by_definition(sand, silt, clay) == [texture(sand, silt, clay).name], (sand, silt, clay)


def test_near_every_boundary() -> None:
    """A tenth of a per cent to each side of every whole-percent point crosses every limit of the triangle."""
    for sand in range(1, 100):
        for silt in range(1, 100 - sand):
            for more_sand, more_silt in ((0.1, 0), (-0.1, 0), (0, 0.1), (0, -0.1), (0.1, -0.1), (-0.1, 0.1)):
                here = (round(sand + more_sand, 1), round(silt + more_silt, 1))
                point = (*here, round(100 - sum(here), 1))
                assert named_by_definition(*point) == [texture(*point).name], point


@given(st.floats(0, 100), st.floats(0, 100))
def test_no_gap_anywhere(one: float, other: float) -> None:
    sand, upto = sorted((one, other))
    assert texture(sand, upto - sand, 100 - upto).name in TEXTURES


@given(st.integers(0, 100), st.integers(0, 100), st.integers(1, 50))
def test_the_unit_of_the_jar_does_not_matter(one: int, other: int, unit: int) -> None:
    sand, silt = sorted((one, other))
    assert jar(sand, silt, 100).name == jar(sand * unit, silt * unit, 100 * unit).name


def test_jar_by_depths() -> None:
    """40, 35 and 25 mm of 100 (arithmetic); and 1.2, 2.4 and 3.0 in marks (jar method of Colorado State, read)."""
    assert jar(40, 75, 100).name == "loam"
    found = jar(1.2, 2.4, 3.0)
    assert (found.sand_pct, found.silt_pct, found.clay_pct) == pytest.approx((40, 40, 20))
    assert found.name == "loam"


@pytest.mark.parametrize("marks", [(2, 1, 3), (1, 4, 3), (0, 0, 0), (-1, 1, 2)])
def test_marks_that_cannot_be(marks: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError):
        jar(*marks)


@pytest.mark.parametrize("shares", [(50, 50, 50), (-1, 51, 50), (math.nan, 50, 50), (30, 30, 30)])
def test_shares_that_cannot_be(shares: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError):
        texture(*shares)


def test_falling_sand_and_clay() -> None:
    """10 cm at 20 °C: 50 µm in about 45 s, 2 µm in 7.7 h (settling law)."""
    assert fall_seconds(10, 50) == pytest.approx(45, rel=0.02)
    assert fall_seconds(10, 2) / 3600 == pytest.approx(7.7, rel=0.02)


@pytest.mark.parametrize(("hours", "finest"), [(0.5, 7.9), (2, 3.9), (6, 2.3)])
def test_guides_that_read_clay_too_early(hours: float, finest: float) -> None:
    """Guides print 30 min, 2 h and 6 h for the silt of a jar: by then coarser silt than clay (2 µm) still floats."""
    assert finest_settled_um(10, hours * 3600) == pytest.approx(finest, abs=0.06)
    assert finest_settled_um(10, hours * 3600) > 2


@given(st.floats(1, 50), st.floats(1, 100), st.floats(0, 40))
def test_time_and_grain_are_inverse(depth: float, grain: float, celsius: float) -> None:
    assert finest_settled_um(depth, fall_seconds(depth, grain, celsius), celsius) == pytest.approx(grain)
