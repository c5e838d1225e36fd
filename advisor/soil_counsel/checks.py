"""Each guided check: from what was measured to a figure, its published class, and the facts the rules read.

`read_check` is all that a talk or a screen needs beside the guide itself (`Knowledge.guides`), whose inputs say what
to ask.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from advisor.errors import HouseholdError
from advisor.knowledge.base import Knowledge
from advisor.soil_counsel import compost_checks, soil_checks
from advisor.soil_counsel.inputs import Values
from advisor.soil_counsel.reading import CheckRead, Told
from advisor.units import Units

__all__ = ["READERS", "CheckRead", "read_check"]

#: What reads each guide of rules/guides.toml.
READERS: Final[Mapping[str, Callable[[Told], CheckRead]]] = {**soil_checks.READERS, **compost_checks.READERS}


def read_check(guide: str, values: Values, knowledge: Knowledge, units: Units, where: str = "") -> CheckRead:
    """Work out one check.

    Args:
        guide: id of the guide.
        values: what `inputs.read_values` made of what was told.
        where: where it was told, for the error.

    Raises:
        HouseholdError: figures that cannot be.
        KeyError: no such guide.
    """
    try:
        return READERS[guide](Told(values, knowledge, units))
    except ValueError as error:
        raise HouseholdError(str(error), where=where or knowledge.guides[guide].name) from None
