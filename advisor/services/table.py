"""The services, each with all that is said of it. Help and completion read no more than this."""

from __future__ import annotations

from advisor.services import heaps, means, soils
from advisor.services.shapes import Service

SERVICES: tuple[Service, ...] = (
    heaps.PLAN,
    heaps.BLEND,
    heaps.YEAR,
    heaps.PACES,
    heaps.HEAT,
    means.KITCHEN,
    means.SUBSTITUTES,
    means.BEDDING,
    means.ADDITIONS,
    heaps.DIAGNOSE,
    soils.READY,
    soils.SPREAD,
    soils.SOIL,
    soils.TRENDS,
    soils.SEASONS,
)

#: By the words of the command line, and by the doors of the talk.
COMMANDS = {service.command: service for service in SERVICES if service.command}
DOORS = {service.door: service for service in SERVICES if service.door}
