"""What the words of an option or of an answer mean to a service. All raise HouseholdError where they mean nothing."""

from __future__ import annotations

import re
from datetime import date
from typing import TYPE_CHECKING, Any

from advisor.errors import HouseholdError
from advisor.household.days import MonthDay, month_day, month_number
from advisor.household.dimensions import read_room, read_volume
from advisor.household.holdings import holdings_told
from advisor.household.measuring import figures_told, read_figures
from advisor.household.parts import PartTold, parts_told
from advisor.household.shapes import Arrival, Holding, Room
from advisor.household.year import MOST_BAYS, arrivals_told, storage_within
from advisor.safe_text import one_line
from advisor.services.figures import number_said
from advisor.services.shapes import NO_FROST, Circumstances
from advisor.units import volume_text

if TYPE_CHECKING:
    from advisor.heap.bedding import Herd
    from advisor.hearing.shapes import Heard
    from advisor.soil_counsel.ground import CheckTold
    from advisor.soil_counsel.shapes import HeatLog

WINTER_WEEKS = 26.0  # common practice, no source
_MOST_PEOPLE = 50
_MONTHS_A_YEAR = 12
_BIGGEST_L = 1_000_000.0
_LEADS = re.compile(r"^(?:we've|i've|i have|we have|i keep|we keep|got|about|there are|my|our)\s+", re.IGNORECASE)


def herds(text: str, _at: Circumstances) -> tuple[Herd, ...]:
    """Animals and how many: "6 hens", "we have 2 goats of 60 kg and 1 pony"."""
    from advisor.counsel.herds import herds_told

    bare = text.strip().rstrip(".!")
    while (rest := _LEADS.sub("", bare)) != bare:
        bare = rest
    try:
        return herds_told(bare)
    except HouseholdError as error:
        raise HouseholdError(error.message, hint=error.hint) from None


def weeks_on_bedding(text: str, _at: Circumstances) -> float:
    """Weeks, 1 to 60: "20", "6 months", "all winter"."""
    if re.search(r"\bwinter\b", text, re.IGNORECASE) and not any(sign.isdigit() for sign in text):
        return WINTER_WEEKS
    return round(number_said(text, 1, 60, "weeks"), 1)


def share(text: str, _at: Circumstances) -> float:
    """A share told in percent, 1 to 100."""
    return number_said(text.replace("%", " "), 1, 100, "percent") / 100


def floor(text: str, at: Circumstances) -> float:
    """A floor in square metres, told as an area or as two sides."""
    hint = "0.1 to 10000 m2, as in 12 m2 or 3 x 4 m"
    if figures_told(text, "area") is not None:
        return read_figures(text, "area", "sq ft" if at.units == "us" else "m2", "", "as in 12 m2 or 3 x 4 m")[0]
    try:
        room = read_room(text, "")
    except HouseholdError:
        raise HouseholdError(f"'{one_line(text, 60)}' is no floor", hint=hint) from None
    return room.length_m * room.width_m if isinstance(room, Room) else room


def longest_row(text: str, at: Circumstances) -> float:
    """A length in metres, 1 to 1000."""
    unit = "ft" if at.units == "us" else "m"
    hint = f"a figure in {unit}, or in another unit that is named: 1 to 1000 m"
    found = read_figures(text, "length", unit, "", hint)
    if len(found) != 1 or not 1 <= found[0] <= 1000:
        raise HouseholdError(f"'{one_line(text, 60)}' is no length of a row", hint=hint)
    return found[0]


def people(text: str, _at: Circumstances) -> float:
    """How many eat at home, 1 to 50."""
    return number_said(text, 1, _MOST_PEOPLE, "people")


def month(text: str, _at: Circumstances) -> int:
    """A month by its number, 1 to 12."""
    return round(number_said(text, 1, 12, "month"))


def stock(text: str, at: Circumstances) -> tuple[Holding, ...]:
    """Materials with their amounts."""
    return holdings_told(text, at.knowledge, lambda _: "")


def manure(text: str, at: Circumstances) -> tuple[Holding, ...]:
    """Amounts of one or several manures."""
    from advisor.counsel.candidates import is_manure

    found = stock(text, at)
    for holding in found:
        material = at.knowledge.materials[holding.material]
        if not is_manure(material):
            raise HouseholdError(f"{material.name} is no manure", hint="say as in 2 barrows of horse manure")
    return found


def volume(text: str, at: Circumstances) -> float:
    """A volume in litres: "400 L", "6 barrows"; a bare figure is litres."""
    bare = figures_told(text, "number") or ()
    if len(bare) == 1:
        return bare[0].value
    try:
        return room(text, at)
    except HouseholdError:
        hint = "1 to 100000 L, as in 400 L, 6 barrows or 1 m3"
        raise HouseholdError(f"'{one_line(text, 60)}' is not a volume", hint=hint) from None


