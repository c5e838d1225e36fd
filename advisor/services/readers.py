"""What the words of an option or of an answer mean to a service. All raise HouseholdError where they mean nothing."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from advisor.errors import HouseholdError
from advisor.household.dimensions import read_room, read_volume
from advisor.household.holdings import holdings_told
from advisor.household.measuring import figures_told, read_figures
from advisor.household.shapes import Arrival, Holding, Room
from advisor.household.year import MOST_BAYS, arrivals_told
from advisor.safe_text import one_line
from advisor.services.figures import number_said
from advisor.services.shapes import Circumstances
from advisor.units import volume_text

if TYPE_CHECKING:
    from advisor.heap.bedding import Herd

WINTER_WEEKS = 26.0  # common practice, no source
_MOST_PEOPLE = 50
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


def arrivals(text: str, at: Circumstances) -> tuple[Arrival, ...]:
    """What comes in from month to month: "Apr-Oct: 3 buckets grass clippings a week"."""
    return arrivals_told(text, "", at.knowledge)


def bays(text: str, _at: Circumstances) -> int:
    """How many bins or bays, 1 to 12."""
    return round(number_said(text, 1, MOST_BAYS, "a number of bays"))


# ---------------------------------------------------------------- said back


def volume_heard(value: Any, at: Circumstances) -> str:
    """A volume said back."""
    return volume_text(value, at.units)
