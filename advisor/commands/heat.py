"""`heapwright heat`: how hot a heap can get, when, for how long, and what its readings mean."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_household, add_shown, figure_told, household_told, volume_told

if TYPE_CHECKING:
    from advisor.counsel.heat import HeatAsked
    from advisor.knowledge.base import Knowledge

_MONTHS_A_YEAR = 12


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    add_household(parser)
    heap = parser.add_argument_group("the heap")
    heap.add_argument("--litres", metavar="SIZE", help="how big, of the same mix: '1 m3' (all that is told)")
    heap.add_argument(
        "--moisture",
        type=float,
        metavar="PERCENT",
        help="it is watered to this moisture (58); 0: not watered",
    )
    heap.add_argument("--insulated", metavar="THICKNESS", help="foam, or something as good, around it: '5 cm'")
    heap.add_argument("--fed", metavar="TIME", help="how long it took to fill, bit by bit: '8 weeks'")
    heap.add_argument("--turned", metavar="DAYS", help="days on which it was or will be turned: '4 8 12'")
    heap.add_argument("--unturned", action="store_true", help="it will not be turned again")
    air = parser.add_argument_group("the air")
    air.add_argument("--month", metavar="MONTH", help="when it is built: January")
    air.add_argument("--like", metavar="PLACE", help="a climate by name or place: oceanic, London, desert")
    air.add_argument("--latitude", type=float, metavar="DEGREES", help="north; south with a minus")
    air.add_argument("--monthly", metavar="FIGURES", help="twelve mean temperatures, January first, with commas")
    air.add_argument("--air", metavar="HEAT", help="the air if it stays the same all the time: '20 C'")
    read = parser.add_argument_group("what was read")
    read.add_argument("--readings", metavar="LOG", help="'days=1 2 3 degrees=40 58 61'; and turned=2 if it was")
    add_shown(parser)


def run(arguments: argparse.Namespace) -> int:
    """Print the heat that is foreseen."""
    from advisor.counsel.heat_shapes import HeatAnswer

    if arguments.schema:
        return show_schema(HeatAnswer)
    from advisor.counsel.heat import heat_answer
    from advisor.counsel.in_use import in_use

    knowledge = in_use()
    household = household_told(arguments, knowledge)
    found = heat_answer(household, knowledge, _asked(arguments, knowledge), units=arguments.units)
    return show(found, arguments)


def _asked(arguments: argparse.Namespace, knowledge: Knowledge) -> HeatAsked:
    from advisor.counsel.heat import HeatAsked
    from advisor.soil.sanitising import Reading
    from advisor.soil_counsel.checks import read_check
    from advisor.soil_counsel.ground import check_told
    from advisor.soil_counsel.ready import log_of

    readings: tuple[Reading, ...] = ()
    turned = _days(arguments.turned) if arguments.turned else ()
    if arguments.readings:
        check = check_told(f"heat {arguments.readings}", knowledge, "--readings", "", None, arguments.units)
        read_check(check.guide, check.values, knowledge, arguments.units)  # refuses days and readings that cannot be
        log = log_of(check)
        readings = tuple(Reading(day, celsius) for day, celsius in zip(log.days, log.celsius, strict=True))
        turned = tuple(sorted({*turned, *log.turned}))
    return HeatAsked(
        climate=arguments.like or "",
        latitude=_latitude(arguments.latitude),
        months=_monthly(arguments.monthly, arguments.units),
        air_c=_heat(arguments.air, "--air", arguments.units),
        month=_month(arguments.month),
        litres=volume_told(arguments.litres, "--litres", knowledge) if arguments.litres else None,
        moisture=arguments.moisture,
        insulated_mm=_thickness(arguments.insulated),
        fed_days=7.0 * figure_told(arguments.fed, "--fed", "time", "weeks", "0 to 104") if arguments.fed else 0.0,
        turned=turned,
        never=arguments.unturned,
        readings=readings,
    )


def _days(text: str) -> tuple[float, ...]:
    from advisor.household.measuring import read_figures

    days = read_figures(text, "number", "", "--turned", "days since it was built, such as '4 8 12'")
    return tuple(sorted(days))


def _heat(text: str | None, option: str, units: str) -> float | None:
    from advisor.errors import UsageError
    from advisor.household.measuring import read_figures

    if text is None:
        return None
    found = read_figures(text, "temperature", "°C" if units == "metric" else "°F", option, "a temperature: '20 C'")
    if len(found) != 1 or not -60 <= found[0] <= 60:
        raise UsageError(f"{option} takes one temperature of the air, not '{text}'", hint="from -60 to 60 °C")
    return found[0]


def _thickness(text: str | None) -> float:
    from advisor.errors import UsageError

    metres = figure_told(text, "--insulated", "length", "m") if text else 0.0
    if not 0 <= metres <= 1:
        raise UsageError(f"--insulated {text} cannot be", hint="from 0 to 1 m, such as '5 cm'")
    return 1000.0 * metres


def _latitude(degrees: float | None) -> float | None:
    from advisor.errors import UsageError

    if degrees is not None and not -90 <= degrees <= 90:
        raise UsageError(f"--latitude {degrees:g} cannot be", hint="from -90 to 90")
    return degrees


def _month(text: str | None) -> float | None:
    from advisor.errors import UsageError
    from advisor.household.days import month_number

    if text is None:
        return None
    number = month_number(text)
    if not number:
        raise UsageError(f"'{text}' is no month", hint="such as January")
    return number - 0.5


def _monthly(text: str | None, units: str) -> tuple[float, ...]:
    from advisor.errors import UsageError

    if text is None:
        return ()
    try:
        figures = [float(word) for word in text.split(",")]
    except ValueError:
        figures = []
    celsius = [(each - 32) / 1.8 if units == "us" else each for each in figures]
    if len(celsius) != _MONTHS_A_YEAR or not all(-60 <= each <= 60 for each in celsius):
        raise UsageError(
            "--monthly takes twelve temperatures with commas", hint="as in --monthly=5,5,7,10,13,16,18,18,15,12,8,6"
        )
    return tuple(celsius)
