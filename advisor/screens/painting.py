"""Drawings as Textual shows them: inks become styles by the names of the theme."""

from __future__ import annotations

from textual.content import Content

from advisor.papers.grid import Grid

_STYLES = {
    "label": "$quiet",
    "mark": "bold $accent",
    "line": "$secondary",
    "limit": "$grave",
    "ground": "$soil",
    "inside": "$success",
    "outside": "$grave",
    "wanted": "$quiet",
    "edge": "bold $foreground",
}


def style_of(ink: str) -> str:
    """The style of an ink; "brown-1 bold" is the bold one of "brown-1"."""
    name, _, weight = ink.partition(" ")
    if not name:
        return ""
    style = _STYLES.get(name, f"${name}")
    return f"bold {style}" if weight == "bold" else style


def painted(grid: Grid) -> Content:
    """A drawing as content for a widget."""
    rows = [Content.assemble(*((text, style_of(ink)) if ink else text for text, ink in row)) for row in grid.rows()]
    return Content("\n").join(rows)
