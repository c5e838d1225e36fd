"""What need not be asked of a parameter: each function finds its value in Circumstances.

It gives None where it must be asked, and NOT_ASKED where it is better left out.
"""

from __future__ import annotations

from datetime import date

from advisor.errors import HouseholdError
from advisor.household.shapes import Holding
from advisor.services.readers import manure
from advisor.services.shapes import NO_FROST, NOT_ASKED, Circumstances

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


def parts_by(at: Circumstances) -> str | None:
    """What the parts are is asked where parts were told."""
    return None if "parts" in at.told else "volume"


def arrivals_known(at: Circumstances) -> object | None:
    """What comes in is known by its months."""
    told = at.household.year if at.household is not None else None
    return NOT_ASKED if told is not None and told.arrivals else None


def storage_known(at: Circumstances) -> object | None:
    """The household has told of its room, and of its bays with it."""
    told = at.household.year if at.household is not None else None
    return NOT_ASKED if told is not None and told.storage_l is not None else None


def no_manure(at: Circumstances) -> object | None:
    """Where no manure went in, none was worked in raw."""
    return None if "manure" in at.told.get("holds", ()) else NOT_ASKED


def pots_wanted(at: Circumstances) -> object | None:
    """How much potting mix is asked for where some is to be made."""
    return None if "pots" in at.told.get("mixes", ()) else NOT_ASKED


def seed_trays_wanted(at: Circumstances) -> object | None:
    """How much mix for seed trays is asked for where some is to be made."""
    return None if "seeds" in at.told.get("mixes", ()) else NOT_ASKED


def method_planned(at: Circumstances) -> str | None:
    """How the heap is made that is planned."""
    return at.plan.choice.method if _heap_planned(at) and at.plan is not None else None


def heap_planned(at: Circumstances) -> float | None:
    """What the heap holds that is planned."""
    if not _heap_planned(at) or at.plan is None:
        return None
    return next((gauge.spread.typical for gauge in at.plan.recipe.gauges if gauge.what == "volume"), 0.0) or None


def _heap_planned(at: Circumstances) -> bool:
    return at.plan is not None and at.plan.choice.method != "collection"


def frosts_known(at: Circumstances) -> object | None:
    """The frosts of the place are known, or that it has none."""
    known = at.ground is not None and (at.ground.last_frost is not None or at.ground.frost_free)
    return NOT_ASKED if known or at.told.get("frost-free") else None


def first_frost_known(at: Circumstances) -> object | None:
    """The first frost is asked for where a last one was told, and no other is known."""
    asked = at.told.get("last-frost") not in (None, NO_FROST)
    return None if asked and (at.ground is None or at.ground.first_frost is None) else NOT_ASKED


def start_known(at: Circumstances) -> date:
    """The day from which a ground is planned, or today."""
    return (at.ground.starts if at.ground is not None else None) or at.today
