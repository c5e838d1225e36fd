"""How many people eat at home, as a line tells it: "family of four", "nine of us", "I live alone"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.hearing.finding import Finder
from advisor.hearing.shapes import Fact
from advisor.hearing.stance import Taken, stance

PEOPLE = "household.people"
#: More than that is no household that the program plans for.
_MOST = 500
_IN_WORDS = {"people-one": 1, "people-two": 2}


def people(finder: Finder, taken: Sequence[Taken]) -> Iterator[Fact]:
    """The number of people that a line tells, where it tells one; a number goes before words that stand for one."""
    found = next(_counted(finder), None) or next(_said(finder), None)
    if found is None:
        return
    number, start, end = found
    line = finder.line
    how = stance(finder, start, end, line.clause_of(start), taken)
    first, last = line.words[start].start, line.words[end - 1].end
    said = line.said(start, end)
    yield Fact(PEOPLE, f"{number:g}", how.name, said, PEOPLE, how.because, "household", first, last)


def _counted(finder: Finder) -> Iterator[tuple[float, int, int]]:
    before = {end for at in finder.where("people-before") for end in finder.things("people-before", at)}
    behind = set(finder.where("people-counted"))
    for at, (number, end) in sorted(finder.numbers.items()):
        if not 1 <= number <= _MOST or number % 1:
            continue
        if end in behind:
            yield number, at, max(finder.things("people-counted", end))
        elif at in before and end not in finder.materials:
            yield number, at, end


def _said(finder: Finder) -> Iterator[tuple[float, int, int]]:
    for name, number in _IN_WORDS.items():
        for at in finder.where(name):
            yield number, at, max(finder.things(name, at))
