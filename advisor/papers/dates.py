"""The dates that answers hold, for a calendar: what is to be done or looked at, for whom, and when."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import TYPE_CHECKING, Final

from advisor.counsel.almanac import Almanac
from advisor.counsel.plan import Plan
from advisor.diagnosis.shapes import Diagnosis
from advisor.errors import HeapwrightError
from advisor.records import dataclass
from advisor.soil_counsel.shapes import ReadyAnswer, SeasonsAnswer, TaskFound, YearFound

if TYPE_CHECKING:
    from advisor.papers.paper import Answer

_HARVESTS: Final = {
    "touches-soil": "From today, crops that touch the soil can be harvested (after raw manure)",
    "clear-of-soil": "From today, crops clear of the soil can be harvested (after raw manure)",
}


@dataclass(frozen=True, slots=True)
class Dated:
    """Something on a day, or in a stretch of days, both included.

    Attributes:
        key: what it is, the same in every calendar for the same matter; no two of a calendar share one.
        title: what to do, as one reads it in a calendar.
        text: all that is said of it.
        every_days, times: done again after so many days, so many times in all.
    """

    key: str
    opens: date
    closes: date
    title: str
    text: str
    every_days: int = 0
    times: int = 1


@dataclass(frozen=True, slots=True)
class Dates:
    """The dates of an answer. `matter` and `whose` say which calendar it is: the same two, and it is the same one."""

    matter: str
    whose: str
    dated: tuple[Dated, ...]

    @property
    def name(self) -> str:
        """What the calendar is called."""
        return f"{_NAMES[self.matter]}: {self.whose}" if self.whose else _NAMES[self.matter]


_NAMES: Final = {
    "plan": "Compost",
    "year": "A year's compost",
    "seasons": "Beds through the seasons",
    "cure": "A heap in trouble",
    "harvest": "Manure and harvest",
}


def dates_of(answer: Answer, today: date) -> Dates:
    """The dates of an answer, in order.

    Args:
        today: from when a cure is counted, and in which year months lie whose year was not told.

    Raises:
        HeapwrightError: it holds none; with what would have to be told.
    """
    if isinstance(answer, Plan):
        found = Dates("plan", answer.household, tuple(_of_plan(answer)))
        hint = "say the day on which it is built: --start DATE, or start = DATE in the household file"
    elif isinstance(answer, Almanac):
        found, hint = Dates("year", answer.household, tuple(_of_year(answer, today))), ""
    elif isinstance(answer, SeasonsAnswer):
        found = Dates("seasons", answer.name, tuple(_of_seasons(answer)))
        hint = "say both frosts: --last-frost 04-20 --first-frost 10-10, or --frost-free"
    elif isinstance(answer, Diagnosis):
        found, hint = Dates("cure", answer.household, tuple(_of_cure(answer, today))), "there is nothing to do or await"
    elif isinstance(answer, ReadyAnswer):
        found, hint = Dates("harvest", "", tuple(_of_harvest(answer))), "say when manure was worked in: --manure DATE"
    else:
        found, hint = Dates("", "", ()), "plan, year, seasons, diagnose and ready have them"
    if not found.dated:
        raise HeapwrightError("this answer has no dates for a calendar", hint=hint)
    return Dates(found.matter, found.whose, tuple(sorted(found.dated, key=lambda one: (one.opens, one.key))))


def _of_plan(plan: Plan) -> Iterator[Dated]:
    if not plan.built:
        return
    built = date.fromisoformat(plan.built)
    mix = "\n".join(line.line.text for line in plan.recipe.lines)
    steps = "\n".join(line.text for line in (*plan.prepare, *plan.steps))
    yield Dated("build", built, built, f"Build: {plan.choice.name}", "\n\n".join(filter(None, (mix, steps))))
    for event in plan.events:
        day = date.fromisoformat(event.date)
        yield Dated(event.what, day, day, event.line.text, event.line.text, event.every_days, event.times)
    if plan.ready_date:
        day = date.fromisoformat(plan.ready_date)
        yield Dated("ready", day, day, "Look whether the compost is ready", plan.ready.text)


def _of_year(year: Almanac, today: date) -> Iterator[Dated]:
    """A date for each month, that comes again each week of it, and one for each batch that is begun."""
    anchor = date.fromisoformat(year.start) if year.start else today
    first = date(anchor.year - (anchor.month < year.begins), year.begins, 1)
    weeks_of = {month.name: sum(week.month == month.name for week in year.weeks) for month in year.months}
    batch = 0
    for month in year.months:
        if month.goes_in:
            key = f"month-{first:%Y-%m}"
            yield Dated(key, first, first, month.line.text, month.line.text, 7, max(weeks_of[month.name], 1))
        if month.batch != batch:
            batch = month.batch
            text = next((one.line.text for one in year.batches if one.number == batch), "")
            yield Dated(f"batch-{first:%Y-%m}", first, first, f"Begin batch {batch}", text)
        first = (first + timedelta(days=32)).replace(day=1)


def _of_seasons(answer: SeasonsAnswer) -> Iterator[Dated]:
    several = len({year.bed for year in answer.years}) > 1
    for year in answer.years:
        if not year.tasks:
            continue
        told: dict[str, int] = {}
        for task in year.tasks:
            what = f"{_season(answer, year)}-{year.bed}-{task.what}-{_of_what(task)}"
            told[what] = told.get(what, 0) + 1
            bed = f"{year.bed}: " if several else ""
            yield Dated(f"{what}-{told[what]}", task.opens, task.closes, f"{bed}{task.say}", f"{bed}{task.say}")


def _season(answer: SeasonsAnswer, year: YearFound) -> int:
    """The calendar year by which a season is known, whatever season the plan begins with."""
    if year.year <= len(answer.frost_free):
        return answer.frost_free[year.year - 1].last_frost.year
    return min(task.opens for task in year.tasks).year


def _of_what(task: TaskFound) -> str:
    return task.between or task.family or "+".join(sorted(task.seed_grams))


def _of_cure(found: Diagnosis, today: date) -> Iterator[Dated]:
    """What to do today, and for each remedy when to look again; a trouble of another day is another one."""
    for cure in found.remedies:
        key = f"{today.isoformat()}-{cure.remedy}"
        yield Dated(f"do-{key}", today, today, cure.line.text, cure.line.text)
        again = today + timedelta(days=cure.look_again_days)
        text = f"{cure.line.text}\n\nIf it works: {cure.expect}\nIf not: {cure.otherwise}"
        yield Dated(f"look-{key}", again, again, f"Look again: {cure.expect}", text)


def _of_harvest(answer: ReadyAnswer) -> Iterator[Dated]:
    for kind, day in answer.harvest.items():
        yield Dated(kind, day, day, _HARVESTS[kind], _HARVESTS[kind])
