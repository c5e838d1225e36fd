"""The form of any service of the table: what is not known is asked, then it is answered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from typing import Any

from advisor.errors import HouseholdError
from advisor.services.shapes import NOT_ASKED, Circumstances, Parameter, Service, known, loaded, reader
from advisor.talk.replies import Reply
from advisor.talk.sheets.parts import PARTS, Part
from advisor.talk.sheets.playing import Blank, Say, Script, choice, figure
from advisor.talk.sheets.world import World, amiss, replies_of

#: The value of the option that picks nothing.
_NONE = "none"


def form(service: Service, world: World) -> Script:
    """Ask for what a service must be told, and answer.

    Every parameter that has a question is asked in the order of the table, unless the circumstances know it; "I don't
    know" takes what is usual.
    """
    told: dict[str, Any] = {}
    at = circumstances(world, told=told)
    for parameter in service.parameters:
        value = known(parameter, at)
        if value is None and (parameter.ask or parameter.part):
            asked = PARTS[parameter.part] if parameter.part else _one_question
            value = yield from asked(parameter, at, world)
        if value is None:
            usual = parameter.usual or parameter.unknown or ("no" if parameter.flag else "")
            value = parameter.value(usual, at) if usual else NOT_ASKED
        if value is not NOT_ASKED:
            told[parameter.name] = value
    yield Say(partial(_answer, service, at, dict(told)))


def circumstances(world: World, **more: Any) -> Circumstances:
    """What is known when a service is asked in the talk."""
    at = Circumstances(world.knowledge, lambda: world.planning, world.household, world.units, world.said, world.plan)
    return replace(at, **{"ground": world.ground, "today": world.today, **more})


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
        return replies_of(loaded(service.answer)(at, told))
    except HouseholdError as error:
        return (amiss(error),)
