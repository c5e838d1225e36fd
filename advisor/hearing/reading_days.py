"""Of which day each of several readings of a line is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from itertools import pairwise

from advisor.hearing.finding import Finder
from advisor.hearing.placing import depths_in, paired, parted, places_in
from advisor.hearing.times import When
from advisor.records import dataclass

Days = tuple[date, date]

_NOW = frozenset({"now", "currently", "presently"})
#: "The last three days", "these past 4 mornings": a reading of each.
_RUN_LEADS = frozenset({"last", "past", "these"})
_A_DAY = frozenset({"day", "night", "morning", "evening"})
_LEADING = frozenset({"on", "the", "over", "so", "heap", "bin", "my", "was", "it"})
#: "Three days running", "four days in a row".
_RUN_ENDS = frozenset({"running", "straight"})
_LONGEST_RUN = 31


@dataclass(frozen=True, slots=True)
class DayTold:
    """A day, or the first and the last that it may be, with its characters in the line.

    `beside` tells that it follows the one before in a row: "Wednesday and again on Saturday".
    """

    when: When
    start: int
    end: int
    beside: bool = False


def days_of_readings(
    finder: Finder, figures: Sequence[tuple[int, int]], days: Sequence[DayTold], today: date
) -> list[Days | None] | None:
    """The days that each figure may be of, by its own day, "now", or the day that leads the line.

    A figure without any is of today where another has its own, and None where the line tells no day at all. A run of
    as many days as there are figures has one figure for each day, the oldest first and the last of today.

    Args:
        figures: first word and word behind, in order.
        days: the days that the line tells.

    Returns:
        Nothing at all if several figures share several days, and none says which is of which.
    """
    if len(figures) < 2:
        return [None] * len(figures)
    placed = len(places_in(finder)) + len(depths_in(finder)) >= len(figures)
    run = _run(finder)
    if run and not placed:
        if run != len(figures):
            return None
        ago = (timedelta(len(figures) - 1 - number) for number in range(len(figures)))
        return [(today - each, today - each) for each in ago]
    now = [(at, at + 1, (today, today)) for at, word in enumerate(finder.line.words) if word.form in _NOW]
    told = [(one.when.start, one.when.end, (one.when.first, one.when.last)) for one in days]
    if not told or run:
        return [None] * len(figures)
    labels = [*_beside(finder, figures, sorted([*told, *now]))]
    found = paired(finder, figures, labels)
    leads = [days for start, _, days in labels if start < figures[0][0]]
    joined = all(
        {word.form for word in finder.line.words[end:start]} <= {"and", "&", ","}
        for (_, end), (start, _) in pairwise(figures)
    )
    if leads:
        found = [one or leads[-1] for one in found]
    elif len(labels) == 1 and found[-1] is not None and (placed or joined):
        found = [found[-1]] * len(figures)  # one day behind all: "62 in the middle and 40 at the edge yesterday"
    elif labels:
        found = [one or (today, today) for one in found]
    spans = [one for one in found if one is not None and one[0] != one[1]]
    return None if len(spans) > len(set(spans)) and not placed else found


def _run(finder: Finder) -> int:
    """How many days a line tells of, one after another; 0 if it tells of no run: "the last three days"."""
    words = finder.line.words
    for at, (count, end) in finder.numbers.items():
        if end < len(words) and words[end].lemma in _A_DAY and 2 <= count <= _LONGEST_RUN and count == int(count):
            before = words[at - 1].form if at else ""
            behind = words[end + 1].form if end + 1 < len(words) else ""
            in_a_row = finder.line.said(end + 1, min(end + 4, len(words))).casefold() == "in a row"
            if before in _RUN_LEADS or behind in _RUN_ENDS or in_a_row:
                return int(count)
    return 0


def _beside(
    finder: Finder, figures: Sequence[tuple[int, int]], labels: Sequence[tuple[int, int, Days]]
) -> Iterator[tuple[int, int, Days]]:
    """Days that stand beside a figure, lead the line, or are as many as the figures; others are those of a deed."""
    if len(labels) == len(figures):
        yield from labels
        return
    for start, end, days in labels:
        before = max((last for _, last in figures if last <= start), default=None)
        behind = min((first for first, _ in figures if first >= end), default=None)
        near = before is not None and not parted(finder, before, start)
        near = near or (behind is not None and not parted(finder, end, behind))
        if near or (before is None and all(word.form in _LEADING for word in finder.line.words[:start])):
            yield start, end, days
