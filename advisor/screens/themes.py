"""The two sets of colours: dusk, and daylight. Everything drawn takes its colour from a name given here."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from textual.theme import Theme

from advisor.errors import HouseholdError
from advisor.places import data_folder
from advisor.text_files import private_folder, read_text, write_text

DUSK, DAYLIGHT = "dusk", "daylight"

#: Inks of drawings and words, beside Textual's own names: browns, greens and other stuff in a heap; `quiet` for what
#: explains, `grave` for what must not be missed, `told` for the person's own words.
_DUSK_INKS: dict[str, str] = {
    "brown-1": "#d2a869",
    "brown-2": "#bd8a5c",
    "brown-3": "#e0c994",
    "brown-4": "#c99a86",
    "green-1": "#a3cf6e",
    "green-2": "#7dbb83",
    "green-3": "#d0dc7c",
    "green-4": "#8cc7b2",
    "other-1": "#c2b4cf",
    "other-2": "#d9cfc0",
    "other-3": "#a9bccb",
    "other-4": "#cdb8b8",
    "outline": "#cabfae",
    "soil": "#ad9479",
    "quiet": "#aa9f8e",
    "grave": "#f0a35e",
    "told": "#e6cf8f",
}
_DAYLIGHT_INKS = {
    "brown-1": "#754c12",
    "brown-2": "#8a4a20",
    "brown-3": "#66550f",
    "brown-4": "#7d3f35",
    "green-1": "#326422",
    "green-2": "#125c48",
    "green-3": "#4d6000",
    "green-4": "#0f5a66",
    "other-1": "#5c4676",
    "other-2": "#554a3c",
    "other-3": "#34536b",
    "other-4": "#704050",
    "outline": "#4d4334",
    "soil": "#6b5238",
    "quiet": "#655b4b",
    "grave": "#9a3b00",
    "told": "#6a4a00",
}


def _theme(name: str, base: dict[str, str], inks: dict[str, str], *, dark: bool) -> Theme:
    """A theme of base colours and inks, with scroll bars and links as quiet as the rest."""
    ground, cursor = base["background"], base["accent"]
    rest = {
        "block-cursor-foreground": ground,
        "block-cursor-background": cursor,
        "input-selection-background": f"{cursor} 35%",
        "scrollbar": base["panel"],
        "scrollbar-hover": inks["quiet"],
        "scrollbar-active": cursor,
        "scrollbar-background": ground,
        "scrollbar-background-hover": ground,
        "scrollbar-background-active": ground,
        "scrollbar-corner-color": ground,
        "link-color": base["foreground"],
        "link-style": "none",
        "link-color-hover": ground,
        "link-background-hover": base["primary"],
        "link-style-hover": "bold",
    }
    return Theme(name=name, dark=dark, variables={**inks, **rest}, **base)  # type: ignore[arg-type]


THEMES: tuple[Theme, ...] = (
    _theme(
        DUSK,
        {
            "primary": "#a3c271",
            "secondary": "#c9a063",
            "accent": "#e2bb62",
            "warning": "#f0a35e",
            "error": "#ea8a78",
            "success": "#9ccb74",
            "foreground": "#ebe3d5",
            "background": "#1c1915",
            "surface": "#252019",
            "panel": "#332c22",
        },
        _DUSK_INKS,
        dark=True,
    ),
    _theme(
        DAYLIGHT,
        {
            "primary": "#3c6a28",
            "secondary": "#754c12",
            "accent": "#7c5300",
            "warning": "#9a3b00",
            "error": "#9c2218",
            "success": "#2e6422",
            "foreground": "#2a241b",
            "background": "#f7f2e8",
            "surface": "#efe8d9",
            "panel": "#e2d8c3",
        },
        _DAYLIGHT_INKS,
        dark=False,
    ),
)


def first_theme() -> str:
    """Daylight where the terminal says that its background is light, by the COLORFGBG convention; otherwise dusk."""
    background = os.environ.get("COLORFGBG", "").rpartition(";")[2]
    return DAYLIGHT if background in ("7", "15") else DUSK


def remembered() -> str:
    """The theme that was chosen last; empty if none was, or if it is none of the two."""
    try:
        name = read_text(_chosen()).strip()
    except HouseholdError:
        return ""
    return name if name in (DUSK, DAYLIGHT) else ""


def remember(theme: str) -> None:
    """Begin with this theme from now on, if that can be written down."""
    with suppress(OSError):
        private_folder(_chosen().parent)
        write_text(_chosen(), f"{theme}\n", private=True)


def _chosen() -> Path:
    return data_folder() / "colours.txt"


def other(theme: str) -> str:
    """The other of the two."""
    return DUSK if theme == DAYLIGHT else DAYLIGHT
