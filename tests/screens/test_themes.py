"""Two sets of colours that can be read: contrast by the formula of WCAG 2.2, success criterion 1.4.3 (from memory:
relative luminance of sRGB, ratio (L1 + 0.05) / (L2 + 0.05), at least 4.5 for text)."""

from __future__ import annotations

import pytest
from textual.theme import BUILTIN_THEMES, Theme

from advisor.screens.themes import DAYLIGHT, DUSK, THEMES, first_theme, other

LEAST = 4.5
NO_INKS = ("cursor", "scrollbar", "link", "selection")
INKS = [name for name in THEMES[0].variables if not any(word in name for word in NO_INKS)]


def luminance(colour: str) -> float:
    channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, two: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(two)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_formula_gives_the_known_extremes() -> None:
    assert contrast("#ffffff", "#000000") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)  # the grey that just fails on white


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize("ink", [*INKS, "primary", "accent", "warning", "error", "success", "foreground"])
def test_every_ink_can_be_read_on_every_ground(theme: Theme, ink: str) -> None:
    colour = theme.variables.get(ink) or getattr(theme, ink)
    for ground in (theme.background, theme.surface, theme.panel):
        assert contrast(colour, ground) >= LEAST, f"{ink} on {ground}"


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_the_cursor_can_be_read(theme: Theme) -> None:
    inks = theme.variables
    assert contrast(inks["block-cursor-foreground"], inks["block-cursor-background"]) >= LEAST


def test_both_have_the_same_inks_and_names_of_their_own() -> None:
    assert THEMES[0].variables.keys() == THEMES[1].variables.keys()
    assert not {theme.name for theme in THEMES} & set(BUILTIN_THEMES)
    assert (other(DUSK), other(DAYLIGHT)) == (DAYLIGHT, DUSK)


@pytest.mark.parametrize(("told", "theme"), [("", DUSK), ("15;0", DUSK), ("0;15", DAYLIGHT), ("0;default;7", DAYLIGHT)])
def test_the_first_colours_follow_the_terminal(monkeypatch: pytest.MonkeyPatch, told: str, theme: str) -> None:
    monkeypatch.setenv("COLORFGBG", told)
    assert first_theme() == theme
