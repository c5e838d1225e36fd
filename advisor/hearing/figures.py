"""Figures with their kind, as an answer gives and an option spans them: lengths, times, volumes, weights, heat."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from advisor.hearing.english import listed
from advisor.hearing.finding import Finder

_CM = {"cm": 1.0, "centimetre": 1.0, "mm": 0.1, "millimetre": 0.1, "m": 100.0, "metre": 100.0, "inch": 2.54}
_CM |= {"ft": 30.48, "foot": 30.48, "feet": 30.48, "yard": 91.44, "yd": 91.44, "'": 30.48}
_DAYS = {
    "day": 1.0,
    "week": 7.0,
    "wk": 7.0,
    "fortnight": 14.0,
    "month": 30.4,
    "year": 365.25,
    "hour": 1 / 24,
    "hr": 1 / 24,
}
_LITRES = {
    "litre": 1.0,
    "l": 1.0,
    "gallon": 4.55,
    "gal": 4.55,
    "pint": 0.57,
    "bucket": 10.0,
    "barrow": 90.0,
    "bag": 60.0,
}
_KILOS = {"kg": 1.0, "kilo": 1.0, "g": 0.001, "gram": 0.001, "lb": 0.454, "lbs": 0.454, "pound": 0.454, "ton": 1000.0}
_HEAT = {"c": 1.0, "celsius": 1.0, "degree": 1.0, "°": 1.0}
_UNITS: Mapping[str, Mapping[str, float]] = {
    "length": _CM, "time": _DAYS, "volume": _LITRES, "weight": _KILOS, "heat": _HEAT,
}  # fmt: skip
#: How high a part of a grown body is above the ground, in cm: common practice, no source.
_BODY = {
    "ankle": 10.0, "shin": 30.0, "knee": 50.0, "thigh": 75.0, "hip": 95.0, "waist": 100.0, "belt": 100.0,
    "navel": 105.0,    "chest": 130.0, "shoulder": 145.0, "chin": 155.0, "head": 170.0,
}  # fmt: skip
#: What a word in a question asks for.
_KINDS = {
    "big": "length", "high": "length", "tall": "length", "deep": "length", "wide": "length", "height": "length",
    "size": "length", "depth": "length", "thick": "length", "long": "time", "old": "time", "often": "time",
    "when": "time", "hot": "heat", "warm": "heat", "temperature": "heat", "heavy": "weight", "much": "volume",
    "many": "number",
}  # fmt: skip
_UNDER = listed("under less below within up")
_OVER = listed("over more above least beyond longer")


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure: its kind, and the least and the most that it may be, in cm, days, litres, kilos or °C."""

    kind: str
    low: float
    high: float


def kinds_asked(finder: Finder) -> frozenset[str]:
    """The kinds of figure that a question asks for."""
    return frozenset(_KINDS[word.form] for word in finder.line.words if word.form in _KINDS)


def figures(finder: Finder) -> Iterator[Figure]:
    """Every figure with a unit in a text, in order, and heights told by the body ("up to my belt")."""
    words = finder.line.words
    at = 0
    while at < len(words):
        one = words[at].form in ("a", "an") and at + 1 < len(words) and words[at + 1].lemma in _DAYS
        if at not in finder.numbers and not one:
            if words[at].lemma in _BODY and _is_height(finder, at):
                yield Figure("length", _BODY[words[at].lemma], _BODY[words[at].lemma])
            at += 1
            continue
        low, end = finder.numbers.get(at, (1.0, at + 1))
        high = low
        if end < len(words) and words[end].form in ("to", "-", "or", "and") and end + 1 in finder.numbers:
            high, end = finder.numbers[end + 1]
        for kind, table in _UNITS.items():
            unit = next((said for said in _said(finder, end) if said in table), "")
            if unit:
                yield _bounded(finder, at, end, Figure(kind, low * table[unit], high * table[unit]))
        at = max(end, at + 1)


def _said(finder: Finder, at: int) -> tuple[str, ...]:
    words = finder.line.words
    return (words[at].form, words[at].lemma) if at < len(words) else ()


def _is_height(finder: Finder, at: int) -> bool:
    near = {word.form for word in finder.line.words[max(0, at - 3) : at + 3]}
    return bool(near & {"high", "to", "height", "deep", "tall", "above", "over", "-"})


def _bounded(finder: Finder, at: int, end: int, figure: Figure) -> Figure:
    words = finder.line.words
    before = {word.form for word in words[max(0, at - 3) : at] if not word.mark}
    behind = words[end + 1 : end + 3]
    if before & _UNDER:
        return Figure(figure.kind, 0.0, figure.high)
    if before & _OVER or [word.form for word in behind] == ["or", "more"]:
        return Figure(figure.kind, figure.low, float("inf"))
    return figure
