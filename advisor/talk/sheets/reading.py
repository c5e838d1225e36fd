"""Words of answers that several sheets read: names."""

from __future__ import annotations

from advisor.errors import HouseholdError

_LONGEST_NAME = 60


def name_said(text: str) -> str:
    """A name, in one line and not too long.

    Raises:
        HouseholdError: there is nothing of it.
    """
    name = " ".join(text.split()).strip("\"'“”‘’.,;:!? ")[:_LONGEST_NAME].strip()
    if not name:
        raise HouseholdError("that is no name", hint="any word will do, such as “by the fence”")
    return name
