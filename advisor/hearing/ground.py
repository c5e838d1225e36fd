"""Sizes that a line tells: ground plans, areas of ground, and what a measure of their own holds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.english import listed
from advisor.hearing.finding import Finder
from advisor.hearing.shapes import HeardSize
from advisor.hearing.sizes import area_at, room_at
from advisor.hearing.stance import Taken, stance
from advisor.household.quantities import measure_at

_HOLDING = frozenset(
    {"is", "are", "hold", "holds", "take", "takes", "contain", "contains", "=", ":", "means", "equals"}
)
_BETWEEN = frozenset({"a", "an", "about", "each", "the", "around", "is", "here", "nearly", "exactly", "of"})
_PER = ("to", "per", "in")


def sizes(finder: Finder, taken: Sequence[Taken]) -> tuple[HeardSize, ...]:
    """Every size of a line, in order."""
    return tuple(_sizes(finder, taken))


def _sizes(finder: Finder, taken: Sequence[Taken]) -> Iterator[HeardSize]:
    words, spoken = finder.line.words, finder.spoken
    at = 0
    while at < len(words):
        if not spoken.begins(at):
            at += 1
            continue
        found = _own_measure(finder, at) or _ground(finder, at)
        if found is None:
            at += 1
            continue
        size, end = found
        clause = finder.line.clause_of(at)
        how = stance(finder, at, end, clause, taken).name
        first, last = words[at].start, words[end - 1].end
        yield HeardSize(finder.line.said(at, end), how, first, last, *size)
        at = end


def _own_measure(finder: Finder, at: int) -> tuple[tuple, int] | None:  # type: ignore[type-arg]
    """ "My bucket is 12 L", "a sack holds about 80 litres", "12 litres to the bucket"."""
    words, spoken = finder.line.words, finder.spoken
    litres = spoken.figure("litres", at)
    if litres is not None and litres[1] < len(words) and words[litres[1]].form in _PER:
        place = litres[1] + 1
        while place < len(words) and words[place].form in ("the", "a", "each"):
            place += 1
        measure = _measure(finder, place) if place < len(words) else None
        if measure is not None:
            return (None, 0.0, False, measure[0], round(litres[0], 3)), measure[1]
    measure = _measure(finder, at)
    if measure is None:
        return None
    name, place = measure
    while place < len(words) and words[place].form in ("here",):
        place += 1
    if place >= len(words) or words[place].form not in _HOLDING:
        return None
    place += 1
    while place < len(words) and words[place].form in _BETWEEN and spoken.figure("litres", place) is None:
        place += 1
    litres = spoken.figure("litres", place) if place < len(words) else None
    if litres is None or litres[0] <= 0:
        return None
    end = litres[1]
    while end < len(words) and words[end].form in ("each", "one"):
        end += 1
    return (None, 0.0, False, name, round(litres[0], 3)), end


def _measure(finder: Finder, at: int) -> tuple[str, int] | None:
    spoken = finder.spoken
    if not spoken.begins(at):
        return None
    found = measure_at(spoken.tokens, spoken.token(at), spoken.measures)
    return (found[0][0], spoken.word(found[1])) if found is not None else None


def _ground(finder: Finder, at: int) -> tuple[tuple, int] | None:  # type: ignore[type-arg]
    """A ground plan or an area, where the numbers count nothing else."""
    words, spoken = finder.line.words, finder.spoken
    area = area_at(spoken.tokens, spoken.token(at))
    if area is not None:
        end = spoken.word(area[1])
        return (None, area[0], area[2] or _is_of_beds(finder, at, end)), end
    room = room_at(spoken.tokens, spoken.token(at))
    if room is None:
        return None
    end = spoken.word(room[1])
    if _is_of_beds(finder, at, end):
        return None
    if end < len(words) and (words[end].form == "of" or _measure(finder, end) is not None):
        return None
    return (room[0], 0.0, False, "", 0.0, room[2]), end


#: So many words before or behind a size its land is named.
_NEAR = 3
_LAND = listed("bed beds border borders lawn lawns garden orchard allotment plot paddock meadow veg vegetables crops")


def _is_of_beds(finder: Finder, start: int, end: int) -> bool:
    """Whether a size is that of land that is planted, and of no free ground: "100 square metres of beds"."""
    words = finder.line.words
    before = {word.form for word in words[max(start - _NEAR, 0) : start]}
    behind = {word.form for word in words[end : end + _NEAR]} if end < len(words) and words[end].form == "of" else set()
    return bool(_LAND & (before | behind))
