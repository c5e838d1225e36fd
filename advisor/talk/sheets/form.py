"""The form of any service of the table: what is not known is asked, then it is answered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from typing import Any

from advisor.errors import HouseholdError
from advisor.services.shapes import NOT_ASKED, Circumstances, Parameter, Service, known, loaded, reader
from advisor.services.soil_answers import beds_of, with_frosts
from advisor.soil_counsel.ground import BedTold
from advisor.talk.replies import Reply
from advisor.talk.sheets.beds import kept, kept_frosts, some_beds
from advisor.talk.sheets.checking import guide_named
from advisor.talk.sheets.parts import PARTS, Part
from advisor.talk.sheets.playing import Blank, Say, Script, choice, figure
from advisor.talk.sheets.through_the_year import with_store
from advisor.talk.sheets.world import World, amiss, circumstances, replies_of

#: The value of the option that picks nothing.
_NONE = "none"
#: The part of a service that goes through a year, which begins with what is in store.
_THROUGH_THE_YEAR = "arrivals"


def form(service: Service, world: World) -> Script:
    """Ask for what a service must be told, and answer.

    Every parameter that has a question is asked in the order of the table, unless the circumstances know it; "I don't
    know" takes what is usual. What is asked again and again comes behind the answer, unless the words that asked have
    begun with it.
    """
    told: dict[str, Any] = {}
    if any(parameter.part == _THROUGH_THE_YEAR for parameter in service.parameters):
        world, begins = with_store(world)
        yield Say(lambda: begins)
    at = circumstances(world, told=told)
    new: tuple[BedTold, ...] = ()
    if service.points:
        ground, new = yield from some_beds(world, world.ground, service.points)
        at = replace(at, ground=ground)
    for parameter in service.parameters:
        if parameter.again:
            continue
        value = known(parameter, at)
        if value is None and (parameter.ask or parameter.part):
            asked = PARTS[parameter.part] if parameter.part else _one_question
            value = yield from asked(parameter, at, world)
        if value is None:
            usual = parameter.usual or parameter.unknown or ("no" if parameter.flag else "")
            value = parameter.value(usual, at) if usual else NOT_ASKED
        if value is not NOT_ASKED:
            told[parameter.name] = value
    begun = bool(service.guides) and bool(guide_named(world.said, world, service.guides))
    if not begun:
        yield Say(partial(_answer, service, at, dict(told)))
    for parameter in service.parameters:
        while parameter.again and (value := (yield from PARTS[parameter.part](parameter, at, world))) is not None:
            told[parameter.name] = (*told.get(parameter.name, ()), value)
            yield Say(partial(_answer, service, at, dict(told)))
    if service.points:
        yield from kept_frosts(world.ground, with_frosts(beds_of(at), told))
        yield from kept(new)


def _one_question(parameter: Parameter, at: Circumstances, world: World) -> Part:
    """The answer to the question of a parameter; nothing if it is not known, or picks nothing."""
    value = yield _blank(parameter, at, world)
    if value == _NONE or (isinstance(value, tuple) and not set(value) - {_NONE}):
        return None
    if isinstance(value, tuple) and parameter.many:
        return tuple(word for word in value if word != _NONE)
    return parameter.value(value, at) if isinstance(value, str) and value in parameter.words(at.knowledge) else value


def _blank(parameter: Parameter, at: Circumstances, world: World) -> Blank:
    def read(text: str) -> Any:
        return parameter.value(text, at)

    words = parameter.words(at.knowledge)
    if parameter.nothing:
        words = {**words, _NONE: parameter.nothing}
    if words:
        return choice(
            parameter.ask,
            parameter.why,
            words,
            many=bool(parameter.many),
            also=read if parameter.read else None,
            near=world.near(parameter.words_of) if parameter.words_of and not parameter.offered else None,
        )
    heard = (lambda value: str(reader(parameter.heard)(value, at))) if parameter.heard else None
    needed = bool(parameter.needed) and not parameter.unknown
    return figure(parameter.ask, parameter.why, read, heard=heard, needed=needed, loose=parameter.loose)


def _answer(service: Service, at: Circumstances, told: Mapping[str, Any]) -> tuple[Reply, ...]:
    try:
        return replies_of(loaded(service.answer)(at, told), at.knowledge)
    except HouseholdError as error:
        return (amiss(error),)
