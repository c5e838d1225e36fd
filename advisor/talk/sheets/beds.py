"""Beds on the sheets: which ones, and what there is to know of a new one."""

from __future__ import annotations

import re
from collections.abc import Generator, Sequence
from dataclasses import replace
from typing import Any

from advisor.errors import HouseholdError
from advisor.household.tokens import shown
from advisor.services.figures import number_said
from advisor.soil.seasons import Step
from advisor.soil_counsel.ground import BedTold, Ground, area_m2
from advisor.talk.sheets.playing import Blank, Keep, KeepBed, KeepFrosts, Say, bared, choice, figure, yes_or_no
from advisor.talk.sheets.reading import name_said
from advisor.talk.sheets.world import World, with_bed
from advisor.units import area_text

_ALL, _NEW = "all", "new"
_WANTS = {
    "upkeep": "soil in good heart: a dressing for the year",
    "new": "a new bed, or one that was never fed",
    "rebuild-first": "spent soil, the first year of its rebuilding",
    "rebuild-second": "spent soil, the second year",
    "mulch": "a mulch on top, under shrubs or between plants",
    "lawn": "a lawn",
}
_STEPS = {
    "1": "spent: pale, hard or dusty, hardly a worm",
    "2": "a little better: one year of compost and green manure behind it",
    "3": "fit for vegetables",
    "5": "in good heart: upkeep only",
}
ITS_NAME = "What do you call this bed or plot? Any name will do."
_HEARTS = "It settles with which step its rebuilding begins."
_IN_TURN = "Families follow each other in turn, and some are hungrier than others."
_LEAD = "Old paint, traffic and works leave lead in the ground."
_EATEN = "What is eaten, and whether it touches the soil, decides some cautions."

Beds = Generator["Blank | Say | Keep", Any, tuple[Ground, tuple[BedTold, ...]]]
OneBed = Generator["Blank | Say | Keep", Any, BedTold]


def some_beds(world: World, ground: Ground, points: Sequence[str]) -> Beds:
    """Which beds: those of the diary, or new ones, one after another; the ground with them, and the new ones."""
    known = [bed for bed in ground.beds if bed.area_m2 is not None or "area" not in points]
    chosen: list[BedTold] = []
    new: list[BedTold] = []
    if known:
        words = {bed.name: bed.name for bed in known}
        picked = yield choice(
            "For which beds?",
            "Those in your diary, or a new one.",
            {_ALL: "all of these", **words, _NEW: "a new bed"},
            many=True,
        )
        names = picked or (_ALL,)
        chosen = [bed for bed in known if _ALL in names or bed.name in names]
        if _NEW not in names:
            return replace(ground, beds=tuple(chosen)), ()
    while True:
        bed = yield from new_bed(world, ground, points)
        new.append(bed)
        ground = with_bed(ground, bed)
        more = yield yes_or_no("Another bed?", "Each is reckoned by itself, and what there is goes round.")
        if more != "yes":
            break
    return replace(ground, beds=(*chosen, *new)), tuple(new)


def kept(new: Sequence[BedTold], what: str = "these beds") -> Generator[Blank | Say | Keep, Any, None]:
    """Offer to keep new beds."""
    if not new:
        return
    wanted = yield yes_or_no(f"Shall I keep {what} in your diary?", "Next time you need not tell them again.")
    if wanted == "yes":
        for bed in new:
            yield KeepBed(bed)


def kept_frosts(before: Ground, ground: Ground) -> Generator[Blank | Say | Keep, Any, None]:
    """Offer to keep the frosts, if others were told than those that are known."""
    if (ground.last_frost, ground.frost_free) == (before.last_frost, before.frost_free):
        return
    wanted = yield yes_or_no("Shall I keep the frosts in your diary?", "Next time you need not tell them again.")
    if wanted == "yes":
        last, first = ground.last_frost, ground.first_frost
        yield KeepFrosts((last, first) if last and first else None)


def new_bed(world: World, ground: Ground, points: Sequence[str]) -> OneBed:
    """A bed that is not known yet."""
    names = [bed.name for bed in ground.beds]
    name = yield figure(
        ITS_NAME,
        "Its checks and years are kept by it.",
        lambda text: _fresh(text, names),
        free=True,
    )
    return (yield from about_bed(world, BedTold(name or _next(names)), points))


