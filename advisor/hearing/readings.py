"""Figures that are signs: temperatures inside a heap, one or a series, and its moisture in per cent.

A figure is a reading where it has a unit of degrees or stands beside a word for a thermometer or the middle of a heap;
it is none if it measures something else, or if the nearest word says that it is of the air, a room or an oven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from typing import Literal

from advisor.hearing.cutting import Clause
from advisor.hearing.english import listed
from advisor.hearing.finding import Finder
from advisor.hearing.placing import depths_in, of_the_core, paired, places_in
from advisor.hearing.questions import asking
from advisor.hearing.said_figures import chain, decades, hundreds, hyphened, is_below_zero, is_label, loosened
from advisor.hearing.shapes import Fact
from advisor.hearing.stance import Stance, Taken, stance
from advisor.records import dataclass

Unit = Literal["", "c", "f", "degrees"]

_CELSIUS = frozenset({"c", "°c", "celsius", "centigrade", "celcius", "degc"})
_FAHRENHEIT = frozenset({"f", "°f", "fahrenheit", "farenheit", "fahrenheight", "degf"})
_DEGREES = frozenset({"degree", "degrees", "deg", "degs", "°", "º", "grades", "grade", "degress", "degres", "digrees"})
#: Above this a figure without a scale is read as Fahrenheit: nothing living is hotter than 80 °C or so.
_BARE_CELSIUS_MOST = 95.0
LEAST_BARE, MOST_BARE = 10.0, 180.0
_COLDEST, _HOTTEST = -40.0, 120.0
_BOUNDS = frozenset({"above", "over", "past", "beyond", "than", "exceeding", "exceed", "yet"})
#: What may stand right before what something rose to, fell to or keeps to.
_REACHING = listed(
    "from to below under at on around about near nearly almost touching touched nudging nudged hit hits hitting "
    "reached reaching reaches topped past over above only just barely approaching shy passed yet"
)
#: A bare figure is a reading only if none of what it could count stands behind it.
_AFTER = listed(
    "in at on inside and this but still again by after when down right steady from to the then or so "
    "since two three all within max tops"
)
#: A heap that was at least so hot, and is now below, has cooled: it works above 40 °C. Rynk and others, On-Farm
#: Composting Handbook, NRAES-54, 1992: thermophilic from 40 °C (105 °F), heaps at work at 55 to 65 °C.
_WAS_HOT, _COOLED = 50.0, 42.0
#: Moisture of stuff that rots well, in per cent of its weight: 40 to 65, by the same handbook.
_DRY_BELOW, _WET_ABOVE = 40.0, 65.0
#: Of a worm bin: 60 to 90 per cent. Edwards and Bohlen, Biology and Ecology of Earthworms, 1996 (from memory).
_WORMS_DRY_BELOW, _WORMS_WET_ABOVE = 60.0, 90.0


_TOLD = Stance("told")


@dataclass(frozen=True, slots=True)
class _Reading:
    """A figure that may be a temperature: words `start` up to `end`, with its unit; `labelled` if one of a series."""

    figure: float
    start: int
    end: int
    unit: Unit
    clause: Clause
    labelled: bool
    how: Stance = _TOLD


def temperatures(finder: Finder, taken: Sequence[Taken]) -> Iterator[Fact]:
    """Temperatures of the stuff, in °C, in order; of a series the last is told, and a fall says that it was hot."""
    found = [one for one in _figures(finder) if _is_reading(finder, one)]
    fahrenheit = any(one.unit == "f" or (one.unit != "c" and one.figure > _BARE_CELSIUS_MOST) for one in found)
    read = [replace(one, figure=_celsius(one, fahrenheit), how=_stance(finder, one, taken)) for one in found]
    read = [one for one in read if _COLDEST <= one.figure <= _HOTTEST]
    read = list(_series(finder, read))
    core = _of_the_core(finder, read)
    for one in read:
        yield _fact(finder, one, "sign.degrees" if one in core else OFF_CORE, f"{one.figure:.0f}", "")
    read = core
    told = [one for one in read if one.how.name == "told"]
    past = [one.figure for one in read if one.how.name == "past"]
    if told and past and max(past) >= _WAS_HOT and told[-1].figure <= _COOLED:
        yield _fact(finder, told[-1], "sign.heat_before", "was-hot", "was-hot")


#: A reading beside one of the core: kept in a diary, and no sign of how hot the heap is.
OFF_CORE = "reading.off-core"


def _of_the_core(finder: Finder, read: Sequence[_Reading]) -> list[_Reading]:
    """The readings that decide: of those told of now the ones of the core, and all of before."""
    now = [one for one in read if one.how.name == "told"]
    if len(now) < 2:
        return list(read)
    spans = [(one.start, one.end) for one in read]
    places = dict(zip(spans, paired(finder, spans, places_in(finder)), strict=True))
    depths = dict(zip(spans, paired(finder, spans, depths_in(finder)), strict=True))
    keys = [(one.start, one.end) for one in now]
    decides = of_the_core([(places[key] or "", depths[key]) for key in keys])
    off = [one for one, core in zip(now, decides, strict=True) if not core] if any(decides) else []
    return [one for one in read if one not in off]


def air(finder: Finder) -> float | None:
    """The temperature of the air beside a heap, in °C, if the line tells one: "ambient 20 C"; else None."""
    found = list(_figures(finder))
    fahrenheit = any(one.unit == "f" or (one.unit != "c" and one.figure > _BARE_CELSIUS_MOST) for one in found)
    told = [
        _celsius(one, fahrenheit)
        for one in found
        if _distance(finder, "reading-air", one, near := _segment(finder, one.start, one.end, one.clause))
        < min(len(near), _distance(finder, "reading-here", one, near))
    ]
    return told[-1] if told else None


@dataclass(frozen=True, slots=True)
class Figure:
    """A temperature as it was told, with its characters in the line; `fahrenheit` tells its scale.

    Attributes:
        sure: whether the line says that it is one, by its unit.
        place: where in the vessel it was read, if the line says so: "middle", "edge", "top" or "bottom".
        depth_m: how deep it was read in metres, if the line says so.
        days: the first and the last day that it may be of, if the line tells days of several readings.
        undated: whether it is one of several of several days, and the line does not say which is of which.
    """

    figure: float
    fahrenheit: bool
    celsius: float
    sure: bool
    start: int
    end: int
    place: str = ""
    depth_m: float | None = None
    days: tuple[date, date] | None = None
    undated: bool = False


def figures_told(finder: Finder) -> Iterator[Figure]:
    """Every figure with a unit of heat, and every bare one that may be a reading, however far off it is."""
    words = finder.line.words
    found = list(_figures(finder))
    fahrenheit = any(one.unit == "f" or (one.unit != "c" and one.figure > _BARE_CELSIUS_MOST) for one in found)
    for one in found:
        celsius = _celsius(one, fahrenheit)
        yield Figure(
            one.figure, celsius != one.figure, celsius, bool(one.unit), words[one.start].start, words[one.end - 1].end
        )


def moistures(finder: Finder, taken: Sequence[Taken]) -> Iterator[Fact]:
    """What moistures in per cent say of the stuff: dry, right or wet. One in brackets is of a material, and is none."""
    words = finder.line.words
    worms = bool(finder.where("worm bin"))
    dry, wet = (_WORMS_DRY_BELOW, _WORMS_WET_ABOVE) if worms else (_DRY_BELOW, _WET_ABOVE)
    for at, (figure, end) in finder.numbers.items():
        clause = finder.line.clause_of(at)
        if end >= len(words) or words[end].form not in ("%", "percent") or clause.joined == "(" or figure > 100:
            continue
        if not any(finder.things("reading-damp", place) for place in _segment(finder, at, end, clause)):
            continue
        how = _stance(finder, _Reading(figure, at, end + 1, "", clause, labelled=False), taken)
        value, concept = (
            ("dry", "dry") if figure < dry else ("wet", "wet") if figure > wet else ("right", "right-moisture")
        )
        yield _fact(
            finder, _Reading(figure, at, end + 1, "", clause, labelled=False, how=how), "sign.moisture", value, concept
        )


def _fact(finder: Finder, one: _Reading, name: str, value: str, concept: str) -> Fact:
    words = finder.line.words
    said = finder.line.said(one.start, one.end)
    return Fact(
        name, value, one.how.name, said, concept, one.how.because, "", words[one.start].start, words[one.end - 1].end
    )


# ------------------------------------------------------------ figures and what they measure


def _figures(finder: Finder) -> Iterator[_Reading]:
    """Every figure of a line that measures nothing but heat, with its unit, below zero where it says so."""
    words, last = finder.line.words, len(finder.line.words)
    behind = 0
    numbers = {**finder.numbers, **dict(decades(finder)), **dict(hundreds(finder))}
    for at, (figure, end) in sorted(numbers.items()):
        if at < behind or is_label(finder, at):
            continue
        clause = finder.line.clause_of(at)
        whole, end = hyphened(finder, at, figure, end)
        joined, end = chain(finder, at, whole, end, clause.end)
        end = loosened(finder, end, clause.end)
        unit, behind = _unit(finder, end, clause.end)
        if not unit and (_counts(finder, end, clause.end) or (end < last and words[end].form in ("/", ":", "x", "%"))):
            behind = end
            continue
        if at > clause.start and words[at - 1].form in (":", "x", "£", "$", "ph", "/"):
            continue
        if at > 1 and words[at - 2].form == ":" and words[at - 1].end - words[at - 1].start == 1:
            continue  # C:N 30
        start = at
        if is_below_zero(finder, at, clause.start):
            joined, start = [-one for one in joined], at - 1
        labelled = (at > 0 and is_label(finder, at - 1)) or is_label(finder, behind + 1)
        yield _Reading(sum(joined) / 2 if len(joined) == 2 else joined[0], start, behind, unit, clause, labelled)


def _counts(finder: Finder, end: int, last: int) -> bool:
    """Whether what stands behind a figure is a unit of something else; "in" before "the" is no inch."""
    words = finder.line.words
    if end >= last:
        return False
    if words[end].form == "of" and end + 1 < last and words[end + 1].lemma in ("temperature", "heat"):
        return False
    if (
        words[end].form == "in"
        and end + 1 < last
        and words[end + 1].form in ("the", "my", "its", "there", "it", "middle")
    ):
        return False
    return bool(finder.things("unit", end) or finder.things("reading-other-unit", end)) and not finder.things(
        "reading-day", end
    )


def _unit(finder: Finder, end: int, last: int) -> tuple[Unit, int]:
    """The unit behind a figure, and the place behind it."""
    words = finder.line.words
    unit: Unit = ""
    while end < last:
        form = words[end].form
        if form in _CELSIUS:
            return "c", end + 1
        if form in _FAHRENHEIT:
            return "f", end + 1
        if form not in _DEGREES:
            break
        unit, end = "degrees", end + 1
    return unit, end


def _celsius(one: _Reading, fahrenheit: bool) -> float:
    if one.unit == "f" or (one.unit != "c" and (fahrenheit or one.figure > _BARE_CELSIUS_MOST)):
        return (one.figure - 32) * 5 / 9
    return one.figure


# ------------------------------------------------------------ whether it is of the heap


def _segment(finder: Finder, start: int, end: int, clause: Clause) -> range:
    """The places of a clause between the commas around a figure."""
    words = finder.line.words
    first, last = start, end
    while first > clause.start and words[first - 1].form not in (",", ";"):
        first -= 1
    while last < clause.end and words[last].form not in (",", ";"):
        last += 1
    return range(first, last)


def _is_reading(finder: Finder, one: _Reading) -> bool:
    near = _segment(finder, one.start, one.end, one.clause)
    here = _distance(finder, "reading-here", one, near)
    elsewhere = _distance(finder, "reading-elsewhere", one, near)
    if elsewhere < here or (elsewhere == here < len(near)):
        return False
    if one.unit:
        return True
    if not (LEAST_BARE <= one.figure <= MOST_BARE or one.figure < 0) or not _stands_alone(finder, one):
        return False
    if one.labelled or here < len(near) or any(start == one.end + 1 for start, _, _ in depths_in(finder)):
        return True  # "140 at 12 inches"
    sentence = next(part for part in finder.line.sentences if part.start <= one.start < part.end)
    spoken = finder.names("reading-here", sentence.start, sentence.end)
    return (
        spoken
        or _of_days(finder)
        or _moves(finder, one, near)
        or (_is_dated(finder, one.start, one.end) and _has_degrees(finder))
    )


def _distance(finder: Finder, name: str, one: _Reading, near: range) -> int:
    """How many words lie between a figure and the nearest word of a class; more than there are if none is near."""
    places = [at for at in near if not one.start <= at < one.end and finder.things(name, at)]
    return min((one.start - at if at < one.start else at - one.end for at in places), default=len(near) + 1)


def _stands_alone(finder: Finder, one: _Reading) -> bool:
    words = finder.line.words
    if one.end >= one.clause.end:
        return True
    word = words[one.end]
    if word.form == "of":
        return True  # what follows is a word for heat, or the figure would count
    return (
        word.mark
        or word.form in _AFTER
        or bool(finder.things("reading-day", one.end) or finder.things("reading-here", one.end))
    )


def _of_days(finder: Finder) -> bool:
    """Whether a line tells figures day by day, two or more, and names nothing that they could count."""
    dated = sum(
        LEAST_BARE <= figure <= MOST_BARE and _is_dated(finder, at, end) for at, (figure, end) in finder.numbers.items()
    )
    return dated > 1 and not _counts_things(finder)


def _is_dated(finder: Finder, start: int, end: int) -> bool:
    """Whether a day or "now" is named right before or behind a figure."""
    words = finder.line.words
    on = end < len(words) and words[end].form in ("on", "this")
    near = [*range(max(0, start - 3), start), end + on]
    ago = any(words[at].form in ("ago", "back") for at in range(end, min(end + 3, len(words))))
    return ago or any(finder.things("reading-day", at) for at in near if at < len(words))


_ASKS = listed("is are does do did can could should would will what how why when which may might shall if")
_DENIES = listed("no not never without nor neither cannot hardly n't isn't wasn't aren't didn't doesn't hasn't won't")
_SOMEBODY = frozenset({"i", "he", "we", "who", "they", "my"})


def _moves(finder: Finder, one: _Reading, near: range) -> bool:
    """Whether a bare figure is what something rose, fell or kept to, and counts nothing: "not above 30"."""
    words = finder.line.words
    first = one.start - 1
    while first > near.start and words[first].form in (
        "a",
        "the",
        "of",
        "low",
        "mid",
        "high",
        "upper",
        "steady",
        "about",
    ):
        first -= 1
    if first < near.start or words[first].form not in _REACHING or _counts_things(finder):
        return False
    return any(finder.things("reading-moves", at) for at in near) and not any(
        words[at].form in _SOMEBODY for at in range(near.start, one.start)
    )


def _counts_things(finder: Finder) -> bool:
    """Whether a line names stuff, an amount or animals, which its figures could count."""
    places = range(len(finder.line.words))
    materials = any(not finder.things("reading-moves", at) for at in finder.materials)  # "dropped" is no dropping
    return materials or any(finder.things(name, at) for name in ("amount", "animal") for at in places)


def _has_degrees(finder: Finder) -> bool:
    return any(word.form in _CELSIUS | _FAHRENHEIT | _DEGREES for word in finder.line.words)


# ------------------------------------------------------------ its stance


def _stance(finder: Finder, one: _Reading, taken: Sequence[Taken]) -> Stance:
    """As of other facts; "not above 30" tells that it is 30 at the most; a figure asked about is no reading."""
    how = stance(finder, one.start, one.end, one.clause, taken)
    before = finder.line.words[one.start - 1].form if one.start > one.clause.start else ""
    if before in ("at", "to", "of") and one.start - 1 > one.clause.start:
        before = finder.line.words[one.start - 2].form  # "not yet at 50"
    if how.name == "denied" and (before in _BOUNDS or before == "from"):  # "will not budge from 30"
        return Stance("told")
    own = _segment(finder, one.start, one.end, one.clause)
    if how.name == "denied" and one.unit and not any(finder.line.words[at].form in _DENIES for at in own):
        return Stance("told")  # "no flies, no smell, 133 F": what is denied stands before the comma
    near = range(one.clause.start, one.clause.end)
    sentence = finder.line.sentences[one.clause.sentence]
    parted = any(word.form == "," for word in finder.line.words[one.end : sentence.end])
    if parted and one.unit and how.name == "asked" and not _opens_a_question(finder, one):
        return Stance("told")
    if (
        how.name == "told"
        and not (parted and one.unit)  # "60 degrees, next move?"
        and asking(finder.line, one.clause)
        and not any(finder.things("reading-here", at) for at in near)
    ):
        return Stance("asked", finder.line.said(one.clause.start, one.start + 1))
    return how


def _opens_a_question(finder: Finder, one: _Reading) -> bool:
    """Whether a question is begun before a figure: "is 60 degrees, measured deep down, too hot?"."""
    sentence = finder.line.sentences[one.clause.sentence]
    return any(word.form in _ASKS for word in finder.line.words[sentence.start : one.start])


def _series(finder: Finder, read: Sequence[_Reading]) -> Iterator[_Reading]:
    """What is told before the newest figure, as of a day before or as where it came from, is past."""
    told = [one for one in read if one.how.name == "told"]
    newest = next((one for one in reversed(told) if not _is_older(finder, one)), None)
    dated = _of_days(finder) or sum(one.labelled for one in told) > 1
    for one in read:
        old = _is_older(finder, one) or (told.index(one) < told.index(newest) if one in told and newest else False)
        if newest and one in told and one is not newest and old and (dated or _is_before(finder, one)):
            yield replace(one, how=Stance("past", finder.line.said(one.start, one.end)))
        else:
            yield one


def _is_before(finder: Finder, one: _Reading) -> bool:
    """Whether the words around a figure say that it was read before another."""
    near = range(_segment(finder, one.start, one.end, one.clause).start, one.clause.end)
    return any(finder.things("reading-before", at) for at in near)


def _is_older(finder: Finder, one: _Reading) -> bool:
    """Whether a figure is the older one wherever it stands: "yesterday 52", "40 from 60", "was 140 last week"."""
    words = finder.line.words
    near = _segment(finder, one.start, one.end, one.clause)
    return words[one.start - 1].form == "from" or any(words[at].form in ("yesterday", "last") for at in near)
