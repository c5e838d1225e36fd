"""Figures against what they cite."""

from __future__ import annotations

import re
from collections.abc import Iterator

from advisor.knowledge.lint.tables import CARBON_PCT
from advisor.knowledge.lint.view import Finding, View


def outside_published(view: View) -> Iterator[Finding]:
    """A range that leaves out a value it cites; one that is known to be odd is marked `outlier`."""
    for file, place, figure in view.figures():
        kept = [published for published in figure.published if not (published.outlier or published.as_received)]
        for published in kept:
            if published.low < figure.low or published.high > figure.high:
                printed = (
                    f"{published.low:g}" if published.low == published.high else f"{published.low:g}-{published.high:g}"
                )
                message = f"{figure.low:g} to {figure.high:g} does not span the {printed} of {published.source}"
                yield Finding(file, place, f"{message}; widen it, or mark that one 'outlier' and say why")
        if not kept:
            yield Finding(file, place, "sets every published value aside, so nothing bears the range")


#: What of a material is a share of it, in %.
_SHARES = ("nitrogen", "carbon", "moisture", "ash", "phosphate", "potash")


def impossible_share(view: View) -> Iterator[Finding]:
    """A share of a material below nothing or beyond all of it."""
    for name, material in view.knowledge.materials.items():
        for field in _SHARES:
            figure = getattr(material, field)
            if figure is not None and not 0 <= figure.low <= figure.high <= 100:
                message = f"{figure.low:g} to {figure.high:g} % cannot be a share"
                yield Finding(view.file_of("materials", name), f"{name}.{field}", message)


#: By so large a share an end may differ from the value it stands for, in rounding.
_ROUNDED = 0.02


def beyond_published(view: View) -> Iterator[Finding]:
    """A range that reaches further than any value it cites: what we put on is cited as our own estimate.

    Materials are left out: their notes say of many ends what they were guessed from.
    """
    for file, place, figure in view.figures():
        kept = [published for published in figure.published if not (published.outlier or published.as_received)]
        if not kept or place.split(".")[0] in view.knowledge.materials:
            continue
        low, high = min(each.low for each in kept), max(each.high for each in kept)
        if figure.low < low - _ROUNDED * abs(low) or figure.high > high + _ROUNDED * abs(high):
            message = f"{figure.low:g} to {figure.high:g} reaches beyond the {low:g} to {high:g} that are cited"
            yield Finding(file, place, f"{message}; cite the rest as our-estimate")


#: What a note says of a value that its source does not print as it stands here.
_WORKED_OUT = re.compile(r"\b(derived|work(?:s|ed) out|6\.25)\b", re.IGNORECASE)


def derived_unmarked(view: View) -> Iterator[Finding]:
    """A figure whose note says that a value was worked out, and none of its values is marked as derived."""
    for file, place, figure in view.figures():
        said = _WORKED_OUT.search(figure.note)
        if said and not any(published.derived for published in figure.published):
            yield Finding(file, place, f"its note says '{said[0]}'; mark the value 'derived' before its source")


def carbon_implausible(view: View) -> Iterator[Finding]:
    """Nitrogen and C:N that together give more or less carbon than living stuff has."""
    low, high = CARBON_PCT
    for name, material in view.knowledge.materials.items():
        if material.carbon_nitrogen is None or material.role == "mineral":
            continue
        carbon = material.nitrogen.typical * material.carbon_nitrogen.typical
        if not low <= carbon <= high:
            product = f"{material.nitrogen.typical:g} % N x {material.carbon_nitrogen.typical:g}"
            message = f"{product} = {carbon:.0f} % carbon, outside {low:g} to {high:g} % of dry mass"
            yield Finding(view.file_of("materials", name), name, message)
