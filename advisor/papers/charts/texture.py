"""The triangle of soil textures, with soils in it.

plotext knows axes at right angles only; here the limits of the classes run aslant, and which side of one a soil lies on
is the whole matter. So the triangle is drawn in braille dots, eight to a cell, and `advisor.soil.texture` is asked of
each which class it belongs to: there is no second copy of the limits that could differ from the first.
Clay stands upwards, sand lies to the left and silt to the right, as the triangle is commonly printed.
"""

from __future__ import annotations

import math
import textwrap
from functools import lru_cache

from advisor.papers.charts.axes import put_labels
from advisor.papers.charts.shapes import Soil, TextureChart
from advisor.papers.grid import Grid
from advisor.records import dataclass
from advisor.soil.texture import TEXTURES, texture

#: What classes are called where their name does not fit: the usual short forms of the trade.
SHORT = {
    "sand": "S",
    "loamy-sand": "LS",
    "sandy-loam": "SL",
    "loam": "L",
    "silt-loam": "SiL",
    "silt": "Si",
    "sandy-clay-loam": "SCL",
    "clay-loam": "CL",
    "silty-clay-loam": "SiCL",
    "sandy-clay": "SC",
    "silty-clay": "SiC",
    "clay": "C",
}
#: Where there is one soil; more are numbered as the legend names them.
THE_SOIL = "*"

_SIGNS = "123456789" + "bdefghjkmnpqrtuvwxyz"  # letters that no short form begins with
_HOW = "Read clay straight across, sand up to the left, silt down to the left."
_MARGIN = 5  # columns for the figures of clay and silt
_MOST_ROWS, _FEWEST_ROWS = 20, 12
_FOOT = 2  # rows for the figures of sand and the names of the corners
_STEP = 20  # % from one figure to the next
_CELLS_PER_ROW = 4 / math.sqrt(3)  # of the base, for sides of one length in cells twice as high as they are wide
_MOST_DOTS = 5  # of eight: a cell with so many belongs to a class
_DOTS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))


@dataclass(frozen=True, slots=True)
class Field:
    """A triangle in cells: a base of so many across, and so many rows up to the tip."""

    across: int
    rows: int

    def cell(self, soil: Soil) -> tuple[int, int]:
        """The column and row of a soil, from the top left."""
        up = soil.clay_pct / 100
        along = soil.silt_pct / 100 + up / 2
        return min(int(along * self.across), self.across - 1), min(int((1 - up) * self.rows), self.rows - 1)

    def name_at(self, column: float, row: float) -> str | None:
        """The class at a point, in cells from the top left; None outside."""
        up = 1 - row / self.rows
        silt, clay = 100 * (column / self.across - up / 2), 100 * up
        sand = 100 - silt - clay
        return texture(sand, silt, clay).name if min(sand, silt, clay) >= 0 else None


def texture_grid(chart: TextureChart, width: int, height: int | None = None) -> Grid:
    """The drawing, as high as it needs to be; lower if there are fewer rows, down to what still tells classes apart."""
    signs = [THE_SOIL] if len(chart.soils) == 1 else [_SIGNS[n % len(_SIGNS)] for n in range(len(chart.soils))]
    soils = [line for sign, soil in zip(signs, chart.soils, strict=True) for line in _soil_lines(sign, soil, width)]
    spare = _MOST_ROWS if height is None else height - _FOOT - len(soils) - 4
    fits = int((width - 2 * _MARGIN) / _CELLS_PER_ROW)
    rows = max(min(spare, fits, _MOST_ROWS), min(_FEWEST_ROWS, fits))
    field = Field(round(rows * _CELLS_PER_ROW), rows)
    taken = {field.cell(soil) for soil in chart.soils}
    names, short = _names(field, frozenset(taken))
    legend = textwrap.wrap(_HOW, width) + textwrap.wrap(short, width)
    grid = Grid(width, rows + _FOOT + len(soils) + len(legend))
    for down, row in enumerate(_lines(field)):
        grid.put(_MARGIN, down, row, "outline")
    for column, down, text in names:
        grid.put(_MARGIN + column, down, text, "label")
    _figures(grid, field)
    for sign, soil in sorted(zip(signs, chart.soils, strict=True), key=lambda pair: not pair[1].earlier):
        column, down = field.cell(soil)
        grid.put(_MARGIN + column, down, sign, "label" if soil.earlier else "mark")
    for down, (text, ink) in enumerate([*soils, *((line, "label") for line in legend)], rows + _FOOT):
        grid.put(0, down, text, ink)
    return grid


def _soil_lines(sign: str, soil: Soil, width: int) -> list[tuple[str, str]]:
    name = f"{soil.name}: " if soil.name else ""
    shares = f"{soil.sand_pct:.0f} % sand, {soil.silt_pct:.0f} % silt, {soil.clay_pct:.0f} % clay"
    text = f"{sign} {name}{said(soil.texture)}: {shares}{' (earlier)' if soil.earlier else ''}"
    return [(line, "label" if soil.earlier else "") for line in textwrap.wrap(text, width, subsequent_indent="  ")]


