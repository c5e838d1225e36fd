"""What is due today in words."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.diary.due import DueDeed, DueList
from advisor.hearing.times import day_text

#: What is said where there is nothing to go by.
EMPTY = "The diary holds no heap or bin yet. Begin it with: heapwright log “turned the north heap, 55 C”."


def due_lines(found: DueList, *, week: bool = False, away: bool = False) -> Iterator[str]:
    """The list in lines: how many deeds there are, then each with how to do it and why."""
    if not found.vessels:
        yield EMPTY
        return
    when = "before you go" if away else ("this week" if week else "today")
    heaps = "your heap or bin" if found.vessels == 1 else f"your {found.vessels} heaps and bins"
    if not found.deeds:
        yield f"There is nothing to do {when} for {heaps}."
        return
    count = "One thing" if len(found.deeds) == 1 else f"{len(found.deeds)} things"
    yield f"{count} to do {when}, the most needed first:"
    for number, deed in enumerate(found.deeds, 1):
        yield from deed_lines(number, deed, found)
    if found.more:
        more = "One more can wait" if found.more == 1 else f"{found.more} more can wait"
        yield f"{more} until these are done."


def deed_lines(number: int, deed: DueDeed, found: DueList) -> Iterator[str]:
    """A deed: what, of which vessel, how, and why now."""
    late = f" ({deed.late} days late)" if deed.late > 1 else ""
    if deed.ahead:
        day = found.day.fromordinal(found.day.toordinal() + deed.ahead)
        late = f" (on {day_text(day)})"
    yield f"{number}. {deed.vessel[:1].upper()}{deed.vessel[1:]}: {deed.name[:1].lower()}{deed.name[1:]}{late}."
    yield f"   {deed.say}"
    yield f"   Why: {deed.reason}"
