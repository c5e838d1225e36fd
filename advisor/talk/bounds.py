"""What is more than any garden holds: amounts that the facts of rules/facts.toml have no room for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from advisor.counsel.stock import Lot, lots
from advisor.errors import HouseholdError
from advisor.household.shapes import Household
from advisor.household.tokens import shown
from advisor.knowledge.base import Knowledge


def within_bounds(household: Household, knowledge: Knowledge) -> tuple[Lot, ...]:
    """The lots of a household whose amounts can be.

    Raises:
        HouseholdError: there is too much of something, or of everything together; it names what was said last of it.
    """
    held = lots(household, knowledge)
    for weekly, attribute in ((False, "litres"), (True, "weekly")):
        alike = [lot for lot in held if lot.weekly is weekly]
        for material in dict.fromkeys(lot.material_id for lot in alike):
            of_it = [lot for lot in alike if lot.material_id == material]
            _check(of_it, _most("holding", attribute, knowledge))
        _check(alike, _most("stock", attribute, knowledge))
    return held


def _most(kind: str, attribute: str, knowledge: Knowledge) -> float:
    number = knowledge.kinds[kind].attributes[attribute].number
    return number[1] if number is not None else float("inf")


def _check(held: Sequence[Lot], most: float) -> None:
    if not _sum(held) <= most:
        raise HouseholdError("this is more than any garden holds", where=f"“{shown(held[-1].holding.said)}”")


def _sum(held: Iterable[Lot]) -> float:
    return sum(lot.litres.typical for lot in held)
