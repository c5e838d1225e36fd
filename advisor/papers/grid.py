"""A sheet of squared paper to draw on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

#: Signs that belong together, with the ink they are drawn in.
Run = tuple[str, str]


@dataclass
class Grid:
    """Rows of cells, each a sign and an ink. What falls outside is cut off; nothing is ever wider than a cell.

    An ink is a name ("outline", "label", "brown-1"...); what colour it has is for the screen to say.
    """

    width: int
    height: int
    _signs: list[list[str]] = field(init=False, repr=False)
    _inks: list[list[str]] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        self._signs = [[" "] * self.width for _ in range(self.height)]
        self._inks = [[""] * self.width for _ in range(self.height)]

    def put(self, across: int, down: int, text: str, ink: str = "") -> None:
        """Write text from a cell to the right; (0, 0) is the top left."""
        if not 0 <= down < self.height:
            return
        for place, sign in enumerate(text, across):
            if 0 <= place < self.width:
                self._signs[down][place] = sign
                self._inks[down][place] = ink

    def paste(self, other: Grid, across: int, down: int) -> None:
        """Lay another drawing over this one, its top left at a cell."""
        for row, runs in enumerate(other.rows(), down):
            place = across
            for text, ink in runs:
                self.put(place, row, text, ink)
                place += len(text)

    def sign(self, across: int, down: int) -> str:
        """The sign in a cell."""
        return self._signs[down][across]

    def text(self) -> str:
        """The drawing without its inks, blanks at the ends of rows left off."""
        return "\n".join("".join(row).rstrip() for row in self._signs)

    def rows(self) -> Iterator[list[Run]]:
        """Each row as runs of one ink."""
        for signs, inks in zip(self._signs, self._inks, strict=True):
            runs: list[Run] = []
            for sign, ink in zip(signs, inks, strict=True):
                if runs and runs[-1][1] == ink:
                    runs[-1] = (runs[-1][0] + sign, ink)
                else:
                    runs.append((sign, ink))
            yield runs


def cut(text: str, width: int) -> str:
    """The text, or as much of it as fits with a sign that there was more."""
    if len(text) <= width:
        return text
    return text[: max(width - 1, 0)].rstrip() + "…" if width > 0 else ""
