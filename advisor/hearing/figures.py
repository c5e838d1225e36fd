"""Figures with their kind, as an answer gives and an option spans them: lengths, times, volumes, weights, heat."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from advisor.hearing.english import listed
from advisor.hearing.finding import Finder
from advisor.household.measuring import DAYS, KILOGRAMS, LITRES, METRES
from advisor.records import dataclass

#: Measures of a household that a size is told in, in litres: the middles of rules/measures.toml.
_VESSELS = {"bucket": 10.0, "barrow": 90.0, "bag": 60.0}


def _of_one_word(table: Mapping[tuple[str, ...], float], times: float = 1.0) -> dict[str, float]:
    return {key[0]: worth * times for key, worth in table.items() if len(key) == 1}


#: In cm, days, litres, kilos and °C.
_UNITS: Mapping[str, Mapping[str, float]] = {
    "length": {name: worth for name, worth in _of_one_word(METRES, 100.0).items() if name not in ("step", "in")},
    "time": {name: worth for name, worth in _of_one_word(DAYS).items() if len(name) > 1},
    "volume": {name: worth for name, worth in _of_one_word(LITRES).items() if (name,) not in METRES} | _VESSELS,
    "weight": _of_one_word(KILOGRAMS) | {"lbs": KILOGRAMS[("lb",)], "ton": 1000.0},
    "heat": dict.fromkeys(("c", "celsius", "degree", "°"), 1.0),
}
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
        one = words[at].form in ("a", "an") and at + 1 < len(words) and words[at + 1].lemma in _UNITS["time"]
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
