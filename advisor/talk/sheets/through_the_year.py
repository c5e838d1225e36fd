"""A year planned: what comes in and when, where it is stored, and what goes into the heap."""

from __future__ import annotations

import re
from collections.abc import Generator
from dataclasses import replace
from typing import Any

from advisor.counsel.wording import joined
from advisor.counsel.year import year_plan
from advisor.errors import HouseholdError
from advisor.household.holdings import holdings_told
from advisor.household.shapes import Arrival, Holding, Household, HouseholdYear
from advisor.household.tokens import shown
from advisor.household.year import MONTHS, month_named
from advisor.papers.sections import Section
from advisor.services.figures import number_said
from advisor.talk.replies import Reply
from advisor.talk.saying import amount, rate
from advisor.talk.sheets.playing import Blank, Keep, Say, Script, choice, figure
from advisor.talk.sheets.reading import volume_said
from advisor.talk.sheets.world import World, amiss, in_parts
from advisor.units import volume_text

_ALL_YEAR = (1, 12)
_WHEN = {
    "all": "all the year round",
    "north": "April to October",
    "south": "October to April",
    "autumn": "October and November",
}
_MONTHS_OF = {"all": _ALL_YEAR, "north": (4, 10), "south": (10, 4), "autumn": (10, 11)}
_MOST_BAYS = 12
_BETWEEN = re.compile(r"(?:\s|-|–|\bto\b|\bthrough\b|\btill\b|\buntil\b)+")


def year(world: World) -> Script:
    """What comes in each week, and in which months; then the room for what keeps, and the year."""
    household = world.household
    there = tuple(one for one in world.stored if one.material not in {held.material for held in household.holdings})
    if there:
        yield Say(lambda: (_in_store(world, there),))
        household = replace(household, holdings=(*household.holdings, *there))
    if household.year is None or not household.year.arrivals:
        household = yield from _arriving(world, household)
    told = household.year or HouseholdYear()
    if told.storage_l is None:
        room = yield figure(
            "How much dry room is there for what keeps, such as leaves in sacks? As in 10 sacks or 1200 L.",
            "What is put by in autumn feeds the heap through the summer.",
            lambda text: volume_said(text, world),
            heard=lambda litres: volume_text(litres, world.units),
        )
        bays = yield figure(
            "How many bins, bays or heaps can be filled in turn?",
            "While one ripens, another is fed.",
            lambda text: round(number_said(text, 1, _MOST_BAYS, "a number of bays")),
            loose=True,
        )
        told = replace(told, storage_l=room, bays=bays or 1)
    planned = replace(household, year=told)
    gives_way = yield choice(
        "If not all of it can go in and stay right, what gives way?",
        "Too much grass at once makes a stinking heap; what is left out can dry, or lie as a mulch.",
        {"surplus": "what is too much: leave it out", "balance": "the balance: use it all up"},
    )
    yield Say(lambda: _answer(world, planned, balanced=gives_way != "balance"))


def _in_store(world: World, there: tuple[Holding, ...]) -> Reply:
    """What the diary says is put by, which the year begins with."""
    said = [f"{amount(held.quantity, world.knowledge, world.units)} of {held.said}" for held in there]
    return Reply("heard", f"By your diary there is in store: {joined(said)}. I begin the year with that.")


def _arriving(world: World, household: Household) -> Generator[Blank | Say | Keep, Any, Household]:
    """The household with what comes in told by its months; what is there once stays on hand."""
    holdings = household.holdings
    if not any(held.quantity.per != "once" for held in holdings):
        more = yield figure(
            "What comes in through the year? As in 3 buckets grass a week, 2 kitchen caddies scraps a week, "
            "4 sacks leaves a week.",
            "Each week's load is set against what is in store.",
            lambda text: _weekly(text, world),
            needed=True,
        )
        holdings = (*holdings, *more)
    arrivals: list[Arrival] = []
    for held in holdings:
        if held.quantity.per == "once":
            continue
        name = world.knowledge.materials[held.material].name
        found = yield choice(
            f"In which months does it come: {amount(held.quantity, world.knowledge, world.units)} of {name}"
            f"{rate(held.quantity)}? Pick, or say as in May-Sep.",
            "Grass stops in winter, and leaves fall in autumn.",
            _WHEN,
            also=_months,
        )
        months = found if isinstance(found, tuple) else _MONTHS_OF[found or "all"]
        arrivals.append(Arrival(months[0], months[1], held))
    once = tuple(held for held in holdings if held.quantity.per == "once")
    return replace(household, holdings=once, year=replace(household.year or HouseholdYear(), arrivals=tuple(arrivals)))


def _weekly(text: str, world: World) -> tuple[Holding, ...]:
    found = holdings_told(text, world.knowledge, lambda _: "")
    if all(held.quantity.per == "once" for held in found):
        raise HouseholdError("nothing of that comes in again and again", hint="say how often: 3 buckets grass a week")
    return found


def _months(text: str) -> tuple[int, int]:
    bare = re.sub(r"\b(?:from|in|only|and)\b", " ", text.casefold())
    parts = [part for part in _BETWEEN.split(bare) if part]
    if not 1 <= len(parts) <= 2:
        raise HouseholdError(f"“{shown(text)}” are no months", hint=f"as in {MONTHS[3]}-{MONTHS[9]}")
    numbers = [month_named(part, "") for part in parts]
    return numbers[0], numbers[-1]


def _answer(world: World, household: Household, *, balanced: bool) -> tuple[Reply, ...]:
    from advisor.papers.charts import charts_of

    try:
        found = year_plan(household, world.knowledge, world.planning, units=world.units, balanced=balanced)
    except HouseholdError as error:
        return (amiss(error),)
    grave = tuple(line for line in found.cautions if line.id.startswith("g"))
    plain = tuple(line for line in found.cautions if not line.id.startswith("g"))
    parts = (
        Section("First of all", grave, grave=True),
        Section("What comes in", found.comes),
        Section("Worked out from", found.rests_on),
        Section("Put by", found.put_by),
        Section("The batches", tuple(batch.line for batch in found.batches)),
        Section("Month by month", tuple(month.line for month in found.months)),
        Section("What is short", found.short),
        Section("What is left", found.left_over),
        Section("Keep out", found.stays_out),
        Section("Take care", plain),
    )
    return tuple(in_parts(parts, charts_of(found)))
