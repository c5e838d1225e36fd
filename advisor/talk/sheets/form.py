"""The form of any service whose parameters stand in the table: what is not known is asked, then it is answered."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import Any

from advisor.counsel.in_use import local_lines
from advisor.errors import HouseholdError
from advisor.papers.page import table_lines
from advisor.papers.paper import Table, paper_of
from advisor.papers.sections import Section
from advisor.services.shapes import NOT_ASKED, Circumstances, Parameter, Service, loaded, reader
from advisor.talk.replies import Reply
from advisor.talk.sheets.playing import Blank, Say, Script, choice, figure
from advisor.talk.sheets.world import World, amiss, in_parts


def form(service: Service, world: World) -> Script:
    """Ask for what a service must be told, and answer.

    Every parameter that has a question is asked in the order of the table, unless the circumstances know it; "I don't
    know" takes what is usual.
    """
    at = Circumstances(world.knowledge, world.planning, world.household, world.units, world.said, world.plan)
    told: dict[str, Any] = {}
    for parameter in service.parameters:
        value = reader(parameter.known)(at) if parameter.known else None
        if value is None and parameter.ask:
            value = yield _blank(parameter, at)
            if isinstance(value, str) and value in parameter.offered:
                value = parameter.value(value, at)
        if value is None:
            usual = parameter.usual or parameter.unknown
            value = parameter.value(usual, at) if usual else NOT_ASKED
        if value is not NOT_ASKED:
            told[parameter.name] = value
    yield Say(partial(_answer, service, at, told))


def _blank(parameter: Parameter, at: Circumstances) -> Blank:
    def read(text: str) -> Any:
        return parameter.value(text, at)

    if parameter.offered:
        kind, _, attribute = parameter.words_of.partition(".")
        known = at.knowledge.kinds[kind].attributes[attribute].words if kind else {}
        words = {value: text or known[value] for value, text in parameter.offered.items()}
        return choice(parameter.ask, parameter.why, words, also=read if parameter.read else None)
    heard = (lambda value: str(reader(parameter.heard)(value, at))) if parameter.heard else None
    needed = bool(parameter.needed) and not parameter.unknown
    return figure(parameter.ask, parameter.why, read, heard=heard, needed=needed, loose=parameter.loose)


def _answer(service: Service, at: Circumstances, told: Mapping[str, Any]) -> tuple[Reply, ...]:
    try:
        found = loaded(service.answer)(at, told)
    except HouseholdError as error:
        return (amiss(error),)
    replies: list[Reply] = []
    for part in paper_of(found, local=local_lines(at.knowledge)).parts:
        if isinstance(part, Section):
            replies += in_parts([part])
        elif isinstance(part, Table):
            replies.append(Reply("verdict", "\n".join([f"{part.title}:", *table_lines(part)])))
    return tuple(replies)
