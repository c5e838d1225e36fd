"""Doors that lead to several sheets: what a person may want there, and the way on."""

from __future__ import annotations

from collections.abc import Callable

from advisor.talk.intents import Door
from advisor.talk.sheets.checking import check, trends
from advisor.talk.sheets.comparing import kitchen, paces
from advisor.talk.sheets.compost_ready import ready
from advisor.talk.sheets.foreseeing import heat
from advisor.talk.sheets.playing import Script, choice
from advisor.talk.sheets.spreading import seasons, spread
from advisor.talk.sheets.stead import animals, handfuls, instead
from advisor.talk.sheets.through_the_year import year
from advisor.talk.sheets.world import World

SOIL: dict[Door, str] = {
    "ready": "is my compost ready, and for what?",
    "spread": "how much compost goes on which bed?",
    "check": "check the soil, step by step",
    "trends": "how are the checks in my diary going?",
    "seasons": "rebuild a spent soil, season by season",
}
_SOIL_SCRIPTS: dict[str, Callable[[World], Script]] = {
    "ready": ready,
    "spread": spread,
    "check": check,
    "trends": trends,
    "seasons": seasons,
}

MORE: dict[Door, str] = {
    "year": "plan a year of it, week by week",
    "paces": "a quick heap beside a slow one: which suits me?",
    "heat": "how hot my heap may get, and when",
    "kitchen": "what our scraps come to in a year, in a flat or on a balcony",
    "instead": "what stands in for so much manure",
    "animals": "a deep bed for animals, and the rows it makes",
    "handfuls": "what may be added by the handful: herbs, ash, lime, clay",
}
_MORE_SCRIPTS: dict[str, Callable[[World], Script]] = {
    "year": year,
    "paces": paces,
    "heat": heat,
    "kitchen": kitchen,
    "instead": instead,
    "animals": animals,
    "handfuls": handfuls,
}


def soil(world: World) -> Script:
    """What the soil needs."""
    words = {str(door): text for door, text in SOIL.items()}
    wanted = yield choice("What about the soil?", "Compost is the means; living soil is the end.", words)
    yield from _SOIL_SCRIPTS[wanted or "check"](world)


def more(world: World) -> Script:
    """What there is besides."""
    words = {str(door): text for door, text in MORE.items()}
    wanted = yield choice("What else?", "Each has questions of its own.", words)
    if wanted is not None:
        yield from _MORE_SCRIPTS[wanted](world)
