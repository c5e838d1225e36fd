"""A tumbler: a drum on its stand, its load mixed and never quite to the top."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from advisor.papers.grid import Grid
from advisor.screens.drawing.outlines import CELL_RATIO
from advisor.screens.drawing.paint import mixed_row
from advisor.screens.drawing.swatches import Swatch
from advisor.units import Units, length_text

if TYPE_CHECKING:
    from advisor.counsel.plan import Body

_STAND = 2  # rows of legs


def drum(body: Body, parts: Sequence[tuple[Swatch, float]], width: int, height: int, units: Units) -> Grid:
    """A drum seen from its round end, filled as high as its litres lie in it."""
    rows = max(4, height - _STAND - 1)
    radius = rows / 2
    most = min(width - 4, 48)
    wide = min(most, round(rows * CELL_RATIO))
    grid = Grid(width, rows + _STAND + 1)
    full = math.pi / 4 * body.width_m * body.height_m * body.length_m * 1000
    level = filled_height(body.litres / full if full > 0 else 0.0) * rows
    for down in range(rows):
        rise = (radius - down - 0.5) / radius
        inside = max(2, round(wide * math.sqrt(max(0.0, 1 - rise**2))))
        start = 1 + (wide - inside) // 2
        left, right = ("(", ")") if abs(rise) < 0.5 else ("/", "\\") if rise > 0 else ("\\", "/")
        grid.put(start, down, left, "outline")
        grid.put(start + 1 + inside, down, right, "outline")
        if rows - down - 0.5 <= level:
            mixed_row(grid, start + 1, down, inside, parts)
    middle = wide // 2 + 1
    grid.put(middle - 3, rows, "/", "outline")
    grid.put(middle + 3, rows, "\\", "outline")
    grid.put(middle - 4, rows + 1, "/", "outline")
    grid.put(middle + 4, rows + 1, "\\", "outline")
    grid.put(0, rows + _STAND, "▔" * (wide + 4), "ground")
    text = f" {length_text(body.width_m, units)} across "
    grid.put((wide + 4 - len(text)) // 2, rows + _STAND, text, "label")
    return grid


def filled_height(share: float) -> float:
    """How high a share of a lying cylinder's volume stands in it, as a share of its diameter; by halving."""
    low, high = 0.0, 1.0
    for _ in range(40):
        middle = (low + high) / 2
        if _segment(middle) < share:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _segment(height: float) -> float:
    """The share of a circle's area below a height given as a share of its diameter."""
    half = math.acos(1 - 2 * height)
    return (half - math.sin(half) * math.cos(half)) / math.pi
