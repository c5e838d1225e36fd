"""Doors that lead to several sheets: what a person may want there, and the way on."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from advisor.services.table import DOORS, SERVICES
from advisor.talk.sheets.checking import check, trends
from advisor.talk.sheets.form import form
from advisor.talk.sheets.playing import Script, choice
from advisor.talk.sheets.world import World

SOIL = {service.door: service.offer for service in SERVICES if service.menu == "soil"}
MORE = {service.door: service.offer for service in SERVICES if service.menu == "more"}

#: Sheets that ask for more than the parameters of a service; of all others the form is made from the table.
_OWN: dict[str, Callable[[World], Script]] = {
    "check": check,
    "trends": trends,
}

SHEETS: dict[str, Callable[[World], Script]] = {
    **{door: _OWN.get(door) or partial(form, service) for door, service in DOORS.items()},
    "no-manure": partial(form, DOORS["instead"]),
}


def soil(world: World) -> Script:
    """What the soil needs."""
    wanted = yield choice("What about the soil?", "Compost is the means; living soil is the end.", SOIL)
    yield from SHEETS[wanted or "check"](world)


def more(world: World) -> Script:
    """What there is besides."""
    wanted = yield choice("What else?", "Each has questions of its own.", MORE)
    if wanted is not None:
        yield from SHEETS[wanted](world)
