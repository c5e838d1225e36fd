"""Moves and households as JSON and back, so that they can be kept."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from functools import cache
from typing import Any, get_args

from pydantic import TypeAdapter, ValidationError

from advisor.household.shapes import Holding, Household
from advisor.knowledge.base import Knowledge
from advisor.safe_text import safe_value
from advisor.talk.intents import Have, HaveNot, TellMeasure, Told
from advisor.talk.memory import Change, Guess, Load, Move

_KINDS: dict[str, type] = {kind.__name__: kind for kind in (*get_args(Change), Household)}


@cache
def _shape(kind: str) -> TypeAdapter[Any]:
    return TypeAdapter(_KINDS[kind])


def moves_written(moves: Sequence[Move]) -> str:
    """Moves as a JSON list."""
    return json.dumps([_written(move) for move in moves], ensure_ascii=False)


def _written(move: Move) -> dict[str, object]:
    changes = []
    for change in move.changes:
        kind = type(change).__name__
        changes.append({"kind": kind, **_shape(kind).dump_python(change, mode="json")})
    return {"changes": changes, "said": list(move.said)}


def moves_read(found: Sequence[Any], knowledge: Knowledge) -> tuple[tuple[Move, ...], tuple[str, ...]]:
    """Moves of JSON values, and the words of those that cannot be read any more, as the rules are others now.

    A move that cannot be read keeps its place, so that it can be taken back like any other; it changes nothing. Every
    text in them is safe to show.
    """
    moves: list[Move] = []
    amiss: list[str] = []
    for raw in found:
        one: Any = safe_value(raw)
        try:
            moves.append(Move(tuple(_changes(one["changes"], knowledge)), tuple(map(str, one["said"]))))
        except (ValidationError, AttributeError, KeyError, TypeError, ValueError):
            said = one.get("said", ()) if isinstance(one, dict) else ()
            words = ", ".join(str(each) for each in said if each) or "something said on a screen"
            amiss.append(words)
            moves.append(Move((), ()))
    return tuple(moves), tuple(amiss)


def _changes(found: Sequence[dict[str, Any]], knowledge: Knowledge) -> Iterator[Change]:
    for one in found:
        values = {name: value for name, value in one.items() if name != "kind"}
        change: Change = _shape(one["kind"]).validate_python(values)
        _check(change, knowledge)
        yield change


def _check(change: Change, knowledge: Knowledge) -> None:
    """Raises KeyError if the rules know no such thing any more."""
    match change:
        case Have(holding) | Guess(holding):
            _check_holding(holding, knowledge)
        case HaveNot(materials):
            for name in materials:
                _ = knowledge.materials[name]
        case TellMeasure(measure):
            _ = knowledge.measures[measure]
        case Told(attribute, values):
            kind, _, name = attribute.partition(".")
            declared = knowledge.kinds[kind].attributes[name]
            for value in values:
                _ = declared.words[str(value)] if declared.words else float(value)
        case Load(household):
            _check_household(household, knowledge)
        case _:
            pass


def _check_holding(holding: Holding, knowledge: Knowledge) -> None:
    _ = knowledge.materials[holding.material]
    if holding.quantity.measure not in ("L", "kg"):
        _ = knowledge.measures[holding.quantity.measure]


def _check_household(household: Household, knowledge: Knowledge) -> None:
    for holding in household.holdings:
        _check_holding(holding, knowledge)
    for attribute, values in household.answers.items():
        _check(Told(attribute, values, (0, 0)), knowledge)


def household_written(household: Household) -> str:
    """A household as JSON."""
    return str(_shape(Household.__name__).dump_json(household).decode())


def household_read(text: str, knowledge: Knowledge) -> Household:
    """A household of JSON, every text in it safe to show.

    Raises:
        ValueError, KeyError, RecursionError: it cannot be read, or the rules know no such thing any more.
    """
    household: Household = _shape(Household.__name__).validate_python(safe_value(json.loads(text)))
    _check_household(household, knowledge)
    return household
