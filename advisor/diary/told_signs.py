"""Readings, the weather and what was seen of a diary line, each with its place in the line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from advisor.diagnosis.signs import gone
from advisor.diary.entries import Place, Told
from advisor.diary.items import KIND_OF, Item, own_day
from advisor.hearing.diary_line import DiaryLine
from advisor.hearing.readings import Figure
from advisor.hearing.shapes import Fact, Heard
from advisor.hearing.vocabulary import vocabulary_for
from advisor.household.days import MONTHS
from advisor.knowledge.base import Knowledge

#: Signs that tell of a deed told beside them, or are kept as figures, days and weather of their own.
NOT_SEEN: Final = frozenset(
    {
        "degrees",
        "weather",
        "age",
        "method",
        "stage",
        "cover",
        "turned",
        "built",
        "access",
        "bran",
        "feeding",
        "holds",
        "mix",
        "packed",
    }
)
#: Read off the stuff even where it is too wet or too cold; every other bad sign is a trouble.
_READ_OFF: Final = frozenset({"moisture", "warmth", "moisture_pct"})


#: What can be kept of a figure at all, however sure a person is: °C or °F, metres, and amounts.
_CAN_BE: Final = (-100.0, 5000.0)
_LONGEST_M: Final = 10.0


def readings_told(line: DiaryLine) -> Iterator[Item]:
    """Temperatures with their depth and place, heights, and how full it is."""
    facts = [one for one in line.heard.facts if one.name == "sign.degrees" and one.stance in ("told", "past")]
    depths = [one for one in line.lengths if one.of == "depth"]
    used: set[int] = set()
    for fact in facts:
        figure = _figure_of(fact, line.figures)
        if any(one.start < fact.end and fact.start < one.end for one in line.days):
            continue  # "on the 14th"
        if figure is not None and of_weather(line, figure):
            continue
        part = line.part(fact.start)
        placed = any(line.part(start) == part for _, start, _ in line.places)
        if (
            figure is None
            or not _CAN_BE[0] <= figure.figure <= _CAN_BE[1]
            or (fact.stance == "past" and not own_day(line, fact.start) and not placed)
        ):
            continue
        near = [one for one in depths if line.part(one.start) == part]
        deep = min(near or (depths if len(facts) == 1 else []), key=lambda one: abs(one.start - fact.end), default=None)
        place = _place(line, fact.start)
        used.add(figure.start)
        told = Told(
            degrees=figure.figure,
            scale="F" if figure.fahrenheit else "C",
            depth_cm=round(deep.metres * 100, 1) if deep is not None and deep.metres <= _LONGEST_M else None,
            place=place,
        )
        yield Item("reading", fact.start, fact.end, told, [])
    denied = [one for one in line.heard.facts if one.name == "sign.degrees" and one.stance not in ("told", "past")]
    for figure in line.figures:
        other = any(one.start < figure.end and figure.start < one.end for one in denied)
        if (
            figure.sure
            and _CAN_BE[0] <= figure.figure <= _CAN_BE[1]
            and figure.start not in used
            and not other
            and not of_weather(line, figure)
        ):
            place = _place(line, figure.start)
            told = Told(degrees=figure.figure, scale="F" if figure.fahrenheit else "C", place=place)
            yield Item("reading", figure.start, figure.end, told, [])
    for one in line.lengths:
        if one.of == "height" and one.metres <= _LONGEST_M and not _in_amount(line.heard, one.start):
            yield Item("reading", one.start, one.end, Told(height_cm=round(one.metres * 100, 1)), [])
    for share, start, end in line.filled:
        if not _in_amount(line.heard, start):
            yield Item("reading", start, end, Told(filled=share), [])


def _place(line: DiaryLine, at: int) -> Place:
    """Where in the vessel the part of the line around a character tells of."""
    named = [(name, start) for name, start, _ in line.places if line.part(start) == line.part(at)]
    behind = [one for one in named if one[1] > at] or named  # "45 at the edge and 62 in the core"
    nearest = min(behind, key=lambda one: abs(one[1] - at), default=("", 0))[0]
    found: tuple[Place, ...] = ("middle", "edge", "top", "bottom")
    return next((one for one in found if one == nearest), "")


def _in_amount(heard: Heard, at: int) -> bool:
    return any(one.start <= at < one.end and one.ids for one in heard.amounts)


#: Air from which a spell is called hot, and at which it freezes, in °C: common practice, no source.
_HOT_AIR, _FREEZING_AIR = 30.0, 0.0


def weather_told(line: DiaryLine) -> Iterator[Item]:
    """A hot spell or a frost told as a figure of the air: "42 degrees again tomorrow"."""
    for figure in line.figures:
        if not _is_outdoors(line, figure):
            continue
        value = "hot" if figure.celsius >= _HOT_AIR else "freezing" if figure.celsius <= _FREEZING_AIR else ""
        if value:
            yield Item("weather", figure.start, figure.end, Told(signs={"weather": (value,)}), [])


def _is_outdoors(line: DiaryLine, figure: Figure) -> bool:
    """Whether a figure is told with words of the weather, and no vessel is named before it."""
    part = line.part(figure.start)
    vessel = any(line.part(one.start) == part and one.start < figure.start for one in line.vessels)
    return not vessel and any(line.part(start) == part for start, _ in line.outdoors)


def of_weather(line: DiaryLine, figure: Figure) -> bool:
    """Whether a temperature is told of the weather."""
    return _is_outdoors(line, figure) or any(
        one.name in ("sign.weather", "place.climate") and line.part(one.start) == line.part(figure.start)
        for one in line.heard.facts
    )


def _figure_of(fact: Fact, figures: Sequence[Figure]) -> Figure | None:
    """The figure behind a temperature that was heard."""
    return next((one for one in figures if one.start < fact.end and fact.start < one.end), None)


def signs_told(line: DiaryLine, knowledge: Knowledge) -> Iterator[Item]:
    """What was seen, felt and smelt: read off, a trouble, the weather, or a trouble that is gone."""
    heard = line.heard
    concepts = vocabulary_for(knowledge).concepts
    declared = knowledge.kinds["sign"].attributes
    done = [(one.start, one.end) for one in heard.told if one.name in KIND_OF]
    done += [(one.start, one.end) for one in heard.facts if one.name == "sign.degrees"]
    drained = any(one.name == "deed.drained" for one in heard.told)
    measured = any(one.name == "sign.degrees" for one in heard.facts) or any(one.sure for one in line.figures)
    for fact in heard.told:
        kind, _, name = fact.name.partition(".")
        if name == "dust":  # only what is dry is dusty
            yield Item("reading", fact.start, fact.end, Told(signs={"moisture": ("dry",)}), [])
        if name == "steam":
            yield Item("reading", fact.start, fact.end, Told(signs={"looks": ("steam",)}), [])
        if kind != "sign" or any(start < fact.end and fact.start < end for start, end in done):
            continue  # what a deed or a figure says itself
        if name == "progress" and any(one.of == "height" for one in line.lengths):
            continue  # how far it sank was told
        if name not in declared or fact.value not in declared[name].words or (name == "liquid" and drained):
            continue
        told = Told(signs={name: (fact.value,)})
        if name == "moisture" and any(
            one.name == "sign.weather" and one.start < fact.end and fact.start < one.end for one in heard.told
        ):
            continue  # "pouring for two weeks" is the rain
        if name == "weather":
            month = line.heard.text[fact.start : fact.end].capitalize() in MONTHS
            if not month and not any(one.start <= fact.start < one.end for one in line.days):
                yield Item("weather", fact.start, fact.end, told, [])
            continue
        if name in ("heat_before", "warmth") and measured and _alone(line, fact):
            continue  # the reading tells it
        if name in ("heat_before", "warmth") and any(_is_outdoors(line, one) for one in line.figures):
            continue  # "hot again, 39 in the shade"
        if name in NOT_SEEN or (name in _AS_IT_WAS and _as_before(line, fact)):
            continue
        concept = concepts.get(fact.concept)
        bad = concept is not None and concept.bad and (fact.name, fact.value) in concept.facts and name not in _READ_OFF
        yield Item("trouble" if bad else "reading", fact.start, fact.end, told, [])
    away = [(name, value) for name, value in gone(heard) if name not in NOT_SEEN | _READ_OFF and name != "degrees"]
    for fact in heard.facts:
        kind, _, name = fact.name.partition(".")
        concept = concepts.get(fact.concept)
        if kind == "sign" and (name, fact.value) in away and concept is not None and concept.bad:
            yield Item("cure", fact.start, fact.end, Told(signs={name: (fact.value,)}), [])


#: What "no change" says in a talk about a heap that stands still; in a diary it compares with the last entry.
_AS_IT_WAS: Final = frozenset({"progress", "looks"})


def _alone(line: DiaryLine, fact: Fact) -> bool:
    """Whether the part of the line around a fact names no vessel but the first of the line."""
    part = line.part(fact.start)
    first = line.vessels[0] if line.vessels else None
    return not any(one is not first and line.part(one.start) == part for one in line.vessels)


def _as_before(line: DiaryLine, fact: Fact) -> bool:
    return any(start < fact.end and fact.start < end for start, end in line.as_before)
