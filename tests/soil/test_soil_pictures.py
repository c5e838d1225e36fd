"""The pages of the soil: the triangle and the bars, drawn in plain signs."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.counsel.plan import Line
from advisor.papers.ground import texture_picture, trend_picture
from advisor.soil.texture import texture
from advisor.soil_counsel.shapes import MarkShown, TextureFound, TrendFound


def shown(sand: float, silt: float, clay: float) -> list[str]:
    found = texture(sand, silt, clay)
    return texture_picture(
        TextureFound(
            bed="A", sand_pct=found.sand_pct, silt_pct=found.silt_pct, clay_pct=found.clay_pct, name=found.name
        )
    ).splitlines()[:20]


@given(st.floats(0, 100), st.floats(0, 100))
def test_any_soil_is_one_star_in_the_triangle(one: float, other: float) -> None:
    sand, upto = sorted((one, other))
    rows = shown(sand, upto - sand, 100 - upto)
    assert sum(row.count("*") for row in rows) == 1
    (row,) = (row for row in rows if "*" in row)
    assert int(row.split("%")[0]) <= 100 - upto + 1e-6


@pytest.mark.parametrize("corner", [(100, 0, 0), (0, 100, 0), (0, 0, 100)])
def test_the_corners(corner: tuple[int, int, int]) -> None:
    assert any("*" in row for row in shown(*corner))


def test_bars_grow_with_the_figures() -> None:
    marks = tuple(MarkShown(on=date(2026 + year, 4, 1), value=value) for year, value in enumerate((0.0, 50.0, 100.0)))
    trend = TrendFound(
        bed="A",
        tracked="worms",
        about="earthworms",
        unit="per m2",
        direction="better",
        per_year=50,
        marks=marks,
        line=Line(id="t1", text="x"),
    )
    bars = [row.count("#") for row in trend_picture(trend).splitlines()[1:]]
    assert bars == [0, 15, 30]
