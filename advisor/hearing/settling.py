"""What became of a deed of the list of the day: "done 1", "skip 2", "put off 3 for a week"; and spans of days."""

from __future__ import annotations

from datetime import date, timedelta

from advisor.hearing.cutting import cut
from advisor.hearing.english import listed
from advisor.hearing.finding import Finder
from advisor.hearing.times import WEEKDAYS
from advisor.hearing.vocabulary import vocabulary_for
from advisor.household.measuring import DAYS
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass

_HOW = {"settle-why": "why", "settle-later": "put off", "settle-skip": "skipped", "settle-done": "done"}
_LONGEST = 9  # words; a longer line tells something else
#: The line may hold these besides a number, what became of it, and days: "forget 2 bags of leaves" settles nothing.
_BESIDE = listed(
    "i we have had has it is was that this the a an number no deed job please now already just today tomorrow until "
    "till to for by of on about me us one first more another can must couple next well and only due , . ! ? : #"
)
_USUAL_DAYS = 2


@dataclass(frozen=True, slots=True)
class Settling:
    """A number of the list and what became of it: "done", "skipped", "put off" for so many days; or "why" it is due."""

    number: int
    how: str
    days: int = _USUAL_DAYS


def settling(text: str, knowledge: Knowledge, today: date) -> Settling | None:
    """What a line says became of one deed of the list; nothing if it says no such thing."""
    finder = _finder(text, knowledge)
    words = finder.line.words
    if not words or len(words) > _LONGEST:
        return None
    how = next((said for name, said in _HOW.items() if finder.where(name)), "")
    numbers = [
        int(figure)
        for at, (figure, end) in finder.numbers.items()
        if figure == int(figure) and not (end < len(words) and (words[end].lemma,) in DAYS)
    ]
    if not how or len(numbers) != 1 or not _says_no_more(finder):
        return None
    weekday = next((WEEKDAYS.index(word.form) for word in words if word.form in WEEKDAYS), None)
    ahead = (weekday - today.weekday() - 1) % 7 + 1 if weekday is not None else 0
    tomorrow = 1 if any(word.form == "tomorrow" for word in words) else 0
    return Settling(numbers[0], how, days_told(text, knowledge) or ahead or tomorrow or _USUAL_DAYS)


def _says_no_more(finder: Finder) -> bool:
    """Whether a line holds nothing but what became of a number."""
    words = finder.line.words
    held: set[int] = set()
    for name in _HOW:
        for at in finder.where(name):
            held |= set(range(at, max(finder.things(name, at))))
    for at, (_, end) in finder.numbers.items():
        held |= set(range(at, end))
    rest = (word for at, word in enumerate(words) if at not in held)
    return all(word.form in _BESIDE or word.form in WEEKDAYS or (word.lemma,) in DAYS for word in rest)


def days_told(text: str, knowledge: Knowledge) -> int:
    """The first span of days that a line names: 21 of "for three weeks", 14 of "a fortnight"; 0 if it names none."""
    finder = _finder(text, knowledge)
    words = finder.line.words
    for at, word in enumerate(words):
        worth = DAYS.get((word.lemma,))
        if worth is None or worth < 1:
            continue
        before = words[at - 1].form if at else ""
        counted = next((figure for figure, end in finder.numbers.values() if end == at), None)
        count = counted if counted is not None else {"a": 1.0, "one": 1.0, "couple": 2.0, "of": 2.0}.get(before, 0.0)
        if count:
            return min(round(count * worth), timedelta(days=400).days)
    return 0


def asks_of_days(text: str, knowledge: Knowledge) -> bool:
    """Whether a line asks for the days to come and not for today alone."""
    return bool(_finder(text, knowledge).where("settle-week"))


def asks_what_is_due(text: str, knowledge: Knowledge) -> bool:
    """Whether a line asks for the list of the day by that word: "what is due?"."""
    return bool(_finder(text, knowledge).where("settle-due"))


def _finder(text: str, knowledge: Knowledge) -> Finder:
    words = vocabulary_for(knowledge)
    return Finder(cut(text, words.english), words, knowledge)
