"""A household as the text of a household file."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from decimal import Decimal

from advisor.errors import HouseholdError
from advisor.household.holdings import holdings_told
from advisor.household.own_figures import own_text
from advisor.household.shapes import Holding, Household, Room
from advisor.household.year import write_year
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.safe_text import safe_text


def write_household(household: Household, knowledge: Knowledge | None = None) -> str:
    """A household as the text of a file that reads back as the same household, but for signs that are no writing.

    With the rule base given, holdings are written in the words they were told in wherever these read back the same;
    without it, and elsewhere, they are written out as tables.
    """
    lines = [f"name = {_quoted(household.name)}"]
    if household.about:
        lines.append(f"about = {_quoted(household.about)}")
    if household.start is not None:
        lines.append(f"start = {household.start.isoformat()}")
    lines += ["have = [", *(f"    {entry}," for entry in _entries(household.holdings, knowledge)), "]"]
    tables: dict[str, list[str]] = {}
    for attribute, values in household.answers.items():
        if not values or (attribute == "place.room" and household.room is not None):
            continue
        kind, _, key = attribute.partition(".")
        tables.setdefault(kind, []).append(f"{key} = {_answer_text(values)}")
    if household.room is not None:
        tables.setdefault("place", []).append(f"room = {_quoted(_room_text(household.room))}")
    tables["measures"] = [f'{id_} = "{_plain(own.litres)} L"' for id_, own in household.measures.items()]
    tables["own"] = [f"{_quoted(id_)} = {_quoted(own_text(own))}" for id_, own in household.own.items()]
    if household.year is not None:
        tables["year"] = list(write_year(household.year))
        if not tables["year"]:
            lines += ["", "[year]"]
    for table, entries in tables.items():
        if entries:
            lines += ["", f"[{table}]", *entries]
    return "\n".join(lines) + "\n"


def _entries(holdings: Sequence[Holding], knowledge: Knowledge | None) -> Iterator[str]:
    told: set[tuple[str, str, str]] = set()
    for holding in holdings:
        quantity = holding.quantity
        kind = (holding.material, quantity.measure, quantity.per)
        if knowledge is not None and kind not in told and _reads_back(holding, knowledge):
            told.add(kind)
            yield _quoted(holding.said)
        else:
            yield _written_out(holding)


def _reads_back(holding: Holding, knowledge: Knowledge) -> bool:
    try:
        return holdings_told(holding.said, knowledge, lambda _: "") == (holding,)
    except HouseholdError:
        return False


def _written_out(holding: Holding) -> str:
    quantity = holding.quantity
    parts = [f"material = {_quoted(holding.material)}", f"count = {_plain(quantity.count)}"]
    if quantity.low != quantity.count:
        parts.append(f"low = {_plain(quantity.low)}")
    if quantity.high != quantity.count:
        parts.append(f"high = {_plain(quantity.high)}")
    parts.append(f"measure = {_quoted(quantity.measure)}")
    if quantity.per != "once":
        parts.append(f"per = {_quoted(quantity.per)}")
    if quantity.packed:
        parts.append("packed = true")
    parts.append(f"said = {_quoted(holding.said)}")
    return f"{{ {', '.join(parts)} }}"


def _answer_text(values: Sequence[Value]) -> str:
    texts = [_quoted(value) if isinstance(value, str) else _plain(value) for value in values]
    return texts[0] if len(texts) == 1 else f"[{', '.join(texts)}]"


def _room_text(room: Room) -> str:
    if room.length_m == 0 and room.width_m == 0:
        return "none"
    sides = [room.length_m, room.width_m, *([room.height_m] if room.height_m is not None else [])]
    return " x ".join(_plain(side) for side in sides) + " m"


def _plain(number: float) -> str:
    """All the digits of a number, without an exponent or a needless nought."""
    digits = format(Decimal(repr(number)), "f")
    return digits.removesuffix(".0")


def _quoted(text: str) -> str:
    """A basic string of TOML, whose escapes are those of JSON."""
    return json.dumps(safe_text(text), ensure_ascii=False)
