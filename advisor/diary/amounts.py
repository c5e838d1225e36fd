"""How many litres an amount of the diary is."""

from __future__ import annotations

from advisor.diary.entries import MaterialTold
from advisor.knowledge.base import Knowledge


def litres_told(told: MaterialTold, knowledge: Knowledge) -> float:
    """Litres of an amount; 0 if none was told. Kilograms are turned by the density of the stuff, or of compost."""
    if not told.count:
        return 0.0
    if told.measure == "L":
        return told.count
    if told.measure == "kg":
        material = knowledge.materials.get(told.material)
        density = material.density if material is not None else knowledge.figures["compost-kg-per-m3"]
        return told.count * 1000 / density.typical
    measure = knowledge.measures.get(told.measure)
    return told.count * measure.litres.typical if measure is not None else 0.0
