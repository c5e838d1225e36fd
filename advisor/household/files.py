"""Households in files, and from the options of the command line.

A household file is TOML, and strict: a key or a word that is not known is an error with its place, never a silence.

    name = "the terrace at number nine"           # if missing, the name of the file
    about = "two people, a paved yard"            # a line for those who list households
    start = 2025-10-04                            # when the heap is to be started
    have = [                                      # one text of several items will do as well
        "3 sacks dry leaves",
        "2 kitchen caddies kitchen scraps a week",
    ]

    [place]                                       # a key left out is unknown, and the advice says what hangs on it
    space = "paved-yard"
    container = ["closed-bin"]                    # one word, or several where several may hold
    room = "1.2 x 1.2 m"                          # or "1.2 x 1.2 x 1 m", "4 x 6 ft", "3 m2", "none"
    holds = "300 L"                               # a number without a unit is in the unit of rules/facts.toml

    [wish]
    aim = "steady"

    [household]
    animals = "hens"

    [measures]                                    # this household's own sizes
    bucket = "12 L"

    [own]                                         # own figures of a material, from a laboratory, a label or a bucket
    "grass clippings" = "moisture 70 %, C:N 20"   # nitrogen, C:N, moisture, density and ash

    [year]                                        # what comes in through the year: see advisor/household/year.py
    arrives = ["Oct-Nov: 4 sacks dry leaves a week"]

The tables [place], [wish] and [household], their keys and the words they take are the fact kinds of rules/facts.toml
that people answer. An item of `have` may also be a table, { material, count, measure, low, high, per, packed, said },
which `write_household` uses where the words alone would not read back the same.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

from advisor.errors import HouseholdError
from advisor.household.days import calendar_day
from advisor.household.dimensions import read_room, read_volume
from advisor.household.holdings import holding_entered, holdings_told
from advisor.household.names import find_measure, nearest
from advisor.household.own_figures import own_told
from advisor.household.shapes import Holding, Household, HouseholdYear, OwnFigures, OwnMeasure, Room
from advisor.household.tokens import shown
from advisor.household.whereabouts import InFile, InOptions, Whereabouts
from advisor.household.writing import write_household
from advisor.household.year import read_year
from advisor.knowledge.base import TROUBLE_KINDS, Knowledge
from advisor.knowledge.conditions import Value
from advisor.knowledge.shapes import Attribute
from advisor.safe_text import one_line
from advisor.text_files import place_of, read_toml

#: The biggest size a household may give a measure of its own, in litres.
MOST_LITRES: Final = 100_000.0

_TOP_KEYS: Final = ("name", "about", "start", "have")
_MEASURES: Final = "measures"
_YEAR: Final = "year"
_OWN: Final = "own"

__all__ = ["answer_attributes", "household_from_options", "read_household", "write_household"]


def read_household(path: Path, knowledge: Knowledge) -> Household:
    """Read a household file.

    Raises:
        HouseholdError: the file cannot be read, or something in it cannot be understood. The error is one line with
            the file, the place in it and the nearest right thing.
    """
    raw, text = read_toml(path, "household file")
    if not set(raw) - {*_TOP_KEYS[:3]}:
        hint = 'write what you have, as in have = ["3 sacks dry leaves"]; `heapwright households six-hens` shows one'
        raise HouseholdError("this file says nothing of a household", where=place_of(path), hint=hint)
    name = one_line(path.stem.replace("-", " ").replace("_", " "))
    return _household({"name": name, **raw}, InFile(path, text), knowledge)


def household_from_options(
    have: str,
    knowledge: Knowledge,
    *,
    told: Mapping[str, str] | None = None,
    measures: Mapping[str, str] | None = None,
    own: Mapping[str, str] | None = None,
    start: str = "",
    name: str = "your household",
) -> Household:
    """A household told on the command line.

    Args:
        have: what is on hand, as a list in words.
        knowledge: the rule base.
        told: answers by the name of their attribute ("space", "room", "holds", "aim", "animals"); where several
            words may hold they are parted by commas.
        measures: own sizes, such as {"bucket": "12 L"}.
        own: own figures of materials, such as {"grass clippings": "moisture 70 %, C:N 20"}.
        start: the day of starting, as in "2025-10-04".
        name: what to call the household.

    Raises:
        HouseholdError: something cannot be understood; the error names the option.
    """
    raw: dict[str, object] = {"name": name, "have": have}
    if start:
        raw["start"] = start
    kinds = answer_attributes(knowledge)
    known: dict[str, str] = {}
    for kind, attributes in kinds.items():
        for key in attributes:
            known.setdefault(key, kind)
    for key, value in (told or {}).items():
        if key not in known:
            raise _no_such("option", key, "", known, f"--{key}")
        attribute = kinds[known[key]][key]
        several = [word.strip() for word in value.split(",") if word.strip()] if attribute.many else value
        table = raw.setdefault(known[key], {})
        if isinstance(table, dict):
            table[key] = several
    if measures:
        raw[_MEASURES] = dict(measures)
    if own:
        raw[_OWN] = dict(own)
    return _household(raw, InOptions(), knowledge)


# ---------------------------------------------------------------- reading


def _household(raw: Mapping[str, object], places: Whereabouts, knowledge: Knowledge) -> Household:
    kinds = answer_attributes(knowledge)
    for key in raw:
        if key not in _TOP_KEYS and key not in (_MEASURES, _YEAR, _OWN) and key not in kinds:
            table = isinstance(raw[key], dict)
            where = places.of(key, "") if table else places.of("", key)
            raise _no_such("table" if table else "key", key, "", (*_TOP_KEYS, *kinds, _MEASURES, _YEAR, _OWN), where)
    answers: dict[str, tuple[Value, ...]] = {}
    room: Room | None = None
    for kind, attributes in kinds.items():
        for key, value in _table(raw, kind, places).items():
            if key not in attributes:
                raise _no_such("key", key, f" in [{kind}]", attributes, places.of(kind, key))
            answer = _answer(value, attributes[key], places.of(kind, key))
            if isinstance(answer, Room):
                room = answer
            else:
                answers[f"{kind}.{key}"] = answer
    return Household(
        name=_line_of_text(raw, "name", places),
        holdings=_holdings(raw.get("have", []), places, knowledge),
        answers=answers,
        room=room,
        measures=_own_measures(_table(raw, _MEASURES, places), places, knowledge),
        own=_own_figures(_table(raw, _OWN, places), places, knowledge),
        start=calendar_day(raw["start"], places.of("", "start")) if "start" in raw else None,
        about=_line_of_text(raw, "about", places) if "about" in raw else "",
        year=_year(raw, places, knowledge),
    )


def answer_attributes(knowledge: Knowledge) -> dict[str, dict[str, Attribute]]:
    """The attributes that people answer, by their kind."""
    found = {
        kind: {key: attribute for key, attribute in declared.attributes.items() if attribute.origin == "answer"}
        for kind, declared in knowledge.kinds.items()
        if not declared.subjects and kind not in TROUBLE_KINDS
    }
    return {kind: attributes for kind, attributes in found.items() if attributes}


def _no_such(
    what: str, word: str, within: str, known: Mapping[str, object] | Sequence[str], where: str
) -> HouseholdError:
    close = nearest(word, known)
    hint = f"did you mean '{close}'?" if close else f"there are {', '.join(known)}"
    return HouseholdError(f"no {what} '{shown(word)}'{within}", where=where, hint=hint)


def _table(raw: Mapping[str, object], name: str, places: Whereabouts) -> Mapping[str, object]:
    table = raw.get(name, {})
    if not isinstance(table, dict):
        raise HouseholdError("this is a table, not a value", where=places.of("", name), hint=f"write [{name}]")
    return table


def _line_of_text(raw: Mapping[str, object], key: str, places: Whereabouts) -> str:
    value = raw[key]
    if not isinstance(value, str) or not value.strip():
        raise HouseholdError(f"{key} is a line of text", where=places.of("", key))
    return value


def _holdings(have: object, places: Whereabouts, knowledge: Knowledge) -> tuple[Holding, ...]:
    def where(item: str) -> str:
        return places.of("", "have", item)

    entries = have if isinstance(have, list) else [have]
    found: list[Holding] = []
    for entry in entries:
        if isinstance(entry, dict):
            found.append(holding_entered(entry, knowledge, where(str(entry.get("material", "")))))
            continue
        if not isinstance(entry, str):
            hint = 'write it as in have = ["3 sacks dry leaves"]'
            raise HouseholdError(f"'{shown(str(entry))}' is not an item in words", where=where(""), hint=hint)
        for holding in holdings_told(entry, knowledge, where):
            if any(_alike(holding, other) for other in found):
                hint = "add the two up, or tell them in different measures"
                message = f"'{shown(holding.said)}' is told twice"
                raise HouseholdError(message, where=where(entry), hint=hint)
            found.append(holding)
    return tuple(found)


def _year(raw: Mapping[str, object], places: Whereabouts, knowledge: Knowledge) -> HouseholdYear | None:
    if _YEAR not in raw:
        return None
    return read_year(_table(raw, _YEAR, places), lambda key, item: places.of(_YEAR, key, item), knowledge)


def _alike(one: Holding, other: Holding) -> bool:
    return (one.material, one.quantity.measure, one.quantity.per) == (
        other.material,
        other.quantity.measure,
        other.quantity.per,
    )


def _own_measures(table: Mapping[str, object], places: Whereabouts, knowledge: Knowledge) -> dict[str, OwnMeasure]:
    found: dict[str, OwnMeasure] = {}
    for name, value in table.items():
        where = places.of(_MEASURES, name)
        match = find_measure(name, knowledge)
        if match.kind != "exact":
            hint = f"did you mean '{match.candidates[0]}'?" if match.candidates else ""
            raise HouseholdError(f"no measure '{shown(name)}'", where=where, hint=hint)
        if match.id in found:
            raise HouseholdError(f"'{shown(name)}' is told twice", where=where)
        if not isinstance(value, str):
            raise HouseholdError("a measure needs a size with its unit", where=where, hint=f'as in {name} = "12 L"')
        litres = read_volume(value, where)
        if not 0 < litres <= MOST_LITRES:
            hint = f"it lies between 0 and {MOST_LITRES:g} L"
            raise HouseholdError(f"'{shown(value)}' cannot be the size of a measure", where=where, hint=hint)
        found[match.id] = OwnMeasure(litres)
    return found


def _own_figures(table: Mapping[str, object], places: Whereabouts, knowledge: Knowledge) -> dict[str, OwnFigures]:
    found: dict[str, OwnFigures] = {}
    for name, value in table.items():
        where = places.of(_OWN, name)
        if not isinstance(value, str):
            hint = f'as in "{name}" = "moisture 70 %, C:N 20"'
            raise HouseholdError("own figures are a line of text", where=where, hint=hint)
        material, figures = own_told(f"{name}: {value}", knowledge, where)
        if material in found:
            raise HouseholdError(f"'{shown(name)}' is told twice", where=where)
        found[material] = figures
    return found


# ---------------------------------------------------------------- answers


def _answer(value: object, attribute: Attribute, where: str) -> tuple[Value, ...] | Room:
    if attribute.number is None:
        return _words(value, attribute, where)
    number: float | Room
    if isinstance(value, str) and attribute.unit == "m2":
        number = read_room(value, where)
    elif isinstance(value, str) and attribute.unit == "L":
        number = read_volume(value, where)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        number = float(value)
    else:
        raise HouseholdError(f"'{shown(str(value))}' is not a number", where=where, hint=attribute.about)
    size = number.length_m * number.width_m if isinstance(number, Room) else number
    low, high = attribute.number
    if not low <= size <= high:
        hint = f"it lies between {low:g} and {high:g} {attribute.unit}".rstrip()
        raise HouseholdError(f"'{shown(str(value))}' is out of all bounds", where=where, hint=hint)
    return number if isinstance(number, Room) else (number,)


def _words(value: object, attribute: Attribute, where: str) -> tuple[Value, ...]:
    several = value if isinstance(value, list) else [value]
    if not several:
        raise HouseholdError("an empty list says nothing", where=where, hint="leave the key out if it is unknown")
    for word in several:
        if not isinstance(word, str) or word not in attribute.words:
            close = nearest(str(word), attribute.words)
            hint = f"did you mean '{close}'?" if close else f"it may be {', '.join(attribute.words)}"
            raise HouseholdError(f"'{shown(str(word))}' is not an answer", where=where, hint=hint)
    if len(several) > 1 and not attribute.many:
        raise HouseholdError("takes one word, not several", where=where, hint=f"it may be {', '.join(attribute.words)}")
    if len(set(several)) < len(several):
        raise HouseholdError("the same word is there twice", where=where)
    if len(several) > 1 and "none" in several:
        raise HouseholdError("'none' does not go with other words", where=where)
    return tuple(several)
