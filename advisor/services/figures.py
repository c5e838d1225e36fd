"""Numbers within bounds, as people say them."""

from __future__ import annotations

from advisor.errors import HouseholdError
from advisor.household.measuring import DAYS, Kind, Measured, figure_at
from advisor.household.tokens import shown, singular, tokenize

_NEVER = frozenset({"never", "no", "none", "nothing", "nil"})


def number_said(text: str, low: float, high: float, what: str) -> float:
    """A number within bounds, alone or with words about it: "about 3", "3 weeks", "none".

    Where `what` is "weeks" or "years", a time in another unit comes out in that: "2 months" are 8.7 weeks.

    Raises:
        HouseholdError: there is none, or it is out of bounds.
    """
    own = DAYS.get((singular(what),))
    found = _figures(text, "time" if own is not None else "number", what)
    if len(found) != 1:
        raise HouseholdError(f"“{shown(text)}” is no number", hint=f"{what}, {low:g} to {high:g}")
    unit = found[0].unit
    number = found[0].value * (unit / own if own is not None and unit is not None else 1.0)
    if not low <= number <= high:
        raise HouseholdError(f"{number:g} cannot be", hint=f"{what}, {low:g} to {high:g}")
    return number


def _figures(text: str, kind: Kind, what: str) -> list[Measured]:
    """All figures of a text; "a" and "no" only beside what is counted, or "no" alone."""
    tokens = [token for token in tokenize(text) if token.kind != "mark" or token.key in "-–.,"]
    words = [token.key for token in tokens if token.kind != "mark"]
    if len(words) == 1 and words[0] in _NEVER:
        return [Measured(0.0, None)]
    counted = {singular(word) for word in what.split()}
    found: list[Measured] = []
    at = 0
    while at < len(tokens):
        told = figure_at(tokens, at, kind)
        if told is None:
            at += 1
            continue
        behind = singular(tokens[told[1]].key) if told[1] < len(tokens) else ""
        if not told[0].shy or behind in counted:
            found.append(told[0])
        at = told[1]
    return found
