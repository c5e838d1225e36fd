"""Figures of a diary line as they were told: temperatures, depths and heights, amounts, how full it is, days."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from datetime import date

from advisor.hearing.finding import Finder
from advisor.hearing.placing import depths_in, paired, places_in
from advisor.hearing.reading_days import DayTold, days_of_readings
from advisor.hearing.readings import LEAST_BARE, MOST_BARE, Figure, figures_told
from advisor.hearing.shapes import Heard
from advisor.hearing.times import WEEKDAYS, When, times
from advisor.records import dataclass

_BREAKS = frozenset({",", ";", ".", "!", "?", ":", "\n", "+", "&", "-"})
_LASTING = frozenset({"for", "these"})  # "no rain for a month"
#: Between two days of a row there may be these.
_BETWEEN_DAYS = frozenset({"and", "&", "+", ",", "again", "then", "on", "once", "more", "the"})
_ONTO = frozenset({"on", "onto", "over", "round", "around", "across", "under", "to"})
_DRESSED = frozenset({"mulched", "dressed", "fed"})  # "mulched the roses"
_THE = frozenset({"the", "my", "our"})
_BEDS = frozenset({"bed", "beds", "border", "borders", "patch", "plot", "garden", "lawn"})
#: Where the name of a bed ends.
_NO_BED = _ONTO | {"and", "from", "with", "in", "at", "then", "today", "yesterday", "this", "last", "before", "where"}
_NO_BED |= {*WEEKDAYS, "heap", "bin", "tumbler"}
_LONGEST_BED = 4  # words


@dataclass(frozen=True, slots=True)
class LengthTold:
    """A length, and what it is of: "depth" of a probe, "height" of the stuff, or empty."""

    metres: float
    of: str
    start: int
    end: int


def parts_line(finder: Finder, at: int) -> bool:
    """Whether a mark stands at a place that parts the line."""
    word = finder.line.words[at]
    return word.form in _BREAKS and (word.form != "-" or finder.line.text[max(0, word.start - 1)] == " ")


#: What may stand right behind a bare figure that was read.
_ENDS = frozenset(
    {"in", "at", "now", "today", "and", "on", "yesterday", "the", "over", "last", "this", "near", "around", "down", "/"}
)


def temperatures_told(
    finder: Finder, heard: Heard, behind: Collection[int], days: Sequence[DayTold], today: date
) -> list[Figure]:
    """Temperatures; a bare figure is one behind a word for reading it, alone in its part, or with a place or depth.

    Each has the place, depth and day that belong to it; a figure in a row with readings is one too: "131, 135, 140".

    Args:
        behind: characters at which the names of vessels end: "north heap 55".
        days: the days that the line tells.
    """
    words = finder.line.words
    counted = [(one.start, one.end) for one in heard.amounts] + [(one.start, one.end) for one in heard.sizes]
    counted += [(one.start, one.end) for one in days]
    figures: list[tuple[Figure, int, int, bool]] = []
    for one in figures_told(finder):
        at = next(place for place, word in enumerate(words) if word.end > one.start)
        end = next((place for place in range(at, len(words)) if words[place].start >= one.end), len(words))
        read = at > 0 and (bool(finder.things("vessel-reads", at - 1)) or words[at - 1].end in behind)
        alone = (at == 0 or parts_line(finder, at - 1)) and (end == len(words) or parts_line(finder, end))
        ends = end == len(words) or words[end].mark or words[end].form in _ENDS
        ends = ends or _place_at(finder, end) or end in finder.numbers
        ends = ends or any(words[end].start == day.start for day in days)
        free = not any(low < one.end and one.start < high for low, high in counted)
        sure = one.sure or (free and ends and (read or (alone and len(words) > 1)))
        if sure or free:
            figures.append((replace(one, sure=sure), at, end, ends))
    spans = [(at, end) for _, at, end, _ in figures]
    if not spans:
        return []
    places = paired(finder, spans, places_in(finder))
    depths = paired(finder, spans, depths_in(finder))
    of_days = days_of_readings(finder, spans, days, today)
    dated = of_days or [None] * len(spans)
    found: list[Figure] = []
    any_sure = any(one.sure for one, *_ in figures)
    for number, (one, at, _, ends) in enumerate(figures):
        named = places[number] is not None or depths[number] is not None
        in_row = bool(found) and found[-1].sure and words[at - 1].form in (",", "and", "/", "then")
        day = dated[number] is not None and (any_sure or sum(each is not None for each in dated) > 1)
        sure = one.sure or (ends and (named or in_row or day) and LEAST_BARE <= one.figure <= MOST_BARE)
        found.append(
            replace(
                one,
                sure=sure,
                place=places[number] or "",
                depth_m=depths[number],
                days=dated[number],
                undated=of_days is None,
            )
        )
    for number in range(len(found) - 2, -1, -1):  # the first of a row: "55 and 48 at the edge"
        _, _, end, ends = figures[number]
        joined = {word.form for word in words[end : figures[number + 1][1]]} == {"and"}
        if joined and ends and found[number + 1].sure and LEAST_BARE <= found[number].figure <= MOST_BARE:
            found[number] = replace(found[number], sure=True)
    return found


def _place_at(finder: Finder, at: int) -> bool:
    return any(start == at for start, _, _ in places_in(finder))


def lengths_told(finder: Finder) -> Iterator[LengthTold]:
    """Lengths with their units, but for those of stuff: "10 cm of leaves"."""
    words = finder.line.words
    for at in range(len(words)):
        figure = finder.spoken.figure("length", at)
        if figure is None:
            continue
        metres, end = figure
        following = words[end].form if end < len(words) else ""
        if following == "of":
            continue
        before = range(max(0, at - 4), at)
        of = ""
        if any(finder.things("vessel-high", place) for place in (*before, *range(end, min(end + 1, len(words))))):
            of = "height"
        elif (at and words[at - 1].form in ("at", "@")) or (end < len(words) and finder.things("vessel-deep", end)):
            of = "depth"
        yield LengthTold(metres, of, words[at].start, words[end - 1].end)


def filled_told(finder: Finder) -> Iterator[tuple[float, int, int]]:
    """How full a vessel is said to be, from 0 to 1, with its characters."""
    words = finder.line.words
    for at in range(len(words)):
        if not finder.things("vessel-full", at):
            continue
        share, first = 1.0, at
        for start in range(max(0, at - 4), at):
            figure = finder.spoken.figure("count", start)
            if figure is not None and figure[1] == at and 0 < figure[0] < 1:
                share, first = figure[0], start
                break
        else:
            if at and words[at - 1].form in ("half", "nearly", "almost", "not"):
                share = {"half": 0.5, "not": -1.0}.get(words[at - 1].form, 0.9)
                first = at - 1
        following = words[at + 1].form if at + 1 < len(words) else ""
        before = words[at - 1].form if at else ""
        if share > 0 and following not in ("of", "sun", "shade") and before not in ("a", "in"):
            yield share, words[first].start, words[at].end


def measures_told(finder: Finder) -> Iterator[tuple[float, str, int, int]]:
    """Amounts by a measure, whatever they are of: the number, "L", "kg" or a measure, and their characters."""
    words = finder.line.words
    behind = 0
    for at in range(len(words)):
        cans = finder.things("vessel-can", at + 1) if at in finder.numbers and at + 1 < len(words) else ()
        if cans and at >= behind:
            behind = max(cans)
            yield finder.numbers[at][0], "watering-can", words[at].start, words[behind - 1].end
            continue
        found = finder.spoken.amount(at) if at >= behind else None
        if found is None or not found[0].measured or found[0].trouble or found[0].count.vague:
            continue
        amount, behind = found
        measure = amount.unit or (amount.measures[0] if amount.measures else "")
        if measure:
            yield amount.count.value, measure, words[at].start, words[behind - 1].end


def places_told(finder: Finder) -> Iterator[tuple[str, int, int]]:
    """Where in a vessel something was read, with its characters."""
    words = finder.line.words
    for start, end, place in places_in(finder):
        yield place, words[start].start, words[end - 1].end


def as_before_told(finder: Finder) -> Iterator[tuple[int, int]]:
    """Words which say that it is as it was when it was told of last, as first and last place: "no change"."""
    for at in finder.where("vessel-as-before"):
        yield at, max(finder.things("vessel-as-before", at))


def days_told(finder: Finder, today: date) -> Iterator[DayTold]:
    """Days on which something was done; how old a heap is, and how long something lasts, are no such days."""
    words = finder.line.words
    behind = -1
    for when in times(finder, today):
        if when.since or is_age(finder, when) or (when.start and words[when.start - 1].form in _LASTING):
            continue
        between = {word.form for word in words[behind : when.start]} if behind >= 0 else {""}
        row = bool(between) and between <= _BETWEEN_DAYS
        yield DayTold(when, words[when.start].start, words[when.end - 1].end, beside=row)
        behind = when.end


def outdoors_told(finder: Finder) -> Iterator[tuple[int, int]]:
    """Words which say that a figure beside them is of the weather, with their characters: "33 degrees out"."""
    words = finder.line.words
    for at in finder.where("vessel-outdoors"):
        yield words[at].start, words[max(finder.things("vessel-outdoors", at)) - 1].end


def beds_told(finder: Finder) -> Iterator[tuple[str, int, int]]:
    """What compost is said to go on, as it was said without its article: "onion bed" of "on the onion bed"."""
    words = finder.line.words
    for at in range(len(words) - 1):
        if words[at].form not in _ONTO | _DRESSED:
            continue
        first = at + 2 if words[at + 1].form in _THE else at + 1
        last = first
        while last < len(words) and last - first < _LONGEST_BED and words[last].form.replace("'", "").isalpha():
            if words[last].form in _NO_BED:
                break
            last += 1
        named = [word.form for word in words[first:last]]
        if named and (first == at + 2 or named[-1] in _BEDS):
            yield " ".join(named), words[first].start, words[last - 1].end


def is_age(finder: Finder, when: When) -> bool:
    """Whether a span of time says how old something is: "3 weeks old"."""
    return finder.line.words[when.end - 1].form == "old"
