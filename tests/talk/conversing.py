"""A person who talks, for the tests: says things, and looks at what came back."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from advisor.counsel.consult import shipped_engine
from advisor.counsel.plan import Plan
from advisor.diary.entries import EntryKind, ToKeep, VesselKind
from advisor.diary.store import Diary
from advisor.diary.talks import TalkBook
from advisor.diary.vessels import keep, read_record
from advisor.household.amounts import read_phrase
from advisor.household.names import find_material
from advisor.household.shapes import Holding, Household
from advisor.knowledge.load import shipped
from advisor.talk.intents import Have, Intent, Understood
from advisor.talk.replies import Question, Reply, ReplyKind
from advisor.talk.session import Talk
from advisor.talk.shelf import Shelf
from advisor.units import Units

KNOWLEDGE, ENGINE = shipped(), shipped_engine()
HERE = (0, 0)
TODAY = date(2026, 11, 25)


class Person:
    """Somebody at the talk. Heaps are kept in a folder of the test."""

    def __init__(self, folder: Path, household: Household | None = None, units: Units = "metric") -> None:
        self.talk = Talk(
            KNOWLEDGE,
            ENGINE,
            household=household,
            units=units,
            shelf=Shelf(folder / "heaps", KNOWLEDGE),
            diary=Diary(KNOWLEDGE, folder / "diary.sqlite3"),
            today=TODAY,
        )
        self.replies: tuple[Reply, ...] = self.talk.open()

    def says(self, *lines: str) -> Person:
        """Type some lines; the replies are those to the last."""
        for line in lines:
            self.replies = self.talk.hear(line)
        return self

    def means(self, *intents: Intent, text: str = "(said)") -> Person:
        """Say something that was understood already."""
        self.replies = self.talk.take(Understood(text, intents))
        return self

    def heard(self, kind: ReplyKind) -> str:
        """All replies of a kind to the last line, as one text."""
        return "\n".join(reply.text for reply in self.replies if reply.kind == kind)

    @property
    def text(self) -> str:
        """All that was said back to the last line, with the lines below it."""
        return "\n".join(part for reply in self.replies for part in (reply.text, *(line.text for line in reply.lines)))

    def everything(self) -> str:
        """All that was said in answer to the last line, questions with their reasons and options too."""
        parts = [reply.text for reply in self.replies]
        asked = [reply.question for reply in self.replies if reply.question is not None]
        parts += [text for one in asked for text in (one.ask, one.why, *(option.label for option in one.options))]
        return "\n".join([*parts, *(line.text for reply in self.replies for line in reply.lines)])

    @property
    def plan(self) -> Plan:
        """The plan, which must stand."""
        assert self.talk.plan is not None
        return self.talk.plan

    @property
    def method(self) -> str:
        """The method that stands."""
        return self.plan.choice.method

    @property
    def question(self) -> Question:
        """The open question, which must be there."""
        assert self.talk.question is not None
        return self.talk.question

    def litres(self, material: str) -> float:
        """How much of a material the plan has heard of."""
        return sum(heard.litres.typical for heard in self.plan.heard if heard.material == material)


def have(words: str, *, more: bool = False) -> Have:
    """There is so much of something."""
    phrase = read_phrase(words, KNOWLEDGE)
    match = find_material(phrase.name, KNOWLEDGE)
    assert match.found and phrase.quantity is not None, words
    return Have(Holding(match.id, phrase.quantity, words), HERE, more)


# ---------------------------------------------------------------- a talk that keeps a diary

SUNDAY, MONDAY = date(2026, 11, 29), date(2026, 11, 30)


def opened(path: Path, today: date = MONDAY) -> tuple[Talk, str]:
    """A talk begun anew on the same diary, and its first words."""
    talk = Talk(KNOWLEDGE, ENGINE, book=TalkBook(path), today=today)
    return talk, "\n".join(reply.text for reply in talk.open())


def landed(path: Path) -> list[tuple[str, str, str]]:
    """Vessel, kind and day of each entry of a diary."""
    return [(one.vessel, one.kind, one.day.isoformat()) for one in read_record(path).entries]


def begin(path: Path, *vessels: tuple[str, VesselKind], kind: EntryKind = "turned", day: date = SUNDAY) -> None:
    """Keep an entry of a kind for each vessel, named with what it is."""
    keep([ToKeep(vessel=name, vessel_kind=of, day=day, kind=kind, said="x") for name, of in vessels], path)
