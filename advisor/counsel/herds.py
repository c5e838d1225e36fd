"""Animals in words: "6 hens", "two goats of 60 kg and a pony"."""

from __future__ import annotations

import re
from typing import Final

from advisor.errors import HouseholdError
from advisor.heap.bedding import ANIMALS, Herd
from advisor.household.names import nearest
from advisor.household.tokens import shown
from advisor.units import POUND_KG

_NUMBERS: Final = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
    "ten": 10, "dozen": 12, "twelve": 12, "twenty": 20,
}  # fmt: skip
_ITEM = re.compile(
    r"^(?P<count>\d+(?:\.\d+)?|[a-z]+)\s+(?P<name>[a-z ]+?)"
    r"(?:\s*(?:of|at|,|each)?\s*(?P<kg>\d+(?:\.\d+)?)\s*(?P<unit>kg|lb|lbs)(?:\s+each)?)?$"
)
_EXAMPLE: Final = "as in '6 hens' or '2 goats of 60 kg and 1 pony'"
#: No home herd is larger, and no animal outside these weights, in kg.
MOST_ANIMALS, LIGHTEST_KG, HEAVIEST_KG = 1000.0, 0.3, 1500.0


def herds_told(text: str) -> tuple[Herd, ...]:
    """The animals in a list in words.

    Raises:
        HouseholdError: something in it cannot be understood; the hint says how to put it.
    """
    parts = [
        part.strip()
        for part in re.split(
            r",(?!\s*\d+(?:\.\d+)?\s*(?:kg|lb))|;|\band\b|\+", text.casefold().replace("a dozen", "12")
        )
    ]
    found = [_herd(part) for part in parts if part]
    if not found:
        raise HouseholdError("no animals are named", where="--animals", hint=_EXAMPLE)
    return tuple(found)


def _herd(text: str) -> Herd:
    match = _ITEM.match(text)
    if match is None:
        raise HouseholdError(f"'{shown(text)}' is not understood", where="--animals", hint=_EXAMPLE)
    told = match["count"]
    if told in _NUMBERS:
        count = float(_NUMBERS[told])
    elif re.fullmatch(r"\d+(\.\d+)?", told):
        count = float(told)
    else:
        raise HouseholdError(f"'{shown(text)}' does not say how many", where="--animals", hint=_EXAMPLE)
    if not 1 <= count <= MOST_ANIMALS or count != int(count):
        hint = f"1 to {MOST_ANIMALS:g}"
        raise HouseholdError(f"{told} is no number of animals", where="--animals", hint=hint)
    live = None
    if match["kg"]:
        live = float(match["kg"]) * (1.0 if match["unit"] == "kg" else POUND_KG)
        if not LIGHTEST_KG <= live <= HEAVIEST_KG:
            hint = f"{LIGHTEST_KG:g} to {HEAVIEST_KG:g} kg each"
            raise HouseholdError(f"an animal of {live:g} kg", where="--animals", hint=hint)
    return Herd(_animal(match["name"].strip()), count, live)


def _animal(name: str) -> str:
    for animal, names in ANIMALS.items():
        if name in names:
            return animal
    everything = [each for names in ANIMALS.values() for each in names]
    close = nearest(name, everything)
    hint = f"did you mean {close}?" if close else f"there are {', '.join(ANIMALS)}"
    raise HouseholdError(f"no animal '{shown(name)}' is known", where="--animals", hint=hint)
