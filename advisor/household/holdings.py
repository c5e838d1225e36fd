"""What is on hand, from words or from entries the program wrote itself, all or nothing: no item is ever dropped."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Final, get_args

from advisor.errors import HouseholdError
from advisor.household.amounts import Phrase, read_list
from advisor.household.names import Match, find_material, nearest
from advisor.household.shapes import EXACT_UNITS, Holding, Per, Quantity
from advisor.household.tokens import shown
from advisor.knowledge.base import Knowledge

#: Says where in a file or on the command line a text stands.
Where = Callable[[str], str]

_NOTHING: Final = frozenset({"nothing", "none", "nothing yet", ""})
_PERS: Final = get_args(Per)
_ENTRY_KEYS: Final = ("material", "count", "measure", "low", "high", "per", "packed", "said")


def holdings_told(text: str, knowledge: Knowledge, where: Where) -> tuple[Holding, ...]:
    """The holdings in a list in words, such as "3 sacks dry leaves, 2 buckets coffee grounds a week".

    Raises:
        HouseholdError: something in it cannot be understood or could be several things; the error says where.
    """
    if text.strip().casefold() in _NOTHING:
        return ()
    try:
        phrases = read_list(text, knowledge)
    except HouseholdError as error:
        raise HouseholdError(f"{error.where}: {error.message}", where=where(text), hint=error.hint) from None
    if not phrases:
        raise HouseholdError(f"'{shown(text)}' names nothing", where=where(text), hint=_EXAMPLE)
    return tuple(_holding(phrase, knowledge, where(text)) for phrase in phrases)


_EXAMPLE: Final = "write it as in '3 sacks dry leaves'"


def _holding(phrase: Phrase, knowledge: Knowledge, where: str) -> Holding:
    said = shown(phrase.said)
    if phrase.trouble:
        raise HouseholdError(f"'{said}': {phrase.trouble}", where=where, hint=phrase.hint)
    if not phrase.name:
        hint = _EXAMPLE if phrase.quantity is not None else "leave it out if there is nothing to say"
        raise HouseholdError(f"'{said}' does not say of what", where=where, hint=hint)
    if phrase.left:
        hint = "put a comma between two materials, and say only amount, material and how often"
        raise HouseholdError(f"'{shown(phrase.left[0])}' is not understood in '{said}'", where=where, hint=hint)
    match = find_material(phrase.name, knowledge)
    if not match.found:
        raise _unsure(phrase, match, where)
    if phrase.quantity is None:
        raise HouseholdError(f"'{said}' does not say how much", where=where, hint=_EXAMPLE)
    return Holding(match.id, phrase.quantity, phrase.said)


def _unsure(phrase: Phrase, match: Match, where: str) -> HouseholdError:
    name = shown(phrase.name)
    if phrase.none:
        return HouseholdError(f"no single material is called '{name}'", where=where, hint="leave out what is not there")
    if match.kind == "ask" and len(match.candidates) > 1:
        hint = f"say {_either(match.candidates)}"
        return HouseholdError(f"'{name}' can be more than one material", where=where, hint=hint)
    hint = _EXAMPLE
    if match.candidates:
        names = _either(match.candidates)
        hint = f"did you mean {names}?" if match.kind == "ask" else f"the nearest are {names}"
    return HouseholdError(f"no material '{name}'", where=where, hint=hint)


def _either(ids: Sequence[str]) -> str:
    *others, last = ids
    return f"{', '.join(others)} or {last}" if others else last


# ---------------------------------------------------------------- entries the program writes


def holding_entered(entry: Mapping[str, object], knowledge: Knowledge, where: str) -> Holding:
    """A holding written out, as `write_household` does where the words alone would not read back the same.

    Raises:
        HouseholdError: a key is missing, strange or of the wrong kind; the error says where.
    """
    for key in entry:
        if key not in _ENTRY_KEYS:
            hint = f"did you mean '{nearest(key, _ENTRY_KEYS)}'?" if nearest(key, _ENTRY_KEYS) else _keys_hint()
            raise HouseholdError(f"no key '{shown(key)}' in an entry", where=where, hint=hint)
    material = _word(entry, "material", knowledge.materials, where)
    measure = _word(entry, "measure", (*EXACT_UNITS, *knowledge.measures), where)
    per = _word(entry, "per", _PERS, where) if "per" in entry else "once"
    count = _number(entry, "count", where)
    low = _number(entry, "low", where) if "low" in entry else count
    high = _number(entry, "high", where) if "high" in entry else count
    packed, said = entry.get("packed", False), entry.get("said", f"{count:g} {measure} {material}")
    if not isinstance(packed, bool):
        raise HouseholdError("packed is true or false", where=where)
    if not isinstance(said, str):
        raise HouseholdError("said is a text", where=where)
    if not low <= count <= high:
        raise HouseholdError("needs low <= count <= high", where=where)
    return Holding(material, Quantity(count, low, high, measure, _per(per), packed), said)


def _per(word: str) -> Per:
    known: dict[str, Per] = {"once": "once", "day": "day", "week": "week", "month": "month"}
    return known[word]


def _keys_hint() -> str:
    return f"there are {', '.join(_ENTRY_KEYS)}"


def _word(entry: Mapping[str, object], key: str, known: Mapping[str, object] | Sequence[str], where: str) -> str:
    value = entry.get(key)
    if isinstance(value, str) and value in known:
        return value
    if value is None:
        raise HouseholdError(f"an entry needs '{key}'", where=where, hint=_keys_hint())
    close = nearest(str(value), known)
    hint = f"did you mean '{close}'?" if close else ""
    raise HouseholdError(f"no {key} '{shown(str(value))}'", where=where, hint=hint)


def _number(entry: Mapping[str, object], key: str, where: str) -> float:
    value = entry.get(key)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise HouseholdError(f"an entry needs '{key}' as a number", where=where, hint=_keys_hint())
    if not 0 <= value <= 1_000_000:
        raise HouseholdError(f"{key} = {shown(str(value))} lies outside 0 to 1000000", where=where)
    return float(value)
