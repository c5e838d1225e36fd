"""A talk that always says the same, of a plan that never changes: pictures then change with the screens alone.

The plan is that of the shipped coffee-shop household of one day, with its reasons left out but for those of the method,
and with a miss and a doubt of our own invention put in so that these are seen as well.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path

from advisor.counsel.plan import Doubt, Line, Plan
from advisor.diary.by_day import Row
from advisor.diary.entries import Entry, Told, Vessel
from advisor.household.shapes import Holding, Household, Quantity
from advisor.talk.bed_notes import BedNote
from advisor.talk.diary_book import DiaryView
from advisor.talk.replies import Option, Question, Reply

PLAN = Plan.model_validate_json(Path(__file__).with_name("frozen_plan.json").read_text(encoding="utf-8"))

UNKNOWN = Option("I don't know", "I don't know")
FIRST = Question(
    "",
    "What brings you here? Pick one, or just say what you have.",
    "",
    (
        Option("Start a heap", "Start a heap"),
        Option("Something is wrong with my heap", "Something is wrong with my heap"),
        Option("Look after the soil", "Look after the soil"),
        UNKNOWN,
    ),
)
SECOND = Question(
    "place.pests",
    "Have you seen rats, mice, raccoons, foxes or loose dogs about?",
    "",
    (Option("None seen", "none seen", "none"), Option("Rats or mice", "rats or mice", "rats"), UNKNOWN),
    many=True,
)


def frozen_doubts(*_: object) -> tuple[Doubt, ...]:
    """The doubts of the frozen plan."""
    return PLAN.doubts


class FrozenBook:
    """Stands in for the diary: two heaps on three days, of our own invention."""

    def view(self, vessel: str) -> DiaryView:
        """The diary of a day that never changes."""
        told = (
            ("north heap", 30, "turned; 58 °C in the middle", "turned it, 58 in the middle"),
            ("worm bin", 30, "fed: 1 litre of scraps", "fed the worms a litre of scraps"),
            (
                "north heap",
                29,
                "went in: 2 buckets of grass clippings and 1 bucket of coffee grounds",
                "grass and coffee",
            ),
            ("worm bin", 21, "“a toad under the lid”", "a toad under the lid"),
        )
        rows = []
        for number, (name, day, text, said) in enumerate(told, 1):
            on = {"day": date(2026, 11, day), "at": datetime(2026, 11, day, 9)}
            entry = Entry(number=number, vessel=name, kind="note", told=Told(), said=said, **on)
            rows.append(Row(name, text, said, (entry,), (number,)))
        vessels = (Vessel(name="north heap", kind="heap"), Vessel(name="worm bin", kind="worm bin"))
        return DiaryView(vessels, tuple(row for row in rows if vessel in ("", row.vessel)), date(2026, 11, 30))


class FrozenTalk:
    """Stands in for the talk: whatever is said, the same plan follows."""

    def __init__(self, knowledge: object, engine: object, **_: object) -> None:
        self.knowledge, self.engine, self.units = knowledge, engine, "metric"
        self.plan: Plan | None = None
        self.question: Question | None = FIRST
        self.other_lines: tuple[Line, ...] = ()
        self.beds: tuple[BedNote, ...] = ()
        self.cure = None
        self.book = FrozenBook()
        holdings = tuple(
            Holding(
                heard.material, Quantity(count, count, count, "sack", "week" if heard.weekly else "once"), heard.said
            )
            for count, heard in enumerate(PLAN.heard, 2)
        )
        self.household = Household("your heap", holdings)

    def open(self) -> tuple[Reply, ...]:
        """A greeting."""
        return (Reply("greeting", "Good day. Tell me what you have to compost, in your own words."),)

    def prepare(self) -> None:
        """There is nothing to make ready."""

    def look_ahead(self) -> Iterator[None]:
        """There is nothing to work out."""
        return iter(())

    def hear(self, text: str) -> tuple[Reply, ...]:
        """The plan, a verdict and a caution."""
        del text
        self.plan, self.question = PLAN.model_copy(update={"doubts": ()}), SECOND
        return (
            Reply("heard", "Heard: 6 sacks of dry autumn leaves (about 450 L), 4 buckets of coffee grounds a week."),
            Reply("verdict", "As it stands, a bin, because it holds a heap upright and keeps its edges warm."),
            Reply("caution", "Damp it before you fork it: compost and its dust carry moulds."),
            Reply("lost", "I could not place “purple”."),
        )
