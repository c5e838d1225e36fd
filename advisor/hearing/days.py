"""A day that is asked for, in any words: of an option of the command line, of a guided interview."""

from __future__ import annotations

from datetime import date, timedelta

from advisor.errors import HouseholdError
from advisor.hearing.cutting import cut
from advisor.hearing.english import listed
from advisor.hearing.finding import Finder
from advisor.hearing.times import times
from advisor.hearing.vocabulary import vocabulary_for
from advisor.household.days import calendar_day, date_at
from advisor.household.tokens import shown
from advisor.knowledge.base import Knowledge

#: What may stand beside a day without telling of another matter.
_BESIDE = listed(
    "on in the about around roughly it was is that i we did done made think guess maybe some early late mid middle of "
    "sometime from , ."
)


def read_day(text: str, where: str, knowledge: Knowledge, today: date, *, ahead: bool = False) -> date:
    """A day that has been: "today", "yesterday", "3 weeks ago", "last Tuesday", "1 April", "2026-04-01".

    What lasts several days, such as "last week" or "in May", is taken at its middle.

    Args:
        ahead: whether it may be still to come; then "1 April" is the next.

    Raises:
        HouseholdError: it is none, or is still to come.
    """
    finder = Finder(cut(text, vocabulary_for(knowledge).english), vocabulary_for(knowledge), knowledge)
    words = [word.form for word in finder.line.words]
    found = [(when.first, when.last, when.start, when.end) for when in times(finder, today)]
    named = next(((at, told) for at in range(len(words)) if (told := date_at(words, at))), None)
    if named is not None and (ahead or not found):
        at, (year, month, day, end) = named
        when = date(year or _next_year(month, day, today), month, day)
        found = [(when, when, at, end)]
    rest = {form for _, _, start, end in found[:1] for form in (*words[:start], *words[end:])}
    if len(found) != 1 or not rest <= _BESIDE:
        hint = "say today, 3 weeks ago, 1 April, or write it as in 2026-04-01"
        raise HouseholdError(f"“{shown(text)}” is no day", where=where, hint=hint)
    first, last = found[0][:2]
    calendar_day(first, where)
    if first > today and not ahead:
        hint = "say the day on which it was done"
        raise HouseholdError(f"{first.isoformat()} is still to come", where=where, hint=hint)
    return first + timedelta((last - first).days // 2)


def _next_year(month: int, day: int, today: date) -> int:
    """The year of the next such day; of a 29th of February, one that has it."""
    year = today.year + ((month, day) < (today.month, today.day))
    return year if (month, day) != (2, 29) else year + -year % 4
