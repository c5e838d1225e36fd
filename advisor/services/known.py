"""What need not be asked of a parameter: each function finds its value in Circumstances.

It gives None where it must be asked, and NOT_ASKED where it is better left out.
"""

from __future__ import annotations

from advisor.errors import HouseholdError
from advisor.household.shapes import Holding
from advisor.services.readers import manure
from advisor.services.shapes import NOT_ASKED, Circumstances

_INSTEAD = (" instead of ", " for ", " replace ", " replaces ", " of having ")


def manure_in_words(at: Circumstances) -> tuple[Holding, ...] | None:
    """The manure named in the words that asked: "what can I use instead of 2 barrows of horse manure"."""
    for lead in _INSTEAD:
        _, found, rest = f" {at.said.casefold()} ".partition(lead)
        if found:
            try:
                return manure(rest.strip(" ?.!"), at)
            except HouseholdError:
                continue
    return None


def season_known(at: Circumstances) -> str | object | None:
    """The season in which the household starts; what it tells itself is known to the rules."""
    if at.household is None:
        return None
    if "place.season" in at.household.answers:
        return NOT_ASKED
    if at.household.start is not None:
        from advisor.counsel.seasons import season_of

        return season_of(at.household.start.month)
    return None


def space_known(at: Circumstances) -> str | None:
    """The space that the household has told, if a kitchen can be worked out for it."""
    from advisor.services.means import KITCHEN_SPACES

    told = at.household.answers.get("place.space", ()) if at.household is not None else ()
    return next((str(value) for value in told if value in KITCHEN_SPACES), None)


def size_known(at: Circumstances) -> object | None:
    """A heap that is planned has a size."""
    return NOT_ASKED if at.plan is not None else None


def stock_known(at: Circumstances) -> object | None:
    """What the household has is known."""
    return NOT_ASKED if at.household is not None and at.household.holdings else None


def arrivals_known(at: Circumstances) -> object | None:
    """What comes in is known by its months."""
    told = at.household.year if at.household is not None else None
    return NOT_ASKED if told is not None and told.arrivals else None


def storage_known(at: Circumstances) -> object | None:
    """The household has told of its room, and of its bays with it."""
    told = at.household.year if at.household is not None else None
    return NOT_ASKED if told is not None and told.storage_l is not None else None
