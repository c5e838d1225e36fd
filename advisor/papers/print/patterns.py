"""Fillings in black on white that are told from each other without colour, on any printer."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from advisor.papers.print.elements import Element, add


def _lines(pattern: Element, *paths: str) -> None:
    for path in paths:
        add(pattern, "path", d=path, stroke="#000", stroke_width=0.9, fill="none")


def _dots(pattern: Element, *middles: tuple[float, float]) -> None:
    for x, y in middles:
        add(pattern, "circle", cx=x, cy=y, r=0.95, fill="#000")


#: What is drawn in a square of 8 units, which is then repeated.
_DRAWN: Final[tuple[Callable[[Element], None], ...]] = (
    lambda pattern: _lines(pattern, "M0 4H8"),
    lambda pattern: _dots(pattern, (2, 2), (6, 6)),
    lambda pattern: _lines(pattern, "M-2 10L10 -2"),
    lambda pattern: _lines(pattern, "M0 4Q2 1 4 4T8 4"),
    lambda pattern: _lines(pattern, "M0 0L8 8M0 8L8 0"),
    lambda pattern: _lines(pattern, "M4 0V8"),
    lambda pattern: _lines(pattern, "M1 4H5M3 2V6"),
    lambda pattern: _lines(pattern, "M-2 -2L10 10"),
    lambda pattern: _lines(pattern, "M0 4H8M4 0V8"),
    lambda pattern: _dots(pattern, (1, 1), (5, 1), (1, 5), (5, 5), (3, 3), (7, 7), (7, 3), (3, 7)),
)


def patterns(defs: Element, names: Iterable[str]) -> dict[str, str]:
    """A filling for each name, declared in `defs`; what `fill` is to be, by name. Ten differ, then they come again."""
    found: dict[str, str] = {}
    for name in dict.fromkeys(names):
        number = len(found)
        pattern = add(defs, "pattern", id=f"fill-{number}", width=8, height=8, patternUnits="userSpaceOnUse")
        add(pattern, "rect", width=8, height=8, fill="#fff")
        _DRAWN[number % len(_DRAWN)](pattern)
        found[name] = f"url(#fill-{number})"
    return found
