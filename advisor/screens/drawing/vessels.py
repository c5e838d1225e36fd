"""Ways of composting that make no heap, each drawn cut through as such a thing commonly is, without measures.

The rows are a drawing by hand: `k` stands for the stuff (the scraps), `+` for starter, `~` and `.` for worms and
bedding, `:` for soil. Beside each row may stand what it is.
"""

from __future__ import annotations

from collections.abc import Sequence

from advisor.papers.grid import Grid, cut
from advisor.screens.drawing.swatches import Swatch

#: A row of a drawing, and what stands beside it.
Row = tuple[str, str]

_BUCKET: tuple[Row, ...] = (
    ("  ╒══════════════╕  ", "lid, shut tight"),
    ("  │              │  ", ""),
    ("  │──────┬┬──────│  ", "plate, to press the air out"),
    ("  │++++++++++++++│  ", "a last layer of starter"),
    ("  │kkkkkkkkkkkkkk│  ", "scraps, chopped and pressed"),
    ("  │++++++++++++++│  ", "starter on every layer"),
    ("   │kkkkkkkkkkkk│   ", "scraps"),
    ("   │++++++++++++│   ", "starter"),
    ("   │kkkkkkkkkkkk│   ", "scraps"),
    ("   │++++++++++++│   ", "starter on the floor"),
    ("   │┬┬┬┬┬┬┬┬┬┬┬┬│   ", "grid over the drain"),
    ("   │            ├┐  ", "tap: draw the liquid off"),
    ("   └────────────┘╵  ", ""),
)

_WORM_BIN: tuple[Row, ...] = (
    ("  ┌┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┐  ", "lid with air holes"),
    ("  │≈≈≈≈≈≈≈≈≈≈≈≈≈≈≈≈│  ", "damp card or sacking"),
    ("  │..~.....~.......│  ", "damp bedding, worms"),
    ("  │.kkkkkk.....~...│  ", "scraps, in a corner,"),
    ("  │.kkkkkk..~....~.│  ", "another each time"),
    ("  ┊...~.......~....┊  ", "holes for air"),
    ("  │,,,,,~,,,,,,,,,,│  ", "castings"),
    ("  └┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┘  ", "holes for drips"),
    (" ╘══════════════════╛ ", "tray"),
)

_TRENCH: tuple[Row, ...] = (
    ("        .:::::.       ", "soil heaped a little, it sinks"),
    ("▁▁▁▁▁▁▁.:::::::.▁▁▁▁▁▁", "ground"),
    ("▒▒▒▒▒▒▒│:::::::│▒▒▒▒▒▒", "soil over it,"),
    ("▒▒▒▒▒▒▒│:::::::│▒▒▒▒▒▒", "a spade's depth"),
    ("▒▒▒▒▒▒▒│kkkkkkk│▒▒▒▒▒▒", "scraps"),
    ("▒▒▒▒▒▒▒│kkkkkkk│▒▒▒▒▒▒", "mixed with soil"),
    ("▒▒▒▒▒▒▒└───────┘▒▒▒▒▒▒", ""),
)

#: The drawing of each such method.
VESSELS: dict[str, tuple[Row, ...]] = {"fermented-bucket": _BUCKET, "worm-bin": _WORM_BIN, "trench": _TRENCH}

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
