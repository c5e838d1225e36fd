"""Readings, the weather and what was seen of a diary line, each with its place in the line."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from advisor.diagnosis.signs import gone
from advisor.diary.entries import Place, Told
from advisor.diary.items import KIND_OF, Item, own_day
from advisor.hearing.diary_line import DiaryLine
from advisor.hearing.readings import OFF_CORE, Figure
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


_HEARD_AS: Final = frozenset({"sign.degrees", OFF_CORE})


def readings_told(line: DiaryLine) -> Iterator[Item]:
    """Temperatures with their depth and place, heights, and how full it is."""
    facts = [one for one in line.heard.facts if one.name in _HEARD_AS]
    for figure in line.figures:
        fact = next((one for one in facts if one.start < figure.end and figure.start < one.end), None)
        if not _CAN_BE[0] <= figure.figure <= _CAN_BE[1] or of_weather(line, figure):
            continue
        if figure.days is None and any(one.start < figure.end and figure.start < one.end for one in line.days):
            continue  # "on the 14th"
        if not (figure.sure if fact is None else fact.stance in ("told", "past")):
            continue
        placed = any(line.part(start) == line.part(figure.start) for _, start, _ in line.places)
        dated = figure.days is not None or own_day(line, figure.start)
        if fact is not None and fact.stance == "past" and not (dated or placed):
            continue  # it was so once, and nobody said when
        metres = figure.depth_m if figure.depth_m is not None else _depth(line, figure)
        told = Told(
            degrees=figure.figure,
            scale="F" if figure.fahrenheit else "C",
            depth_cm=round(metres * 100, 1) if metres is not None and metres <= _LONGEST_M else None,
            place=_place(figure),
        )
        yield Item("reading", figure.start, figure.end, told, [], figure.days)
    for one in line.lengths:
        if one.of == "height" and one.metres <= _LONGEST_M and not _in_amount(line.heard, one.start):
            yield Item("reading", one.start, one.end, Told(height_cm=round(one.metres * 100, 1)), [])
    for share, start, end in line.filled:
        if not _in_amount(line.heard, start):
            yield Item("reading", start, end, Told(filled=share), [])


def _depth(line: DiaryLine, figure: Figure) -> float | None:
    """How deep the only reading of a line was taken, in metres."""
    depths = [one for one in line.lengths if one.of == "depth"]
    near = [one for one in depths if line.part(one.start) == line.part(figure.start)]
    alone = len(line.figures) == 1
    deep = min(near or depths, key=lambda one: abs(one.start - figure.end), default=None) if alone else None
    return deep.metres if deep is not None else None


def _place(figure: Figure) -> Place:
    """Where in the vessel a reading is told of."""
    found: tuple[Place, ...] = ("middle", "edge", "top", "bottom")
    return next((one for one in found if one == figure.place), "")


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
            said = heard.text[fact.start :].casefold().replace(",", " ").replace(".", " ").split()
            plain = fact.because.casefold() in _PLAINLY_NOT and not _ANY_MORE.intersection(said[:4])
            yield Item("cure", fact.start, fact.end, Told(signs={name: (fact.value,)}), [], denied=plain)


#: A denial by these says only that something is not there: "no bears".
_PLAINLY_NOT: Final = frozenset({"no", "not", "without", "never", "none", "nor", "neither"})
_ANY_MORE: Final = frozenset({"anymore", "more", "longer", "left", "now"})
#: What "no change" says in a talk about a heap that stands still; in a diary it compares with the last entry.
_AS_IT_WAS: Final = frozenset({"progress", "looks"})


def _alone(line: DiaryLine, fact: Fact) -> bool:
    """Whether the part of the line around a fact names no vessel but the first of the line."""
    part = line.part(fact.start)
    first = line.vessels[0] if line.vessels else None
    return not any(one is not first and line.part(one.start) == part for one in line.vessels)


def _as_before(line: DiaryLine, fact: Fact) -> bool:
    return any(start < fact.end and fact.start < end for start, end in line.as_before)
