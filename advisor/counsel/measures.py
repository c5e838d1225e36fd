"""In which measure a material is offered to the recipe: the person's own where it serves, else one of handy size."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction

from advisor.counsel.stock import Lot, measure_figure
from advisor.household.shapes import Household
from advisor.inference.engine import Consultation
from advisor.inference.evaluate import State
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

#: Fallback measures, largest first; a measure is taken if at least this many of it are there.
_LADDER = ("wheelbarrow", "bucket", "kitchen-caddy", "jug", "mug", "handful")
_FEW = 2
#: From this share of a measure on, an amount is said as one of it.
ABOUT_ONE = 0.95
_NO_LEASTS: Mapping[str, float] = {}
#: A measure larger than this is too coarse to build a heap with, a smaller one than this too fine.
_LARGEST_L, _SMALLEST_L = 130.0, 4.0
#: A bale is pulled apart by the slice, so a larger one serves.
_LARGEST_BALE_L = 700.0
#: So many measures are counted in halves; more, in whole ones.
_HALVES_UP_TO = 8
#: Where that is too coarse for a small part of a mix: a measure is halved until no more than this is in it.
_FINEST_L = 0.7
#: Facts keep four decimals, so that a third comes as 33.3333 %; no share is a smaller part than a twelfth.
_ROUNDED, _SMALLEST_PART = 1e-3, 12
_SHARES = {50.0: "half", 100 / 3: "a third", 25.0: "a quarter", 20.0: "a fifth", 10.0: "a tenth"}


@dataclass(frozen=True, slots=True)
class Unit:
    """A measure: what one holds, how many there are, and the fraction that is counted, usually and at the finest."""

    measure: str
    name: str
    litres: float
    at_most: float
    step: float
    finest: float


def unit_for(held: Sequence[Lot], household: Household, knowledge: Knowledge) -> Unit:
    """The measure for one material, whose lots are given; litres are those of stuff shaken out loose."""
    litres = sum(lot.due_litres for lot in held)
    said = {lot.portion.measure for lot in held}
    if len(said) == 1:
        unit = _own(next(iter(said)), litres, held, knowledge)
        if unit is not None:
            return unit
    measure, size = fitting(litres, _LADDER, household, knowledge, least=_FEW)
    return _unit(measure, size, litres, knowledge)


def fitting(
    litres: float,
    ladder: Sequence[str],
    household: Household,
    knowledge: Knowledge,
    *,
    least: float = ABOUT_ONE,
    leasts: Mapping[str, float] = _NO_LEASTS,
) -> tuple[str, float]:
    """Return the first measure of a ladder that the litres fill, and its size in litres; or else the last measure.

    Args:
        ladder: ids of measures, the largest first.
        least: how many of a measure the litres must fill; `leasts` says it for single measures.
    """
    size = math.nan
    for measure in ladder:
        size = measure_figure(measure, household, knowledge).typical
        if litres >= leasts.get(measure, least) * size:
            return measure, size
    return ladder[-1], size


def in_halves(litres: float, size: float) -> float:
    """Return how many measures of a size (in litres) the litres make, to the nearest half; half a measure at least."""
    return max(0.5, round(2 * litres / size) / 2)


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
    finest = finest_step(size, step)
    return Unit(measure, declared.name, size, math.floor(count / finest + 1e-6) * finest, step, finest)


def finest_step(size: float, step: float = 1.0) -> float:
    """The fraction of a measure of so many litres that can still be told apart: `step`, halved as often as needed.

    It does not depend on how many measures there are, so that more on hand never leaves fewer mixes to choose from.
    """
    return step / 2.0 ** max(0, math.ceil(math.log2(size * step / _FINEST_L)))


def share_of(percent: float) -> float:
    """A largest share in % as a share of 1, exactly: 33.3333 % is one part in three."""
    exact = Fraction(percent / 100).limit_denominator(_SMALLEST_PART)
    return float(exact) if abs(100 * exact - percent) < _ROUNDED else percent / 100


def share_cap(talk: Consultation | State, material: str) -> float | None:
    """The largest share of a mix that a material may have, as a share of 1; None if the rules set none.

    Where several rules set one, the strictest holds.
    """
    return min((share_of(float(cap)) for cap in talk.values("holding", "share_cap", material)), default=None)


def share_text(percent: float) -> str:
    """A largest share in words where there is one: "a third", or "6 %"."""
    return next((word for figure, word in _SHARES.items() if abs(figure - percent) < _ROUNDED), f"{percent:.0f} %")
