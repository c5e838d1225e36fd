"""How often: "a week", "per day", "every other week", "twice a month", "weekly"."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.household import words
from advisor.household.counts import value_at
from advisor.household.shapes import Per
from advisor.household.tokens import Token, singular
from advisor.records import dataclass


@dataclass(frozen=True, slots=True)
class Rate:
    """So many times in a period; no period for a year or a season, which cannot be spread evenly."""

    per: Per | None
    times: float
    end: int


def rate_at(tokens: Sequence[Token], at: int) -> Rate | None:
    """The rate that begins at a token; nothing if none does.

    "Every two weeks" is half a time a week, "twice a week" two times.
    """
    often = _often_at(tokens, at)
    if often is None:
        return _period_at(tokens, at)
    times, behind = often
    inner = _period_at(tokens, behind) if behind < len(tokens) else None
    return Rate(inner.per, inner.times * times, inner.end) if inner is not None else None


def _period_at(tokens: Sequence[Token], at: int) -> Rate | None:
    """ "A week", "every other day", "weekly"."""
    adverb = tokens[at].key
    if adverb in words.ADVERBS:
        return _rate(words.ADVERBS[adverb], 1.0, at + 1)
    if tokens[at].key not in words.EACH or at + 1 >= len(tokens):
        return None
    every = tokens[at].key in words.EVERY
    behind, periods = at + 1, 1.0
    if every and tokens[behind].key in words.OTHER:
        behind, periods = behind + 1, 2.0
    elif every:
        number = value_at(tokens, behind)
        if number is not None and number[0].value > 0:
            behind, periods = number[1], number[0].value
    if behind >= len(tokens) or tokens[behind].key.endswith("'s"):  # "a week's worth" says how long, not how often
        return None
    name = singular(tokens[behind].key)
    if name not in words.PERIODS:
        return None
    period = words.PERIODS[name]
    if period is None and not every and name not in ("year", "yr"):
        return None
    return _rate(period, periods, behind + 1)


def _often_at(tokens: Sequence[Token], at: int) -> tuple[float, int] | None:
    """ "Twice", "three times", "3x"."""
    if tokens[at].key in words.OFTEN:
        return words.OFTEN[tokens[at].key], at + 1
    number = value_at(tokens, at)
    if number is not None and number[1] < len(tokens) and tokens[number[1]].key in ("times", *words.TIMES):
        return number[0].value, number[1] + 1
    return None


def _rate(period: tuple[Per, float] | None, periods: float, end: int) -> Rate:
    if period is None:
        return Rate(None, 1.0, end)
    per, length = period
    return Rate(per, 1.0 / (periods * length), end)
