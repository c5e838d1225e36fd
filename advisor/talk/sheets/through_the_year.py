"""What comes in through a year, asked month by month."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import replace
from typing import Any

from advisor.counsel.wording import joined
from advisor.errors import HouseholdError
from advisor.household.holdings import holdings_told
from advisor.household.shapes import Arrival, Holding
from advisor.household.year import ALL_YEAR, months_told
from advisor.services.answers import with_stores
from advisor.services.shapes import Circumstances, Parameter
from advisor.talk.replies import Reply
from advisor.talk.saying import amount, rate
from advisor.talk.sheets.playing import Blank, choice, figure
from advisor.talk.sheets.world import World

_WHEN = {
    "all": "all the year round",
    "north": "April to October",
    "south": "October to April",
    "autumn": "October and November",
}
_MONTHS_OF = {"all": ALL_YEAR, "north": (4, 10), "south": (10, 4), "autumn": (10, 11)}


def arrivals(
    _parameter: Parameter, _at: Circumstances, world: World
) -> Generator[Blank, Any, tuple[tuple[Arrival, ...], ...]]:
    """All that comes in again and again, each with its months."""
    holdings = world.household.holdings
    if not any(held.quantity.per != "once" for held in holdings):
        holdings = yield figure(
            "What comes in through the year? As in 3 buckets grass a week, 2 kitchen caddies scraps a week, "
            "4 sacks leaves a week.",
            "Each week's load is set against what is in store.",
            lambda text: _weekly(text, world),
            needed=True,
        )
    found: list[tuple[Arrival, ...]] = []
    for held in holdings:
        if held.quantity.per == "once":
            continue
        name = world.knowledge.materials[held.material].name
        picked = yield choice(
            f"In which months does it come: {amount(held.quantity, world.knowledge, world.units)} of {name}"
            f"{rate(held.quantity)}? Pick, or say as in May-Sep.",
            "Grass stops in winter, and leaves fall in autumn.",
            _WHEN,
            also=lambda text: months_told(text, ""),
        )
        first, last = picked if isinstance(picked, tuple) else _MONTHS_OF[picked or "all"]
        found.append((Arrival(first, last, held),))
    return tuple(found)


def with_store(world: World) -> tuple[World, tuple[Reply, ...]]:
    """The world with what the diary says is put by on hand, which the year begins with, and a reply that says so."""
    household = world.household
    there = tuple(one for one in world.stored if one.material not in {held.material for held in household.holdings})
    if not there:
        return world, ()
    said = [f"{amount(held.quantity, world.knowledge, world.units)} of {held.said}" for held in there]
    reply = Reply("heard", f"By your diary there is in store: {joined(said)}. I begin the year with that.")
    return replace(world, household=with_stores(household, there)), (reply,)


def _weekly(text: str, world: World) -> tuple[Holding, ...]:
    found = holdings_told(text, world.knowledge, lambda _: "")
    if all(held.quantity.per == "once" for held in found):
        raise HouseholdError("nothing of that comes in again and again", hint="say how often: 3 buckets grass a week")
    return found
