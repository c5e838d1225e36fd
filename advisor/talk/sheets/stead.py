"""Without manure, and with animals: what stands in for it, a deep bed, and what is added by the handful."""

from __future__ import annotations

import re

from advisor.counsel.additions import additions
from advisor.counsel.deep_bed import Season, deep_bed
from advisor.counsel.herds import herds_told
from advisor.counsel.substitutes import shipped_replacing_engine, substitutes
from advisor.errors import HouseholdError
from advisor.heap.bedding import Herd
from advisor.household.holdings import holdings_told
from advisor.household.shapes import Holding
from advisor.papers.additions import sections as additions_sections
from advisor.papers.deep_bed import sections as bed_sections
from advisor.papers.stead import sections as stead_sections
from advisor.talk.replies import Reply
from advisor.talk.sheets.playing import Say, Script, choice, figure
from advisor.talk.sheets.reading import number_said, volume_said
from advisor.talk.sheets.world import World, amiss, in_parts
from advisor.units import volume_text

_WINTER = 26.0  # weeks; common practice
_SEASONS = ("spring", "summer", "autumn", "winter")
_LEADS = (
    "we've ",
    "i've ",
    "i have ",
    "we have ",
    "i keep ",
    "we keep ",
    "got ",
    "about ",
    "there are ",
    "my ",
    "our ",
)


def instead(world: World) -> Script:
    """How much manure it would have been, when, and what stands in for it."""
    wanted = _manure_in(world)
    if wanted is None:
        wanted = yield figure(
            "How much manure would it have been? As in 2 barrows of horse manure; “I don't know” takes that.",
            "What stands in for it must bring as much nitrogen.",
            lambda text: _manure(text, world),
        )
    wanted = wanted or _manure("2 barrows horse manure", world)
    season = None
    if "place.season" not in world.household.answers and world.household.start is None:
        season = yield choice(
            "For which season?",
            "Grass is not to be had in winter, nor leaves in May.",
            {name: name for name in _SEASONS},
        )
    yield Say(lambda: _instead(world, wanted, season))


def _manure(text: str, world: World) -> tuple[Holding, ...]:
    from advisor.counsel.candidates import is_manure

    found = holdings_told(text, world.knowledge, lambda _: "")
    for holding in found:
        if not is_manure(world.knowledge.materials[holding.material]):
            name = world.knowledge.materials[holding.material].name
            raise HouseholdError(f"{name} is no manure", hint="say as in 2 barrows of horse manure")
    return found


def _manure_in(world: World) -> tuple[Holding, ...] | None:
    """The manure named in the words that opened the sheet: "what can I use instead of 2 barrows of horse manure"."""
    for lead in (" instead of ", " for ", " replace ", " replaces ", " of having "):
        _, found, rest = f" {world.said.casefold()} ".partition(lead)
        if found:
            try:
                return _manure(rest.strip(" ?.!"), world)
            except HouseholdError:
                continue
    return None


def _instead(world: World, wanted: tuple[Holding, ...], season: str | None) -> tuple[Reply, ...]:
    answer = substitutes(
        wanted, world.knowledge, shipped_replacing_engine(), household=world.household, season=season, units=world.units
    )
    return tuple(in_parts(stead_sections(answer)))


# ---------------------------------------------------------------- animals


def animals(world: World) -> Script:
    """Which animals, for how long, on what; and the bed under them."""
    herds = yield figure(
        "Which animals, and how many? As in 6 hens, or 2 goats of 60 kg and 1 pony.",
        "Their dung and urine say how much bedding it takes.",
        _herds,
        needed=True,
    )
    weeks = yield figure(
        "For how many weeks are they on it? “I don't know” takes a winter of 26.",
        "The bed grows with every week.",
        _weeks,
        loose=True,
    )
    indoors = yield choice(
        "How much of the day are they in?",
        "Only what falls indoors is bedded.",
        {"all": "all day and night", "night": "nights only, some 14 hours", "little": "a third of the day or less"},
    )
    aim = yield choice(
        "How is the heap of it to work in spring?",
        "A quick heap wants less bedding for the dung than a slow one.",
        {"steady": "steadily, some months", "quick": "hot and quick", "fungal": "slowly, for a fungus-rich compost"},
    )
    share = {"all": 1.0, "night": 0.6, "little": 0.33}[indoors or "all"]
    season = Season(weeks or _WINTER, share, None, aim or "steady")
    yield Say(lambda: _bed(world, herds, season))


def _weeks(text: str) -> float:
    if re.search(r"\bwinter\b", text, re.IGNORECASE) and not any(sign.isdigit() for sign in text):
        return _WINTER
    return number_said(text, 1, 60, "weeks")


def _herds(text: str) -> tuple[Herd, ...]:
    bare = text.strip().casefold().rstrip(".!")
    for lead in _LEADS:
        bare = bare.removeprefix(lead)
    try:
        return herds_told(bare)
    except HouseholdError as error:
        raise HouseholdError(error.message, hint=error.hint) from None


def _bed(world: World, herds: tuple[Herd, ...], season: Season) -> tuple[Reply, ...]:
    answer = deep_bed(
        herds, season, world.knowledge, shipped_replacing_engine(), household=world.household, units=world.units
    )
    return tuple(in_parts(bed_sections(answer)))


# ---------------------------------------------------------------- by the handful


def handfuls(world: World) -> Script:
    """Herbs, starters and minerals for the heap that is planned, or for one of a size that is told."""
    litres = None
    if world.plan is None:
        litres = yield figure(
            "How big is the heap? As in 1 m3, 300 L or 10 barrows; “I don't know” takes a cubic metre.",
            "Ash, clay and lime are capped by its size.",
            lambda text: volume_said(text, world),
            heard=lambda volume: volume_text(volume, world.units),
        )
    yield Say(lambda: _handfuls(world, litres))


def _handfuls(world: World, litres: float | None) -> tuple[Reply, ...]:
    try:
        answer = additions(
            world.household,
            world.knowledge,
            world.planning,
            shipped_replacing_engine(),
            litres=litres,
            units=world.units,
        )
    except HouseholdError as error:
        return (amiss(error),)
    return tuple(in_parts(additions_sections(answer)))