def about_bed(world: World, bed: BedTold, points: Sequence[str]) -> OneBed:
    """What there is to know of a bed, point by point."""
    for point in points:
        bed = yield from _POINTS[point](world, bed)
    return bed


def _fresh(text: str, names: Sequence[str]) -> str:
    name = name_said(text)
    if any(bared(name) == bared(other) for other in names):
        raise HouseholdError(f"there is a bed “{shown(name)}” already", hint="give this one another name")
    return name


def _next(names: Sequence[str]) -> str:
    number = len(names) + 1
    while f"bed {number}" in names:
        number += 1
    return f"bed {number}"


def _area(world: World, bed: BedTold) -> OneBed:
    area = yield figure(
        f"How big is {bed.name}? As in 1.2 x 6 m, 8 m2, 4 x 20 ft.",
        "How much compost it takes, and how much seed, goes by its area.",
        _square_metres,
        heard=lambda square: area_text(square, world.units),
        needed=True,
    )
    return replace(bed, area_m2=area)


def _square_metres(text: str) -> float:
    if re.fullmatch(r"\s*\d+(?:[.,]\d+)?\s*", text):
        number = text.strip()
        raise HouseholdError(f"{number} of what", hint=f"say {number} m2, {number} sq ft, or both sides: 1.2 x 6 m")
    return area_m2(text, "")


def _wants(world: World, bed: BedTold) -> OneBed:  # noqa: ARG001
    wants = yield choice(f"What is {bed.name} to get?", "How thick compost is spread goes by it.", _WANTS)
    return replace(bed, wants=wants or "")


def _dressed(world: World, bed: BedTold) -> OneBed:  # noqa: ARG001
    years = yield figure(
        f"For how many years in a row has {bed.name} had an inch (2.5 cm) or more of compost or manure?",
        "Phosphorus and salts build up where much is spread every year.",
        lambda text: number_said(text, 0, 100, "years"),
        loose=True,
    )
    return _with_fact(bed, "dressed_years", float(round(years))) if years is not None else bed


def _step(world: World, bed: BedTold) -> OneBed:
    found = yield choice(f"How is the soil of {bed.name} now?", _HEARTS, _STEPS, near=world.near("bed.step"))
    steps: dict[str, Step] = {"1": 1, "2": 2, "3": 3, "5": 5}
    return replace(bed, step=steps[found or "1"])


def _crops(world: World, bed: BedTold) -> OneBed:
    words = {id_: family.name for id_, family in world.knowledge.crop_families.items()}
    found = yield choice(
        f"Which crops come first on {bed.name}?",
        _IN_TURN,
        words,
        many=True,
        near=_crops_said(world),
    )
    return replace(bed, crops=found or ())


def _crops_said(world: World) -> dict[str, tuple[str, ...]]:
    """The crops of each family, and what else they are called."""
    called = world.near("bed.family")
    families = world.knowledge.crop_families
    return {id_: (*family.crops, *called.get(id_, ())) for id_, family in families.items()}


def _place(world: World, bed: BedTold) -> OneBed:
    words = world.knowledge.kinds["bed"].attributes["place"].words
    found = yield choice(
        f"Of {bed.name}: what lies near it, or lay there once?",
        _LEAD,
        words,
        near=world.near("bed.place"),
    )
    return _with_fact(bed, "place", found) if found else bed


def _grows(world: World, bed: BedTold) -> OneBed:
    words = world.knowledge.kinds["bed"].attributes["crop"].words
    found = yield choice(
        f"What is to grow on {bed.name}?",
        _EATEN,
        words,
        many=True,
        near=world.near("bed.crop"),
    )
    for word in found or ():
        bed = replace(bed, facts=(*bed.facts, ("crop", word)))
    return bed


def _with_fact(bed: BedTold, name: str, value: str | float) -> BedTold:
    return replace(bed, facts=(*(fact for fact in bed.facts if fact[0] != name), (name, value)))


_POINTS = {
    "area": _area,
    "wants": _wants,
    "dressed": _dressed,
    "step": _step,
    "crops": _crops,
    "place": _place,
    "grows": _grows,
}
