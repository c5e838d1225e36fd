"""In which measure a material is offered to the recipe: the person's own where it serves, else one of handy size."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from advisor.counsel.stock import Lot, measure_figure
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge

#: Fallback measures, largest first; a measure is taken if at least this many of it are there.
_LADDER = ("wheelbarrow", "bucket", "kitchen-caddy", "jug", "mug", "handful")
_FEW = 2
#: A measure larger than this is too coarse to build a heap with, a smaller one than this too fine.
_LARGEST_L, _SMALLEST_L = 130.0, 4.0
#: A bale is pulled apart by the slice, so a larger one serves.
_LARGEST_BALE_L = 700.0
#: So many measures are counted in halves; more, in whole ones.
_HALVES_UP_TO = 8


@dataclass(frozen=True, slots=True)
class Unit:
    """A measure with what one holds, and how many there are; 0 if there is less than one of the smallest measure."""

    measure: str
    name: str
    litres: float
    at_most: float
    step: float


def unit_for(held: Sequence[Lot], household: Household, knowledge: Knowledge) -> Unit:
    """The measure for one material, whose lots are given; litres are those of stuff shaken out loose."""
    litres = sum(lot.due_litres for lot in held)
    said = {lot.portion.measure for lot in held}
    if len(said) == 1:
        unit = _own(next(iter(said)), litres, held, knowledge)
        if unit is not None:
            return unit
    for measure in _LADDER:
        size = measure_figure(measure, household, knowledge).typical
        if litres >= _FEW * size:
            return _unit(measure, size, litres, knowledge)
    smallest = _LADDER[-1]
    return _unit(smallest, measure_figure(smallest, household, knowledge).typical, litres, knowledge)


def _own(measure: str, litres: float, held: Sequence[Lot], knowledge: Knowledge) -> Unit | None:
    count = sum(lot.due_portion.count for lot in held)
    if measure in ("L", "kg") or count <= 0:
        return None
    size = litres / count
    largest = _LARGEST_BALE_L if knowledge.measures[measure].packed else _LARGEST_L
    if not _SMALLEST_L <= size <= largest or (count < 1 and size * count > _SMALLEST_L):
        return None
    unit = _unit(measure, size, litres, knowledge)
    return unit if unit.at_most > 0 else None  # less than half a sack is counted in something smaller


def _unit(measure: str, size: float, litres: float, knowledge: Knowledge) -> Unit:
    declared = knowledge.measures[measure]
    count = litres / size
    step = 0.5 if declared.halves and count <= _HALVES_UP_TO else 1.0
    return Unit(measure, declared.name, size, math.floor(count / step + 1e-6) * step, step)
