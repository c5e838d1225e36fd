"""Mixes told in parts: "3 parts grass, 1 part sawdust", "equal parts leaves and grass", "3:1 leaves to grass"."""

from __future__ import annotations

import re
from typing import Final

from advisor.errors import HouseholdError
from advisor.household.amounts import split_list
from advisor.household.counts import value_at
from advisor.household.names import find_material
from advisor.household.tokens import shown, tokenize
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

#: Where people say only "browns" or "greens", the commonest of each stands for them (common practice, no source).
_STANDS_FOR: Final = {
    "brown": "dry-leaves",
    "browns": "dry-leaves",
    "brown stuff": "dry-leaves",
    "carbon": "dry-leaves",
    "green": "grass-clippings",
    "greens": "grass-clippings",
    "green stuff": "grass-clippings",
    "nitrogen": "grass-clippings",
}
_EQUAL: Final = re.compile(r"\s*(?:equal|same)\s+(?:parts|amounts|volumes|weights)\s+(?:of\s+)?", re.IGNORECASE)
_RATIO: Final = re.compile(
    r"\s*(?P<one>\d+(?:\.\d+)?)\s*(?::|to)\s*(?P<two>\d+(?:\.\d+)?)\s+(?:of\s+)?(?P<first>.+?)\s+(?:to|and)\s+"
    r"(?P<second>.+)",
    re.IGNORECASE,
)
_JOINED_BY_TO: Final = re.compile(r"\s+to\s+(?=\d|one\b|a\b)", re.IGNORECASE)
_PART: Final = re.compile(r"^\s*(?:parts?|shares?|volumes?)\b\s*(?:of\s+)?", re.IGNORECASE)
_MOST: Final = 1e6
_EXAMPLE: Final = "write it as in '3 parts grass clippings, 1 part sawdust'"


@dataclass(frozen=True, slots=True)
class PartTold:
    """So many parts of a material. `stands_for` is what was said where it named only browns or greens."""

    material: str
    parts: float
    said: str
    stands_for: str = ""


def parts_told(text: str, knowledge: Knowledge, where: str = "--parts") -> tuple[PartTold, ...]:
    """The parts of a mix, in the order told.

    Raises:
        HouseholdError: a part has no number or no material, a material comes twice, or there is no part.
    """
    ratio = _RATIO.fullmatch(text)
    equal = _EQUAL.match(text)
    if ratio:
        items = [(float(ratio["one"]), ratio["first"]), (float(ratio["two"]), ratio["second"])]
    elif equal:
        items = [(1.0, name) for name in split_list(text[equal.end() :], knowledge)]
    else:
        items = [_counted(item, where) for item in split_list(_JOINED_BY_TO.sub(", ", text), knowledge)]
    if not items:
        raise HouseholdError(f"'{shown(text)}' names no parts", where=where, hint=_EXAMPLE)
    found = [_part(count, name, knowledge, where) for count, name in items]
    for number, part in enumerate(found):
        if any(part.material == other.material for other in found[:number]):
            raise HouseholdError(f"'{shown(part.said)}' is told twice", where=where, hint="add the two up")
    return tuple(found)


def _counted(item: str, where: str) -> tuple[float, str]:
    tokens = tokenize(item)
    number = value_at(tokens, 0)
    if number is None or number[1] >= len(tokens):
        raise HouseholdError(f"'{shown(item)}' does not say how many parts of what", where=where, hint=_EXAMPLE)
    name = _PART.sub("", item[tokens[number[1]].start :])
    return number[0].value, name


def _part(count: float, name: str, knowledge: Knowledge, where: str) -> PartTold:
    if not 0 < count <= _MOST:
        raise HouseholdError(f"'{count:g}' parts of '{shown(name)}' cannot be", where=where, hint=_EXAMPLE)
    said = name.strip()
    stand_in = _STANDS_FOR.get(said.lower())
    if stand_in is not None:
        return PartTold(stand_in, count, said, said.lower())
    match = find_material(said, knowledge)
    if not match.found:
        hint = f"did you mean {match.candidates[0]}?" if match.candidates else _EXAMPLE
        raise HouseholdError(f"no single material is called '{shown(said)}'", where=where, hint=hint)
    return PartTold(match.id, count, said)
