"""What is due today in words."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from advisor.counsel.wording import capital
from advisor.diary.due import DueDeed, DueList
from advisor.hearing.times import day_text

#: What is said where there is nothing to go by.
EMPTY = "The diary holds no heap or bin yet. Begin it with: heapwright log “turned the north heap, 55 C”."


def due_lines(found: DueList, *, week: bool = False, away: bool = False, why: bool = True) -> Iterator[str]:
    """The list in lines: how many deeds there are, then each with how to do it and why.

    Args:
        why: whether the reasons are given with the deeds.
    """
    if not found.vessels and not found.beds:
        yield EMPTY
        return
    when = "before you go" if away else ("this week" if week else "today")
    if not found.deeds:
        yield nothing_due(found, when)
        return
    yield f"{count_of(found)} to do {when}{', the most needed first' if len(found.deeds) > 1 else ''}:"
    for number, deed in enumerate(found.deeds, 1):
        yield from deed_lines(number, deed, found, why=why)
    if found.more:
        yield more_of(found)


def count_of(found: DueList) -> str:
    """How many deeds are named: "One thing", "Three things"."""
    count = len(found.deeds)
    return "One thing" if count == 1 else f"{_COUNTS.get(count, count)} things"


_COUNTS: Final[dict[int, str]] = {2: "Two", 3: "Three", 4: "Four", 5: "Five"}


def more_of(found: DueList) -> str:
    """That further deeds are due."""
    more = {1: "One", **_COUNTS}.get(found.more, str(found.more))
    return f"{more} more can wait until {'this is' if len(found.deeds) == 1 else 'these are'} done."


def nothing_due(found: DueList, when: str = "today") -> str:
    """That there is nothing to do, and for what that was worked out, in one line."""
    heaps = ""
    if found.vessels:
        heaps = "your heap or bin" if found.vessels == 1 else f"your {found.vessels} heaps and bins"
    beds = ("your bed" if found.beds == 1 else f"your {found.beds} beds") if found.beds else ""
    both = " and ".join(part for part in (heaps, beds) if part)
    return f"There is nothing to do {when} for {both}."


def deed_title(deed: DueDeed, today: date | None = None, *, late: bool = True) -> str:
    """A deed in a few words: "Heap: wrap it for the winter", with how late it is or the day on which it will be due."""
    days = f" ({deed.late} days late)" if deed.late > 1 and late and not deed.back else ""
    if deed.ahead and today is not None:
        days = f" (on {day_text(today + timedelta(deed.ahead))})"
    return f"{capital(deed.vessel)}: {deed.name[:1].lower()}{deed.name[1:]}{days}"


def deed_lines(number: int, deed: DueDeed, found: DueList, *, why: bool = True) -> Iterator[str]:
    """A deed: what, of which vessel, how, and why now."""
    yield f"{number}. {deed_title(deed, found.day)}."
    yield f"   {deed.say}"
    if why:
        yield f"   Why: {deed.reason}"


def away_line(deed: DueDeed) -> str:
    """What has probably happened to a vessel of which nothing was told for a long time, and the one look that tells."""
    return f"{capital(deed.vessel)}: {deed.since[:1].lower()}{deed.since[1:]} {deed.say}"
