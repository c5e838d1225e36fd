"""What comes in through a year: the table [year] of a household file.

[year]
begins = "September"          # the month the year begins with; the month of `start`, or September, if left out
storage = "1200 L"            # dry room for what keeps: leaves in sacks, flattened cardboard
bays = 2                      # bins or bays of the size of place.holds that may be filled in turn
arrives = [                   # months, a colon, and what comes in each week or month of them
    "Oct-Nov: 4 sacks dry leaves a week",
    "Apr-Oct: 2 buckets grass clippings a week",
    "Dec: 1 bag shredded paper",                  # once in those months
    "5 L kitchen scraps a week",                  # with no month: all year
]
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Final

from advisor.errors import HouseholdError
from advisor.household.days import MONTHS as NAMES
from advisor.household.days import month_number
from advisor.household.dimensions import read_volume
from advisor.household.holdings import holdings_told
from advisor.household.names import nearest
from advisor.household.shapes import Arrival, HouseholdYear
from advisor.household.tokens import shown
from advisor.knowledge.base import Knowledge

MONTHS: Final = tuple(name[:3] for name in NAMES)
_KEYS: Final = ("begins", "storage", "bays", "arrives")
_EVERY_MONTH: Final = "all year"
_SPAN = re.compile(r"^\s*(?P<months>[^:]*?)\s*:\s*(?P<rest>.+)$", re.DOTALL)
_BETWEEN = re.compile(r"(?:\s|-|–|\bto\b|\bthrough\b|\btill\b|\buntil\b)+")
_AROUND = re.compile(r"\b(?:from|in|only|and)\b")
#: "All year" as its first and its last month.
ALL_YEAR: Final = (1, 12)
MOST_BAYS: Final = 12
_MOST_STORED_L: Final = 1e6

#: Says where a key of the table, or an item of its value, stands.
Places = Callable[[str, str], str]


def read_year(table: Mapping[str, object], places: Places, knowledge: Knowledge) -> HouseholdYear:
    """The table, read strictly.

    Raises:
        HouseholdError: a key or a word is not known; the error says where.
    """
    for key in table:
        if key not in _KEYS:
            close = nearest(key, _KEYS)
            hint = f"did you mean '{close}'?" if close else f"there are {', '.join(_KEYS)}"
            raise HouseholdError(f"no key '{shown(key)}' in [year]", where=places(key, ""), hint=hint)
    begins = month_named(str(table["begins"]), places("begins", "")) if "begins" in table else None
    return HouseholdYear(
        arrivals=tuple(_arrivals(table.get("arrives", []), places, knowledge)),
        begins=begins,
        storage_l=_storage(table["storage"], places("storage", "")) if "storage" in table else None,
        bays=_bays(table.get("bays", 1), places("bays", "")),
    )


def month_named(text: str, where: str) -> int:
    """The number of a month, 1 to 12, from its name or the first three letters of it.

    Raises:
        HouseholdError: it is the name of none.
    """
    word = text.strip().casefold()
    if number := month_number(word):
        return number
    close = nearest(word, tuple(name.casefold() for name in NAMES))
    hint = f"did you mean {close.capitalize()}?" if close else "as in Oct or October"
    raise HouseholdError(f"'{shown(text.strip())}' is no month", where=where, hint=hint)


def arrival_text(arrival: Arrival) -> str:
    """An arrival as it is written in a file."""
    if arrival.all_year:
        return arrival.holding.said
    first, last = MONTHS[arrival.first - 1], MONTHS[arrival.last - 1]
    return f"{first if first == last else f'{first}-{last}'}: {arrival.holding.said}"


def write_year(year: HouseholdYear) -> Iterator[str]:
    """The lines of the table, which read back as the same."""
    import json

    if year.begins is not None:
        yield f'begins = "{MONTHS[year.begins - 1]}"'
    if year.storage_l is not None:
        yield f'storage = "{year.storage_l:.10g} L"'
    if year.bays != 1:
        yield f"bays = {year.bays}"
    if year.arrivals:
        yield "arrives = ["
        for arrival in year.arrivals:
            yield f"    {json.dumps(arrival_text(arrival), ensure_ascii=False)},"
        yield "]"


def _arrivals(raw: object, places: Places, knowledge: Knowledge) -> Iterator[Arrival]:
    entries: Sequence[object] = raw if isinstance(raw, list) else [raw]
    for entry in entries:
        if not isinstance(entry, str):
            hint = 'write it as in arrives = ["Oct-Nov: 4 sacks dry leaves a week"]'
            raise HouseholdError(
                f"'{shown(str(entry))}' is not an item in words", where=places("arrives", ""), hint=hint
            )
        yield from arrivals_told(entry, places("arrives", entry), knowledge)


def arrivals_told(text: str, where: str, knowledge: Knowledge) -> tuple[Arrival, ...]:
    """What comes in, in words: "Apr-Oct: 3 buckets grass clippings a week"; with no months, all year.

    Raises:
        HouseholdError: the months or the amounts cannot be understood.
    """
    match = _SPAN.match(text)
    months = match["months"] if match else _EVERY_MONTH
    first, last = ALL_YEAR if months.casefold() == _EVERY_MONTH else months_told(months, where)
    held = holdings_told(match["rest"] if match else text, knowledge, lambda _: where)
    return tuple(Arrival(first, last, holding) for holding in held)


def months_told(text: str, where: str) -> tuple[int, int]:
    """The first and the last of some months: "Oct", "from May to September".

    Raises:
        HouseholdError: they are none.
    """
    bare = _AROUND.sub(" ", text.casefold()).strip()
    parts = [part for part in _BETWEEN.split(bare) if part]
    if not 1 <= len(parts) <= 2:
        raise HouseholdError(f"'{shown(text)}' are no months", where=where, hint="as in Oct or Apr-Oct")
    numbers = [month_named(part, where) for part in parts]
    return numbers[0], numbers[-1]


def _storage(value: object, where: str) -> float:
    if isinstance(value, int | float) and not isinstance(value, bool):
        litres = float(value)
    elif isinstance(value, str):
        litres = read_volume(value, where)
    else:
        raise HouseholdError("storage is a volume", where=where, hint='as in storage = "1200 L"')
    return storage_within(litres, where)


def storage_within(litres: float, where: str) -> float:
    """The room for what keeps, if it can be. Raises HouseholdError."""
    if not 0 <= litres <= _MOST_STORED_L:
        raise HouseholdError(f"storage of {litres:g} L is out of all bounds", where=where, hint="0 to 1000 m3")
    return litres


def _bays(value: object, where: str) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= MOST_BAYS:
        raise HouseholdError(f"'{shown(str(value))}' is no number of bays", where=where, hint=f"1 to {MOST_BAYS}")
    return value
