"""How much compost goes on which bed, and the seasons of a spent soil."""

from __future__ import annotations

from collections.abc import Generator, Mapping
from dataclasses import replace
from typing import Any

from advisor.household.days import MonthDay, month_day
from advisor.soil_counsel.ground import Ground
from advisor.soil_counsel.judging import shipped_soil_engine
from advisor.soil_counsel.seasons import seasons_answer
from advisor.soil_counsel.spread import spread_answer
from advisor.talk.replies import Reply
from advisor.talk.sheets.beds import kept, some_beds
from advisor.talk.sheets.playing import Blank, Keep, KeepFrosts, Say, Script, choice, figure, yes_or_no
from advisor.talk.sheets.reading import volume_said
from advisor.talk.sheets.world import World, in_parts
from advisor.units import volume_text

_MIXES = {"pots": "potting mix", "seeds": "mix for seed trays"}
_NO_FROST = "no-frost"
_SEASONS = {"one": "this season", "two": "two seasons", "five": "five seasons"}
_NUMBER = {"one": 1, "two": 2, "five": 5}


def spread(world: World) -> Script:
    """Beds, what there is to spread, and what comes of it."""
    ground, new = yield from some_beds(world, world.ground, ("area", "wants", "dressed", "grows"))
    there = yield figure(
        "How much finished compost is there? As in 400 L or 6 barrows; “I don't know” reckons what they would like.",
        "Where there is too little, the bed that needs it most comes first.",
        lambda text: volume_said(text, world),
        heard=lambda litres: volume_text(litres, world.units),
    )
    mixes = yield choice(
        "Is any of it for pots or seed trays as well?",
        "A mix takes a share of its volume, never all of it.",
        {"none": "no, only for the beds", "pots": "potting mix", "seeds": "mix for seed trays"},
        many=True,
    )
    litres: dict[str, float] = {}
    for mix, name in _MIXES.items():
        if mix in (mixes or ()):
            made = yield figure(
                f"How much {name} do you want to make? As in 60 L.",
                "Of that the compost is a share.",
                lambda text: volume_said(text, world),
                heard=lambda volume: volume_text(volume, world.units),
            )
            litres[mix] = made or 0.0
    ground = replace(_with_heap(ground, world), finished_litres=there)
    yield Say(lambda: _spread(world, ground, litres))
    yield from kept(new)


def _with_heap(ground: Ground, world: World) -> Ground:
    """The ground with the heap that is planned, for what has to be gathered."""
    plan = world.plan
    if plan is None or plan.choice.method == "collection":
        return ground
    litres = next((gauge.spread.typical for gauge in plan.recipe.gauges if gauge.what == "volume"), 0.0)
    return replace(ground, method=plan.choice.method, heap_litres=litres if litres > 0 else None)


def _spread(world: World, ground: Ground, mixes: Mapping[str, float]) -> tuple[Reply, ...]:
    answer = spread_answer(
        ground,
        world.knowledge,
        shipped_soil_engine(),
        units=world.units,
        pots_litres=mixes.get("pots", 0.0),
        seed_mix_litres=mixes.get("seeds", 0.0),
    )
    return tuple(in_parts(answer.parts))


def seasons(world: World) -> Script:
    """Beds, frosts, and the calendar between them."""
    ground, new = yield from some_beds(world, world.ground, ("area", "step", "crops"))
    told = ground
    if ground.last_frost is None and not ground.frost_free:
        ground = yield from _frosts(ground)
    number = yield choice("For how many seasons?", "A spent soil takes three to five.", _SEASONS)
    ground = replace(ground, starts=world.today)
    yield Say(lambda: _seasons(world, ground, _NUMBER[number or "one"]))
    if (ground.last_frost, ground.frost_free) != (told.last_frost, told.frost_free):
        wanted = yield yes_or_no("Shall I keep the frosts in your diary?", "Next time you need not tell them again.")
        if wanted == "yes":
            yield KeepFrosts(
                (ground.last_frost, ground.first_frost) if ground.last_frost and ground.first_frost else None
            )
    yield from kept(new)


def _frosts(ground: Ground) -> Generator[Blank | Say | Keep, Any, Ground]:
    """The ground with its frosts; without, if they are not known."""
    last = yield choice(
        "When is the last frost of spring, in most years? As in 20 April.",
        "What is tender is sown behind it.",
        {_NO_FROST: "it never freezes here"},
        also=_frost,
    )
    if last == _NO_FROST:
        return replace(ground, frost_free=True)
    if last is None:
        return ground
    first = yield figure(
        "And the first frost of autumn?", "Winter cover has to be sown some weeks before it.", _frost, needed=True
    )
    return replace(ground, last_frost=last, first_frost=first)


def _frost(text: str) -> MonthDay:
    return month_day(text, "the frost")


def _seasons(world: World, ground: Ground, number: int) -> tuple[Reply, ...]:
    from advisor.papers.charts import charts_of

    answer = seasons_answer(ground, world.knowledge, shipped_soil_engine(), number=number, units=world.units)
    return tuple(in_parts(answer.parts, charts_of(answer)))
