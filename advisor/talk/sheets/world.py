"""What the sheets know of the world: the household, the beds, the day; and how an answer is said."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

from advisor.counsel.in_use import local_lines
from advisor.counsel.plan import Plan
from advisor.household.shapes import Holding, Household
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.papers.sections import Section
from advisor.records import dataclass
from advisor.services.shapes import Circumstances
from advisor.soil_counsel.ground import BedTold, CheckTold, Ground
from advisor.soil_counsel.shapes import Part
from advisor.talk.replies import Reply, ReplyKind
from advisor.talk.sheets.playing import Near
from advisor.units import Units

if TYPE_CHECKING:
    from advisor.papers.charts import Chart
    from advisor.papers.paper import Answer

#: A longer table is for the page, not for a talk.
_LONGEST_TABLE = 10


@dataclass(frozen=True)
class World:
    """What stood when the sheet was begun.

    Attributes:
        planning: the engine with the rules of planning.
        ground: the beds, frosts and checks of the diary.
        said: the words that opened the sheet, which may hold an answer already.
        unread: whether the diary holds anything that could not be read, so that what is missing was not never made.
        stored: dry browns that the diary says are put by.
    """

    knowledge: Knowledge
    planning: Engine
    household: Household
    plan: Plan | None
    units: Units
    today: date
    ground: Ground
    said: str = ""
    unread: bool = False
    stored: tuple[Holding, ...] = ()

    def day(self, text: str) -> date:
        """A day that has been. Raises HouseholdError."""
        from advisor.hearing.days import read_day

        return read_day(text, "", self.knowledge, self.today)

    def near(self, attribute: str) -> Near:
        """Other words for the values of an attribute, from rules/words/offered.toml."""
        from advisor.hearing.vocabulary import vocabulary_for

        return vocabulary_for(self.knowledge).near.get(attribute, {})


def circumstances(world: World, **more: Any) -> Circumstances:
    """What is known when a service is asked in the talk."""
    at = Circumstances(world.knowledge, lambda: world.planning, world.household, world.units, world.said, world.plan)
    return replace(at, **{"ground": world.ground, "today": world.today, **more})


def with_bed(ground: Ground, bed: BedTold) -> Ground:
    """The ground with one bed more, or another in the place of the one of that name."""
    others = tuple(one for one in ground.beds if one.name != bed.name)
    return replace(ground, beds=(*others, bed))


def with_check(ground: Ground, check: CheckTold) -> Ground:
    """The ground with one check more, and its bed."""
    if all(bed.name != check.bed for bed in ground.beds):
        ground = with_bed(ground, BedTold(check.bed))
    return replace(ground, checks=(*ground.checks, check))


def of_bed(ground: Ground, name: str) -> Ground:
    """One bed with its checks."""
    beds = tuple(bed for bed in ground.beds if bed.name == name) or (BedTold(name),)
    return replace(ground, name=name, beds=beds, checks=tuple(check for check in ground.checks if check.bed == name))


def in_parts(parts: Iterable[Part | Section], charts: Iterable[Chart] = ()) -> Iterator[Reply]:
    """An answer said part by part, what is grave as a caution; pictures below the last part."""
    shown = [part for part in parts if part.lines]
    pictures = tuple(charts)
    for number, part in enumerate(shown, 1):
        last = number == len(shown)
        kind: ReplyKind = "caution" if part.grave else "verdict"
        title = "Before anything else" if part.grave else part.title.strip()
        yield Reply(kind, f"{title}:", tuple(part.lines), charts=pictures if last else ())


def replies_of(answer: Answer, knowledge: Knowledge) -> tuple[Reply, ...]:
    """An answer said part by part as its page has them, each with the pictures below it; last, what is local."""
    from advisor.papers.page import table_lines
    from advisor.papers.paper import Drawing, Table, paper_of

    replies: list[Reply] = []
    for part in paper_of(answer, local=local_lines(knowledge)).parts:
        if isinstance(part, Section):
            replies += in_parts([part])
        elif isinstance(part, Table):
            if len(part.rows) <= _LONGEST_TABLE:
                replies.append(Reply("verdict", "\n".join([f"{part.title}:", *table_lines(part)])))
        elif not isinstance(part, Drawing) and replies:
            replies[-1] = replace(replies[-1], charts=(*replies[-1].charts, part))
    return tuple(replies)


def amiss(error: Exception) -> Reply:
    """Something told that cannot be."""
    text = str(error)
    return Reply("lost", f"{text[:1].upper()}{text[1:]}.")
