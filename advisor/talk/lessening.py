"""Taking from what is on hand: so many measures of it, or a share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from advisor.counsel.stock import lots
from advisor.household.shapes import Holding, Household, Quantity
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

_NOTHING = 1e-9


@dataclass(frozen=True, slots=True)
class Lessened:
    """What is left of a material, and whether less of it was there than was to be taken."""

    left: tuple[Holding, ...]
    short: bool


def lessened(
    there: Sequence[Holding], taken: Quantity | float, household: Household, knowledge: Knowledge
) -> Lessened | str:
    """What is left of the holdings of one material; or why nothing can be taken.

    What is counted in the same measure is taken first, the rest by volume from the others in their order. What stays
    keeps its own measure and, where either amount was loose, the whole stretch from the least to the most it may be.

    Args:
        taken: an amount, or a share of all there is (0 to 1).
        household: for the sizes of its measures.
    """
    if not isinstance(taken, Quantity):
        return Lessened(tuple(_scaled(held, 1 - taken) for held in there if taken < 1), short=False)
    measure, per = taken.measure, taken.per
    fits = [held for held in there if (held.quantity.per == "once") == (per == "once")]
    if not fits:
        if per == "once":
            return "it comes again and again; say how much comes now, such as “2 buckets a week”"
        return "none comes again and again; say how much there is"
    fits.sort(key=lambda held: (held.quantity.measure, held.quantity.per) != (measure, per))
    unit = _litres(taken, there[0].material, household, knowledge)
    to_take = taken
    left: dict[int, Holding] = {}
    for held in fits:
        if to_take.count <= _NOTHING:
            break
        wanted = to_take.times(unit / _litres(held.quantity, held.material, household, knowledge))
        left[id(held)] = replace(held, quantity=_minus(held.quantity, wanted))
        to_take = to_take.times(1 - min(1.0, held.quantity.count / wanted.count))
    kept = (left.get(id(held), held) for held in there)
    return Lessened(tuple(held for held in kept if held.quantity.high > _NOTHING), short=to_take.count > _NOTHING)


def _litres(quantity: Quantity, material: str, household: Household, knowledge: Knowledge) -> float:
    """Litres in one measure, a week if it comes again and again."""
    one = replace(quantity, count=1.0, low=1.0, high=1.0)
    (lot,) = lots(Household("", (Holding(material, one, ""),), measures=household.measures), knowledge)
    return lot.litres.typical


def _minus(quantity: Quantity, taken: Quantity) -> Quantity:
    count, low, high = quantity.count - taken.count, quantity.low - taken.high, quantity.high - taken.low
    if count <= _NOTHING:
        return replace(quantity, count=0.0, low=0.0, high=0.0)
    count, low, high = round(count, 6), round(max(0.0, low), 6), round(high, 6)
    return replace(quantity, count=count, low=min(low, count), high=max(high, count))


def _scaled(held: Holding, factor: float) -> Holding:
    return replace(held, quantity=held.quantity.times(factor))
