"""What is on hand as rows of a table: the amount as it can be typed, the material, and its litres and weight."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from advisor.records import dataclass
from advisor.units import mass_text, volume_text

if TYPE_CHECKING:
    from advisor.counsel.plan import Heard, Plan
    from advisor.household.shapes import Household
    from advisor.knowledge.base import Knowledge


@dataclass(frozen=True, slots=True)
class Stock:
    """A row of the table. `amount` reads back as what was told."""

    material: str
    amount: str
    name: str
    measures: str


def stocks(plan: Plan, household: Household, knowledge: Knowledge) -> tuple[Stock, ...]:
    """The rows for a household, in the order it was told."""
    return tuple(_stocks(plan, household, knowledge))


def _stocks(plan: Plan, household: Household, knowledge: Knowledge) -> Iterator[Stock]:
    from advisor.talk.saying import amount, rate

    heard = list(plan.heard)
    for holding in household.holdings:
        found = next((one for one in heard if (one.material, one.said) == (holding.material, holding.said)), None)
        if found is None:
            continue
        heard.remove(found)
        told = f"{amount(holding.quantity, knowledge, plan.units)}{rate(holding.quantity)}"
        loose = holding.quantity.high > holding.quantity.low
        lead = "about " if loose else ""
        yield Stock(holding.material, f"{lead}{told}", found.name, _measures(found, plan, loose=loose))


def _measures(heard: Heard, plan: Plan, *, loose: bool) -> str:
    """ "75 L, 5 kg"; of what was told in loose words, as "lots", the litres it may be."""
    if loose:
        return f"{volume_text(heard.litres.low, plan.units)} to {volume_text(heard.litres.high, plan.units)}"
    return f"{volume_text(heard.litres.typical, plan.units)}, {mass_text(heard.kilograms.typical, plan.units)}"
