"""Ways of composting that make no heap, each drawn cut through as such a thing commonly is, without measures.

The rows are a drawing by hand: `k` stands for the stuff (the scraps), `+` for starter, `~` and `.` for worms and
bedding, `:` for soil. Beside a row there can be a word for it.
"""

from __future__ import annotations

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


def as_text(rows: tuple[Row, ...]) -> str:
    """The drawing as plain text, what each row is at its right."""
    wide = max(len(row) for row, _ in rows)
    return "\n".join(f"{row.replace('k', 'x'):<{wide}} {says}".rstrip() for row, says in rows)
