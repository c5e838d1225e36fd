"""What a drum holds, as shares of its load: it is turned till nothing in it lies in layers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from advisor.papers.grid import Grid, cut
from advisor.screens.drawing.paint import layer_row
from advisor.screens.drawing.swatches import Swatch
from advisor.units import Units, length_text

if TYPE_CHECKING:
    from advisor.counsel.plan import Body

_LABELS = 30  # columns for names beside the bars, where there is room for them
_SHORT_LABELS = 9
_WIDEST = 30


def shares(body: Body, parts: Sequence[tuple[Swatch, float]], width: int, units: Units) -> Grid:
    """A bar for each material, as long as its share by volume, under a line on how full the drum is.

    Args:
        parts: each material with its litres.
        width: cells, 12 or more.
    """
    grid = Grid(width, len(parts) + 1)
    full = math.pi / 4 * body.width_m * body.height_m * body.length_m * 1000
    filled = f", about {round(body.litres / full * 20) * 5} % full" if full > 0 else ""
    grid.put(0, 0, cut(f"Drum {length_text(body.width_m, units)} across{filled}", width), "label")
    named = width >= 12 + _LABELS
    most = min(width - (_LABELS if named else _SHORT_LABELS), _WIDEST)
    total = sum(litres for _, litres in parts) or 1.0
    longest = max((litres for _, litres in parts), default=0.0) or 1.0
    for down, (swatch, litres) in enumerate(sorted(parts, key=lambda part: -part[1]), 1):
        layer_row(grid, 0, down, max(1, round(most * litres / longest)), swatch, lettered=True)
        label = f"{litres / total * 100:>3.0f} % {swatch.name if named else swatch.letter}"
        grid.put(most + 1, down, cut(label, width - most - 1), "label")
    return grid
