"""Ways of composting that make no heap, drawn in the inks of the screen."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.papers.grid import Grid, cut
from advisor.papers.vessels import Row
from advisor.screens.drawing.swatches import Swatch

_INKS = {
    "+": "other-2",
    "~": "other-1",
    ".": "brown-1",
    ",": "brown-2",
    "≈": "brown-3",
    ":": "soil",
    "▒": "soil",
    "▁": "soil",
}
_LETTER_EVERY = 8


def vessel(rows: Sequence[Row], stuff: Swatch | None, width: int, height: int) -> Grid:
    """The drawing, with the stuff shown as its swatch is. Rows that do not fit are left off at the foot."""
    grid = Grid(width, min(height, len(rows)))
    beside = max(len(row) for row, _ in rows) + 1
    for down, (row, says) in enumerate(rows[: grid.height]):
        for across, sign in enumerate(row):
            if sign == "k" and stuff is not None:
                lettered = across % _LETTER_EVERY == 0
                grid.put(across, down, stuff.letter if lettered else stuff.pattern, stuff.ink)
            else:
                grid.put(across, down, sign, _INKS.get(sign, "outline"))
        grid.put(beside, down, cut(says, width - beside), "label")
    return grid
