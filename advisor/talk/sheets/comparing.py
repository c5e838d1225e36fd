"""A quick heap beside a slow one, and what a kitchen comes to in a year."""

from __future__ import annotations

from dataclasses import replace

from advisor.counsel.kitchen import kitchen as kitchen_year
from advisor.counsel.paces import paces as paces_of
from advisor.counsel.paces import shipped_paces_engine
from advisor.errors import HouseholdError
from advisor.household.holdings import holdings_told
from advisor.household.shapes import Household
from advisor.papers.kitchen import sections as kitchen_sections
from advisor.papers.paces import sections as paces_sections
from advisor.talk.replies import Reply
from advisor.talk.sheets.playing import Say, Script, choice, figure
from advisor.talk.sheets.reading import number_said
from advisor.talk.sheets.world import World, amiss, in_parts

_MOST_PEOPLE = 50
_SPACES = ("flat", "balcony", "paved-yard", "small-garden", "garden")


def paces(world: World) -> Script:
    """What there is, if nobody has told; then both heaps."""
    household = world.household
    if not household.holdings:
        held = yield figure(
            "What is there for a heap? As in 8 sacks of leaves, 10 buckets of grass.",
            "Both heaps are mixed of it.",
            lambda text: holdings_told(text, world.knowledge, lambda _: ""),
            needed=True,
        )
        household = replace(household, holdings=held)
    yield Say(lambda: _paces(world, household))


def _paces(world: World, household: Household) -> tuple[Reply, ...]:
    try:
        answer = paces_of(household, world.knowledge, world.planning, shipped_paces_engine(), units=world.units)
    except HouseholdError as error:
        return (amiss(error),)
    replies: list[Reply] = []
    for part in paces_sections(answer):
        replies += [Reply("verdict", f"Side by side:\n{part}")] if isinstance(part, str) else in_parts([part])
    return tuple(replies)


def kitchen(world: World) -> Script:
    """How many people, and where they live."""
    people = yield figure(
        "For how many people is there cooking at home?",
        "Scraps are reckoned by the head, from published surveys.",
        lambda text: number_said(text, 1, _MOST_PEOPLE, "people"),
        loose=True,
        needed=True,
    )
    words = world.knowledge.kinds["place"].attributes["space"].words
    spaces = {name: words[name] for name in _SPACES}
    told = [str(value) for value in world.household.answers.get("place.space", ()) if value in spaces]
    space = told[0] if told else None
    if space is None:
        space = yield choice("What space is there?", "Without soil to dig, bucket and worms finish in tubs.", spaces)
    yield Say(lambda: _kitchen(world, people, space or "balcony"))


def _kitchen(world: World, people: float, space: str) -> tuple[Reply, ...]:
    answer = kitchen_year(world.knowledge, world.planning, people=people, space=space, units=world.units)
    return tuple(in_parts(kitchen_sections(answer)))
