"""Figures as people say degrees: a hundred and forty, the low thirties, ninety odd, 55 to 60, minus 4."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.hearing.finding import Finder
from advisor.household.words import ONES, TENS

#: What joins figures that share a unit: 55 to 60, 61/59/57.
_JOINS = frozenset({"/", "-", "to", "or"})
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


def hyphened(finder: Finder, at: int, figure: float, end: int) -> tuple[float, int]:
    """Sixty-two, which is cut at its hyphen."""
    words = finder.line.words
    if words[at].form in TENS and end + 1 < len(words) and words[end].form == "-" and words[end + 1].form in ONES:
        more = float(ONES[words[end + 1].form])
        if words[end].start == words[end - 1].end and 1 <= more <= 9:
            return figure + more, end + 2
    return figure, end


def chain(finder: Finder, at: int, figure: float, end: int, last: int) -> tuple[list[float], int]:
    """A figure with those joined to it, which share its unit: 55 to 60, 61/59/57."""
    words, joined = finder.line.words, [figure]
    if at > 0 and words[at - 1].form == "from":
        return joined, end
    while end + 1 < last and words[end].form in _JOINS and end + 1 in finder.numbers:
        if words[end].form == "-" and words[end].start > words[end - 1].end:
            break
        more, end = finder.numbers[end + 1]
        joined.append(more)
    return joined, end


def is_label(finder: Finder, at: int) -> bool:
    """Whether a figure numbers something: D1, T3, T-6."""
    words = finder.line.words
    if at not in finder.numbers or at == 0 or words[at - 1].end != words[at].start:
        return False
    before = at - 1
    if words[before].form in ("-", "+") and before > 0 and words[before - 1].end == words[before].start:
        before -= 1
    return words[before].form.isalpha()


def is_below_zero(finder: Finder, at: int, first: int) -> bool:
    """Whether a minus stands before a figure, and no dash that only joins it to what is before."""
    words = finder.line.words
    if at <= first or words[at - 1].form not in ("-", "minus"):
        return False
    joined = words[at - 1].end == words[at].start and (at < 2 or words[at - 2].end < words[at - 1].start)
    return words[at - 1].form == "minus" or joined