def room(text: str, at: Circumstances) -> float:
    """A volume in litres, its unit named: "400 L", "half a cubic metre", "6 barrows"."""
    return read_volume(text, "", at.knowledge, at.household.measures if at.household is not None else {})


def storage(text: str, at: Circumstances) -> float:
    """Room for what keeps in litres, its unit named."""
    return storage_within(room(text, at), "")


def arrivals(text: str, at: Circumstances) -> tuple[Arrival, ...]:
    """What comes in from month to month: "Apr-Oct: 3 buckets grass clippings a week"."""
    return arrivals_told(text, "", at.knowledge)


def bays(text: str, _at: Circumstances) -> int:
    """How many bins or bays, 1 to 12."""
    return round(number_said(text, 1, MOST_BAYS, "a number of bays"))


# ---------------------------------------------------------------- a mix, and what ails it


def parts(text: str, at: Circumstances) -> tuple[PartTold, ...]:
    """A mix in parts: "3 parts grass, 1 part sawdust"."""
    return parts_told(text, at.knowledge)


def ratio(text: str, _at: Circumstances) -> float:
    """A C:N, 5 to 200."""
    return number_said(text, 5, 200, "C:N")


def moisture_goal(text: str, _at: Circumstances) -> float:
    """A moisture to come to in percent, 5 to 95."""
    return number_said(text.replace("%", " "), 5, 95, "percent")


def materials(text: str, at: Circumstances) -> tuple[str, ...]:
    """The ids of materials, their names parted by commas."""
    from advisor.household.amounts import split_list
    from advisor.household.names import find_material

    found = []
    for name in split_list(text, at.knowledge):
        match = find_material(name, at.knowledge)
        if not match.found:
            hint = f"did you mean {match.candidates[0]}?" if match.candidates else "see heapwright materials"
            raise HouseholdError(f"no single material is called '{name}'", hint=hint)
        found.append(match.id)
    return tuple(found)


def container(text: str, at: Circumstances) -> float:
    """The room of a container in litres, 1 to a million."""
    litres = volume(text, at)
    if not 1 <= litres <= _BIGGEST_L:
        raise HouseholdError(f"{litres:g} L cannot be", hint=f"it lies between 1 and {_BIGGEST_L:g}")
    return litres


def grams(text: str, _at: Circumstances) -> tuple[float, float, float]:
    """Grams before and after drying, and of the dish, which may be left out: "14,6.3,4"."""
    found = _floats(text)
    return _three((*found, 0.0) if len(found) == 2 else found, text, "14,6.3,4")


def bucket(text: str, _at: Circumstances) -> tuple[float, float, float]:
    """Kilograms of a bucket full and empty, and its litres: "10,1,20"."""
    return _three(_floats(text), text, "10,1,20")


def _three(found: tuple[float, ...], text: str, example: str) -> tuple[float, float, float]:
    if len(found) != 3:
        raise HouseholdError(f"three figures are asked for, not '{one_line(text, 60)}'", hint=f"as in {example}")
    return found[0], found[1], found[2]


def signs(text: str, at: Circumstances) -> Heard:
    """What is seen, smelt and felt."""
    from advisor.hearing.hear import hear

    return hear(text, at.knowledge)


# ---------------------------------------------------------------- a heap and its air


def percent(text: str, _at: Circumstances) -> float:
    """A percentage, 0 to 100."""
    return number_said(text.replace("%", " "), 0, 100, "percent")


def thickness(text: str, _at: Circumstances) -> float:
    """A thickness in metres, 0 to 1, its unit named."""
    found = read_figures(text, "length", "m", "", "a thickness, such as '5 cm'")
    if len(found) != 1 or not 0 <= found[0] <= 1:
        raise HouseholdError(f"{one_line(text, 60)} cannot be", hint="from 0 to 1 m, such as '5 cm'")
    return found[0]


def days_since(text: str, _at: Circumstances) -> tuple[float, ...]:
    """Days since it was built: "4 8 12"."""
    return tuple(sorted(read_figures(text, "number", "", "", "days since it was built, such as '4 8 12'")))


def month_named(text: str, _at: Circumstances) -> float:
    """The middle of a month, in months from the start of January."""
    number = month_number(text)
    if not number:
        raise HouseholdError(f"'{one_line(text, 60)}' is no month", hint="such as January")
    return number - 0.5


def latitude(text: str, _at: Circumstances) -> float:
    """Degrees north, -90 to 90."""
    degrees = _floats(text)
    if len(degrees) != 1:
        raise HouseholdError(f"'{one_line(text, 60)}' is not a number")
    if not -90 <= degrees[0] <= 90:
        raise HouseholdError(f"{degrees[0]:g} cannot be", hint="from -90 to 90")
    return degrees[0]