def said(name: str) -> str:
    """A class in words: "silty clay loam"."""
    return name.replace("-", " ")


# ---------------------------------------------------------------- the lines


@lru_cache(maxsize=8)
def _lines(field: Field) -> tuple[str, ...]:
    """The sides and the limits of the classes: a dot where the class changes to the right or below."""
    dots = _classes(field)
    high, wide = 4 * field.rows, 2 * field.across
    rows = []
    for row in range(field.rows):
        signs = []
        for column in range(field.across):
            sign = 0
            for down in range(4):
                for over in range(2):
                    y, x = 4 * row + down, 2 * column + over
                    here = dots[y][x]
                    right = dots[y][x + 1] if x + 1 < wide else None
                    below = dots[y + 1][x] if y + 1 < high else None
                    left = dots[y][x - 1] if x else None
                    if here is not None and (here != right or here != below or left is None):
                        sign |= _DOTS[down][over]
            signs.append(chr(0x2800 + sign) if sign else " ")
        rows.append("".join(signs))
    return tuple(rows)


@lru_cache(maxsize=8)
def _classes(field: Field) -> tuple[tuple[str | None, ...], ...]:
    """The class at the middle of every dot, rows from the top."""
    return tuple(
        tuple(field.name_at((x + 0.5) / 2, (y + 0.5) / 4) for x in range(2 * field.across))
        for y in range(4 * field.rows)
    )


@lru_cache(maxsize=8)
def _middles(field: Field) -> tuple[tuple[str | None, ...], ...]:
    """The class at the middle of every cell."""
    return tuple(
        tuple(field.name_at(column + 0.5, row + 0.5) for column in range(field.across)) for row in range(field.rows)
    )


# ---------------------------------------------------------------- names and figures


def _names(field: Field, taken: frozenset[tuple[int, int]]) -> tuple[list[tuple[int, int, str]], str]:
    """Where each class is named, and a key to the short forms that had to be used.

    A name hides no line if it can help it; a short form may hide a few dots of one, and is left off where even so its
    cells would not lie in the class.
    """
    found, key, unnamed = [], [], []
    for name in TEXTURES:
        tries = ((said(name), False), (SHORT[name], False), (SHORT[name], True))
        places = ((text, _free(field, name, len(text), taken, over_lines=over)) for text, over in tries)
        text, starts = next(((text, starts) for text, starts in places if starts), ("", []))
        if not starts:
            unnamed.append(said(name))
            continue
        found.append((*_most_central(starts), text))
        if text != said(name):
            key.append(f"{text} {said(name)}")
    if unnamed:
        key.append(f"too small to be named: {', '.join(unnamed)}")
    return found, "; ".join(key)


def _free(
    field: Field, name: str, long: int, taken: frozenset[tuple[int, int]], *, over_lines: bool
) -> list[tuple[int, int]]:
    """Where a text of that length may begin: its cells lie in the class and hold no soil, nor a line if need be."""
    rows, dots, middles = _lines(field), _classes(field), _middles(field)

    def is_free(column: int, row: int) -> bool:
        if middles[row][column] != name or (column, row) in taken:
            return False
        inside = sum(dots[4 * row + down][2 * column + over] == name for down in range(4) for over in range(2))
        return inside >= _MOST_DOTS if over_lines else inside == 8 and rows[row][column] == " "

    found = []
    for row in range(field.rows):
        run = 0
        for column in range(field.across):
            run = run + 1 if is_free(column, row) else 0
            if run >= long:
                found.append((column - long + 1, row))
    return found


def _most_central(starts: list[tuple[int, int]]) -> tuple[int, int]:
    """The start that lies nearest to the middle of them all; a row counts for two columns."""
    columns, rows = (sum(axis) / len(starts) for axis in zip(*starts, strict=True))
    return min(starts, key=lambda place: (2 * abs(place[1] - rows) + abs(place[0] - columns), place))


def _figures(grid: Grid, field: Field) -> None:
    """Clay along the left side, silt along the right, sand along the foot."""
    for percent in range(_STEP, 100, _STEP):
        row = min(int((1 - percent / 100) * field.rows), field.rows - 1)
        up = 1 - (row + 0.5) / field.rows
        clay = f"{percent}"
        grid.put(_MARGIN + math.floor(up / 2 * field.across) - len(clay) - 1, row, clay, "label")
        grid.put(_MARGIN + math.ceil((1 - up / 2) * field.across) + 1, row, f"{100 - percent}", "label")
    tip = _MARGIN + field.across // 2
    grid.put(tip - 7, 0, "clay %", "label")
    grid.put(tip + 3, 0, "silt %", "label")
    sand = [(_MARGIN + round((1 - percent / 100) * field.across), f"{percent}") for percent in range(100, -1, -_STEP)]
    put_labels(grid, field.rows, sand)
    put_labels(grid, field.rows + 1, [(_MARGIN + field.across // 2, "sand %")])
