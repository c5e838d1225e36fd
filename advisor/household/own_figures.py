"""A person's own figures of a material: from a laboratory, a label, an oven or a weighed bucket."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import fields
from typing import Final

from advisor.errors import HouseholdError
from advisor.household.names import find_material, nearest
from advisor.household.shapes import OwnFigures
from advisor.household.tokens import shown
from advisor.knowledge.base import Knowledge

#: How each figure is called, and the field it fills.
_NAMES: Final[Mapping[str, str]] = {
    "nitrogen": "nitrogen_pct",
    "n": "nitrogen_pct",
    "c:n": "carbon_nitrogen",
    "cn": "carbon_nitrogen",
    "c/n": "carbon_nitrogen",
    "carbon to nitrogen": "carbon_nitrogen",
    "moisture": "moisture_pct",
    "water": "moisture_pct",
    "density": "density_kg_m3",
    "weight": "density_kg_m3",
    "ash": "ash_pct",
}
#: What each figure may be, and how it is said.
BOUNDS: Final[Mapping[str, tuple[float, float, str]]] = {
    "nitrogen_pct": (0.0, 50.0, "% of the dry weight"),
    "carbon_nitrogen": (0.1, 2000.0, "to 1"),
    "moisture_pct": (0.0, 99.5, "% of the whole weight"),
    "density_kg_m3": (5.0, 2500.0, "kg/m³"),
    "ash_pct": (0.0, 100.0, "% of the dry weight"),
}
_ITEM: Final = re.compile(
    r"(?P<name>[a-z:/ ]*[a-z])\s*[:=]?\s*(?P<value>\d+(?:\.\d+)?)\s*"
    r"(?P<unit>%|kg/m3|kg/m³|g/l|kg/l|lb/yd3|lb/gal|to 1|:1|:\s*1)?",
    re.IGNORECASE,
)
_PER_UNIT: Final[Mapping[str, float]] = {"kg/l": 1000.0, "lb/yd3": 0.593276, "lb/gal": 119.826}
_LABEL: Final = re.compile(r"(?P<n>\d+(?:\.\d+)?)\s*-\s*\d+(?:\.\d+)?\s*-\s*\d+(?:\.\d+)?")
_EXAMPLE: Final = "write it as in 'grass clippings: moisture 70 %, C:N 20'"


def own_told(text: str, knowledge: Knowledge, where: str) -> tuple[str, OwnFigures]:
    """A material and its own figures, from words such as "grass clippings: moisture 70 %, C:N 20".

    Returns the id of the material.

    Raises:
        HouseholdError: no such material, no such figure, or a figure out of all bounds.
    """
    name, colon, figures = text.partition(":")
    if not colon or not figures.strip():
        raise HouseholdError(f"'{shown(text)}' names no figure", where=where, hint=_EXAMPLE)
    match = find_material(name, knowledge)
    if not match.found:
        hint = f"did you mean {match.candidates[0]}?" if match.candidates else _EXAMPLE
        raise HouseholdError(f"no single material is called '{shown(name.strip())}'", where=where, hint=hint)
    return match.id, own_figures(figures, where)


def own_figures(text: str, where: str) -> OwnFigures:
    """Figures in words: "nitrogen 2.5 %, C:N 20, moisture 70 %, density 250 kg/m3", or a label "10-10-10".

    Of a label the first number is nitrogen. A fertiliser is taken as dry, with no carbon in it.

    Raises:
        HouseholdError: a figure is not known, is told twice, or is out of all bounds.
    """
    found: dict[str, float] = {}
    for item in re.split(r",|;|\band\b", text):
        words = item.strip()
        if not words:
            continue
        label = _LABEL.fullmatch(words)
        read = {"nitrogen_pct": float(label["n"]), "moisture_pct": 0.0} if label else dict([_figure(words, where)])
        for name, value in read.items():
            low, high, unit = BOUNDS[name]
            if name in found:
                raise HouseholdError(f"'{shown(words)}' tells a figure twice", where=where)
            if not low <= value <= high:
                hint = f"it lies between {low:g} and {high:g} {unit}"
                raise HouseholdError(f"'{shown(words)}' cannot be", where=where, hint=hint)
            found[name] = value
    if not found:
        raise HouseholdError(f"'{shown(text)}' names no figure", where=where, hint=_EXAMPLE)
    return OwnFigures(**found)


def _figure(words: str, where: str) -> tuple[str, float]:
    item = _ITEM.fullmatch(words)
    key = " ".join(item["name"].lower().split()) if item else ""
    if item is None or key not in _NAMES:
        close = nearest(key or words.lower(), _NAMES)
        hint = f"did you mean {close}?" if close else "there are nitrogen, C:N, moisture, density and ash"
        raise HouseholdError(f"'{shown(words)}' is not a figure of a material", where=where, hint=hint)
    worth = _PER_UNIT.get((item["unit"] or "").lower(), 1.0)
    return _NAMES[key], float(item["value"]) * worth


def own_text(own: OwnFigures) -> str:
    """Own figures as text that `own_figures` reads back."""
    names = {"carbon_nitrogen": "C:N"}
    told = ((field.name, getattr(own, field.name)) for field in fields(own))
    figures = ((names.get(name, name.partition("_")[0]), value) for name, value in told if value is not None)
    return ", ".join(f"{name} {value:.15g}" for name, value in figures)
