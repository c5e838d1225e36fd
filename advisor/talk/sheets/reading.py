"""Words of answers that several sheets read: volumes and names."""

from __future__ import annotations

from advisor.errors import HouseholdError
from advisor.household.dimensions import read_volume
from advisor.talk.sheets.world import World

_LONGEST_NAME = 60


def volume_said(text: str, world: World) -> float:
    """A volume in litres: "400 L", "half a cubic metre", "6 barrows", "about 3 buckets".

    Raises:
        HouseholdError: it is none.
    """
    return read_volume(text, "", world.knowledge, world.household.measures)


def name_said(text: str) -> str:
    """A name, in one line and not too long.

    Raises:
        HouseholdError: there is nothing of it.
    """
    name = " ".join(text.split()).strip("\"'“”‘’.,;:!? ")[:_LONGEST_NAME].strip()
    if not name:
        raise HouseholdError("that is no name", hint="any word will do, such as “by the fence”")
    return name
