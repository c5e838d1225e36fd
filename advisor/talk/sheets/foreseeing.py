"""How hot the heap of the talk may get, and what readings of it mean."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from advisor.counsel.heat import HeatAsked, heat_answer, month_of
from advisor.errors import HouseholdError
from advisor.household.holdings import holdings_told
from advisor.household.shapes import Household
from advisor.papers.heat import sections
from advisor.soil.sanitising import Reading
from advisor.soil_counsel.ground import CheckTold
from advisor.soil_counsel.inputs import read_values
from advisor.soil_counsel.ready import log_of
from advisor.talk.replies import Reply
from advisor.talk.sheets.checking import inputs
from advisor.talk.sheets.playing import Say, Script, choice, figure
from advisor.talk.sheets.world import World, amiss, in_parts

_LOG = "heat"


def heat(world: World) -> Script:
    """What there is, if nobody has told; then readings, if there are any."""
    household = world.household
    if not household.holdings:
        held = yield figure(
            "What is there for a heap? As in 8 sacks of leaves, 10 buckets of grass.",
            "How hot it gets depends on what goes in and how much.",
            lambda text: holdings_told(text, world.knowledge, lambda _: ""),
            needed=True,
        )
        household = replace(household, holdings=held)
    built = yield choice(
        "Have you read its heat with a thermometer?",
        "Readings beside the forecast tell a cold heap from a finished one.",
        {"no": "no, or it is not built yet", "yes": "yes, I have readings"},
    )
    asked = HeatAsked(month=None if household.start else month_of(world.today))
    if built == "yes":
        told = yield from inputs(world, _LOG)
        if told is not None:
            log = log_of(CheckTold("", None, _LOG, read_values(told, world.knowledge.guides[_LOG], _LOG)))
            readings = tuple(Reading(day, celsius) for day, celsius in zip(log.days, log.celsius, strict=True))
            # built so many days ago, so that the weather is that of its days
            since = max(log.days) / 30.4
            month = asked.month if asked.month is None else (asked.month - since) % 12
            asked = replace(asked, readings=readings, turned=log.turned, month=month)
    yield Say(partial(_heat, world, household, asked))


def _heat(world: World, household: Household, asked: HeatAsked) -> tuple[Reply, ...]:
    from advisor.papers.charts import charts_of

    try:
        answer = heat_answer(household, world.knowledge, asked, units=world.units)
    except HouseholdError as error:
        return (amiss(error),)
    return tuple(in_parts(sections(answer), charts_of(answer)))