def twelve_months(text: str, at: Circumstances) -> tuple[float, ...]:
    """Twelve temperatures in °C, January first, parted by commas; bare figures are in the units asked for."""
    celsius = tuple((each - 32) / 1.8 if at.units == "us" else each for each in _floats(text))
    if len(celsius) != _MONTHS_A_YEAR or not all(-60 <= each <= 60 for each in celsius):
        hint = "as in --monthly=5,5,7,10,13,16,18,18,15,12,8,6"
        raise HouseholdError("twelve temperatures are asked for, with commas", hint=hint)
    return celsius


def air(text: str, at: Circumstances) -> float:
    """A temperature of the air in °C, -60 to 60; a bare figure is in the units asked for."""
    found = read_figures(text, "temperature", "°F" if at.units == "us" else "°C", "", "a temperature: '20 C'")
    if len(found) != 1 or not -60 <= found[0] <= 60:
        raise HouseholdError(f"one temperature of the air is asked for, not '{text}'", hint="from -60 to 60 °C")
    return found[0]


def heat_log(text: str, at: Circumstances) -> HeatLog:
    """Readings of a heap: "days=1 2 3 degrees=40 58 61", and "turned=2" if it was."""
    from advisor.soil_counsel.checks import read_check
    from advisor.soil_counsel.ground import check_told
    from advisor.soil_counsel.ready import log_of

    check = check_told(f"heat {text}", at.knowledge, "", "", None, at.units)
    read_check(check.guide, check.values, at.knowledge, at.units)  # refuses days and readings that cannot be
    return log_of(check)


def _floats(text: str) -> tuple[float, ...]:
    """Plain figures parted by commas; none if one of them is none."""
    try:
        return tuple(float(word) for word in text.split(","))
    except ValueError:
        return ()


# ---------------------------------------------------------------- compost and the soil


def weeks(text: str, _at: Circumstances) -> float:
    """Weeks, 0 to 1000: "6", "2 months", "none"."""
    return round(number_said(text, 0, 1000, "weeks"), 1)


def day(text: str, at: Circumstances) -> date:
    """A day that has been: "2026-04-01", "1 April", "yesterday"."""
    from advisor.hearing.days import read_day

    return read_day(text, "", at.knowledge, at.today)


def day_ahead(text: str, at: Circumstances) -> date:
    """A day that may be still to come."""
    from advisor.hearing.days import read_day

    return read_day(text, "", at.knowledge, at.today, ahead=True)


def frost(text: str, _at: Circumstances) -> MonthDay | str:
    """A day of the year: "04-20", "20 April", "mid October"."""
    return NO_FROST if text == NO_FROST else month_day(text, "")


def seasons_number(text: str, _at: Circumstances) -> int:
    """How many seasons, 1 to 10."""
    return round(number_said(text, 1, 10, "seasons"))


def method(text: str, at: Circumstances) -> str:
    """A way of composting by its id."""
    from advisor.knowledge.hints import hint

    if text not in at.knowledge.methods:
        raise HouseholdError(f"there is no method '{text}'", hint=hint(text, at.knowledge.methods))
    return text


def heap_size(text: str, at: Circumstances) -> float:
    """What a heap holds in litres, more than nothing."""
    litres = room(text, at)
    if not litres > 0:
        raise HouseholdError("a heap holds something", hint="write it as in '1 m3'")
    return litres


def lot(text: str, _at: Circumstances) -> float:
    """An area in square metres, its unit named."""
    from advisor.soil_counsel.plain_told import area_m2

    return area_m2(text, "")


def soil_check(text: str, at: Circumstances) -> CheckTold:
    """A check of the soil: "spade scores=2 4 depths=10 15 cm"."""
    return _check(text, at, "soil", "is a test of compost", "ask `heapwright ready`")


def compost_check(text: str, at: Circumstances) -> CheckTold:
    """A test of finished compost: "radish sown=15 grown=12"."""
    return _check(text, at, "compost", "is a check of the soil", "ask `heapwright soil`")


def _check(text: str, at: Circumstances, of: str, other: str, hint: str) -> CheckTold:
    from advisor.soil_counsel.ground import check_told

    found = check_told(text, at.knowledge, "", "", None, at.units)
    if at.knowledge.guides[found.guide].of != of:
        raise HouseholdError(f"'{found.guide}' {other}", hint=hint)
    return found


# ---------------------------------------------------------------- said back


def volume_heard(value: Any, at: Circumstances) -> str:
    """A volume said back."""
    return volume_text(value, at.units)
