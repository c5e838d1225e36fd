"""The functions that answer the services about compost and the soil: see answers.py."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from advisor.errors import HouseholdError
from advisor.services.answers import Told
from advisor.services.shapes import NO_FROST, Circumstances

if TYPE_CHECKING:
    from advisor.soil_counsel.ground import Ground
    from advisor.soil_counsel.shapes import ReadyAnswer, SeasonsAnswer, SoilAnswer, SpreadAnswer


def ready(at: Circumstances, told: Told) -> ReadyAnswer:
    """Whether compost is ready, and for what."""
    from advisor.soil_counsel.judging import shipped_soil_engine
    from advisor.soil_counsel.ready import TOLD, Finished, ready_answer

    finished = Finished(
        {name: told[name] for name in TOLD if name in told},
        told.get("weeks"),
        told.get("holds", ()),
        told.get("check", ()),
        told.get("manure"),
    )
    if at.batch is not None:
        kept = at.batch.finished
        finished = Finished(
            {**kept.words, **finished.words},
            kept.weeks if finished.weeks is None else finished.weeks,
            tuple(dict.fromkeys((*kept.holds, *finished.holds))),
            (
                *(one for one in kept.checks if one.guide not in {each.guide for each in finished.checks}),
                *finished.checks,
            ),
            finished.manure_on,
        )
    if finished == Finished():
        hint = "look at it and smell it: is it crumbly, does it smell of earth, does it warm again?"
        raise HouseholdError("nothing is told of it that could be judged", hint=hint)
    return ready_answer(finished, at.knowledge, shipped_soil_engine(), units=at.units)


def spread(at: Circumstances, told: Told) -> SpreadAnswer:
    """How much finished compost goes on which bed."""
    from advisor.soil_counsel.judging import shipped_soil_engine
    from advisor.soil_counsel.spread import spread_answer

    own = beds_of(at)
    ground = replace(
        own,
        method=told.get("method", own.method),
        heap_litres=told.get("heap", own.heap_litres),
        lot_m2=told.get("lot", own.lot_m2),
        finished_litres=told.get("have", own.finished_litres),
    )
    return spread_answer(
        ground,
        at.knowledge,
        shipped_soil_engine(),
        units=at.units,
        screened=told["screened"],
        pots_litres=told.get("pots", 0.0),
        seed_mix_litres=told.get("seed-mix", 0.0),
        raised_mix_litres=told.get("fill", 0.0),
    )


def soil(at: Circumstances, told: Told) -> SoilAnswer:
    """What the checks of the soil show."""
    from advisor.soil_counsel.judging import shipped_soil_engine
    from advisor.soil_counsel.soil import soil_answer

    return soil_answer(checked(at, told), at.knowledge, shipped_soil_engine(), units=at.units)


def checked(at: Circumstances, told: Told) -> Ground:
    """The beds, with the checks that are told of one of them.

    Raises:
        HouseholdError: there are several beds, or no checks.
    """
    ground = beds_of(at)
    checks = told.get("check", ())
    if checks and len(ground.beds) != 1:
        hint = "put them into the soil file, as [[check]] with bed = ..."
        raise HouseholdError("of which bed are these checks?", hint=hint)
    if not (checks or ground.checks or any(bed.facts for bed in ground.beds)):
        hint = "--guide lists them; then say --check 'spade scores=2 4 depths=10 15 cm'"
        raise HouseholdError("no check was told", hint=hint)
    made = (replace(check, bed=ground.beds[0].name, on=told.get("on")) for check in checks)
    return replace(ground, checks=(*ground.checks, *made))


def seasons(at: Circumstances, told: Told) -> SeasonsAnswer:
    """The calendar of a soil that is rebuilt."""
    from advisor.soil_counsel.judging import shipped_soil_engine
    from advisor.soil_counsel.seasons import seasons_answer

    ground = replace(with_frosts(beds_of(at), told), starts=told["from"])
    return seasons_answer(ground, at.knowledge, shipped_soil_engine(), number=told["years"], units=at.units)


def with_frosts(ground: Ground, told: Told) -> Ground:
    """The beds, with the frosts that are told. Raises HouseholdError if both are one day."""
    last, first = told.get("last-frost"), told.get("first-frost")
    if told.get("frost-free") or last == NO_FROST:
        return replace(ground, last_frost=None, first_frost=None, frost_free=True)
    if last is None and first is None:
        return ground
    frosts = (last or ground.last_frost, first or ground.first_frost)
    if frosts[0] == frosts[1]:
        hint = "as in --last-frost 04-20 --first-frost 10-10"
        raise HouseholdError("the last and the first frost are two days", hint=hint)
    return replace(ground, last_frost=frosts[0], first_frost=frosts[1], frost_free=False)


def beds_of(at: Circumstances) -> Ground:
    """The beds that are asked about."""
    from advisor.soil_counsel.ground import Ground

    return at.ground or Ground("your beds")
