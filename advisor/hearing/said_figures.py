"""Figures as people say degrees: a hundred and forty, the low thirties, ninety odd."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.hearing.finding import Finder
from advisor.household.words import ONES, TENS

#: Said behind a figure, they leave it as it is: "ninety odd", "100 flat".
_LOOSE = frozenset({"odd", "ish", "plus", "flat", "something", "dead", "exactly"})
#: "The low thirties": how far into the ten.
_INTO = {"low": 2.0, "lower": 2.0, "early": 2.0, "mid": 5.0, "middle": 5.0, "high": 8.0, "upper": 8.0, "late": 8.0}
_DECADES = {word[:-1] + "ies": float(value) for word, value in TENS.items()}


def decades(finder: Finder) -> Iterator[tuple[int, tuple[float, int]]]:
    """The low thirties, as 32; the fifties, as 55."""
    words = finder.line.words
    for at, word in enumerate(words):
        if word.form in _DECADES:
            before = words[at - 1].form if at else ""
            yield at, (_DECADES[word.form] + _INTO.get(before, 5.0), at + 1)


def hundreds(finder: Finder) -> Iterator[tuple[int, tuple[float, int]]]:
    """A hundred and forty, one fifty: degrees Fahrenheit that are said in words, with the place behind them."""
    words, last = finder.line.words, len(finder.line.words)
    for at, word in enumerate(words):
        lead = word.form in ("a", "one")
        if lead and at + 1 < last and words[at + 1].form in TENS and word.form == "one":
            tens, end = finder.numbers[at + 1]
            yield at, (100.0 + tens, end)
        elif word.form == "hundred" or (lead and at + 1 < last and words[at + 1].form == "hundred"):
            end = at + (1 if word.form == "hundred" else 2)
            if word.form == "hundred" and at and words[at - 1].form in ("a", "one", *ONES):
                continue
            follows = end + (end < last and words[end].form == "and")
            more, behind = finder.numbers.get(follows, (0.0, end))
            yield at, (100.0 + more, behind) if 0 < more < 100 else (100.0, end)


def loosened(finder: Finder, end: int, last: int) -> int:
    """The place behind a figure and what leaves it as it is: "ninety odd", "sixty-odd", "100 flat"."""
    words = finder.line.words
    behind = end + (end + 1 < last and words[end].form == "-")
    return behind + 1 if behind < last and words[behind].form in _LOOSE else end
