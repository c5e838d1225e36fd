"""A material with the figures that a person measured for themselves, beside those of the tables."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.household.shapes import OwnFigures
from advisor.knowledge.shapes import Figure, Material, Published
from advisor.records import dataclass

#: A figure is questioned when it lies beyond the tables by more than this share of what they span.
_FAR = 0.25


@dataclass(frozen=True, slots=True)
class Odd:
    """A figure of one's own that lies far outside what tables print."""

    what: str
    unit: str
    value: float
    low: float
    high: float


def with_own(material: Material, own: OwnFigures) -> Material:
    """The material with a person's own figures in place of the tables'.

    Carbon hardly varies: where only one of nitrogen and C:N was told, the other follows from the typical carbon.
    """
    nitrogen, ratio = own.nitrogen_pct, own.carbon_nitrogen
    usual = material.carbon_nitrogen
    carbon = material.nitrogen.typical * usual.typical if usual is not None else 0.0
    if nitrogen and ratio is None and carbon:
        ratio = carbon / nitrogen
    elif ratio and nitrogen is None and carbon:
        nitrogen = carbon / ratio
    told = {
        "nitrogen": (nitrogen, material.nitrogen),
        "carbon_nitrogen": (ratio, material.carbon_nitrogen),
        "moisture": (own.moisture_pct, material.moisture),
        "density": (own.density_kg_m3, material.density),
        "ash": (own.ash_pct, material.ash),
    }
    changed = {name: _exactly(value, table) for name, (value, table) in told.items() if value is not None}
    return material.model_copy(update=changed)


def odd(material: Material, own: OwnFigures) -> Iterator[Odd]:
    """The figures that lie far outside the tables of the material, for a question back."""
    for what, unit, value, table in (
        ("nitrogen", " %", own.nitrogen_pct, material.nitrogen),
        ("C:N", "", own.carbon_nitrogen, material.carbon_nitrogen),
        ("moisture", " %", own.moisture_pct, material.moisture),
        ("weight of a cubic metre", " kg", own.density_kg_m3, material.density),
        ("ash", " %", own.ash_pct, material.ash),
    ):
        if value is None or table is None:
            continue
        slack = _FAR * (table.high - table.low)
        if not table.low - slack <= value <= table.high + slack:
            yield Odd(what, unit, value, table.low, table.high)


def _exactly(value: float, table: Figure | None) -> Figure:
    printed = f"; tables print {table.low:g} to {table.high:g}" if table is not None else ""
    said = Published(low=value, high=value, source="definition")
    return Figure(low=value, typical=value, high=value, published=(said,), note=f"your own figure{printed}")
