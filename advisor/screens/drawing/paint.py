"""Filling the inside of a drawing with what lies there."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.papers.grid import Grid
from advisor.screens.drawing.swatches import Swatch

_LETTER_EVERY = 8  # cells from one letter of a material to the next
_GOLDEN = 0.6180339887498949  # steps of this share spread evenly without ever repeating


def layer_row(grid: Grid, across: int, down: int, cells: int, swatch: Swatch, *, lettered: bool) -> None:
    """A row of one material, its letter set into the pattern every few cells."""
    grid.put(across, down, swatch.pattern * cells, swatch.ink)
    if lettered:
        for place in range(min(cells // 2, _LETTER_EVERY // 2), cells, _LETTER_EVERY):
            grid.put(across + place, down, swatch.letter, f"{swatch.ink} bold")


def mixed_row(grid: Grid, across: int, down: int, cells: int, parts: Sequence[tuple[Swatch, float]]) -> None:
    """A row of several materials mixed, each with as many cells as its share; every few cells a letter."""
    total = sum(share for _, share in parts)
    if total <= 0:
        return
    for place in range(cells):
        number = down * 97 + place
        swatch = _at(number * _GOLDEN % 1 * total, parts)
        lettered = number % _LETTER_EVERY == 3
        ink = f"{swatch.ink} bold" if lettered else swatch.ink
        grid.put(across + place, down, swatch.letter if lettered else swatch.pattern, ink)


def _at(point: float, parts: Sequence[tuple[Swatch, float]]) -> Swatch:
    for swatch, share in parts:
        point -= share
        if point < 0:
            return swatch
    return parts[-1][0]
