"""What is told of a vessel in the talk lands in the diary by itself, and what the diary says is due today is told.

Only what is told lands: what is asked, denied or supposed never does. A talk that keeps nothing lands nothing.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from advisor.diagnosis.signs import METHOD_OF
from advisor.diary.due import DueList, due_list, is_south, settled, shipped_care_engine, week_list
from advisor.diary.due_lines import due_lines
from advisor.diary.entries import VESSEL_KINDS, ToKeep, Vessel, VesselKind
from advisor.diary.from_words import Noted, noted
from advisor.diary.saying import kept_text
from advisor.diary.standing import Now
from advisor.diary.vessels import Record, keep, read_record, take_back
from advisor.errors import HouseholdError
from advisor.hearing.settling import asks_of_days, days_told, settling
from advisor.hearing.shapes import Heard
from advisor.knowledge.base import Knowledge
from advisor.talk.replies import Reply
from advisor.talk.saying import upper
from advisor.units import Units

#: Kinds of entry that a line of a talk can land as.
_LANDS = frozenset(
    {"begun", "went in", "fed", "turned", "watered", "covered", "uncovered", "drained", "closed", "checked", "emptied",
     "harvested", "sieved", "moved", "buried", "spread", "planted", "chopped", "limed", "reading", "trouble", "cure",
     "weather"}
)  # fmt: skip
_WHICH = "For your diary: "


class DiaryLanding:
    """The talk's hand on the diary of vessels."""

    def __init__(self, path: Path | None, knowledge: Knowledge, today: date | None) -> None:
        """Begin.

        Args:
            path: the diary file; without one nothing lands and nothing is due.
            today: the day; that of the clock if left out.
        """
        self._path, self._knowledge, self._today = path, knowledge, today
        self._named = False  # whether the person was told that it lands
        self._questioned = ""  # the line whose far-off figure was questioned
        self._moves = 0  # of the talk, before the last line
        self._alone = False  # whether the last line changed nothing but the diary
        self._landed: tuple[int, ...] = ()  # entries of the last line
        self._listed: DueList | None = None

    # ------------------------------------------------------------ after a turn

    def after(self, heard: Heard, replies: tuple[Reply, ...], name: str, moves: int) -> tuple[Reply, ...]:
        """Land what a line told, and give back its replies with what there is to say of that.

        Args:
            name: of the heap that the talk is about; empty if it has none.
            moves: how many moves the talk has made by now.
        """
        if self._path is None or heard.named:
            return replies
        self._alone = moves == self._moves
        if heard.acts[:1] == ("undo",):
            return (*replies, *self._taken_back())
        try:
            told = self._land(heard, name)
        except HouseholdError as error:
            told = Reply("lost", upper(f"{error.message}. That line is not in the diary."))
        if told is None:
            return replies
        if replies and replies[-1].question is not None:
            return (*replies[:-1], told, replies[-1])
        return (*replies, told)

    def _land(self, heard: Heard, name: str) -> Reply | None:
        self._landed = ()
        figures = any(sign.isdigit() for sign in heard.text)
        if not figures and not any(fact.name.startswith(("deed.", "sign.")) for fact in heard.facts):
            return None
        record = read_record(self._path)
        again = heard.text.strip().casefold() == self._questioned
        of = self._about(record, heard, name)
        read = noted(heard.text, self._knowledge, self._day, record.vessels, of=of, logging=False, sure=again)
        self._questioned = heard.text.strip().casefold() if read.far_off else ""
        entries = [one for one in read.entries if one.kind in _LANDS]
        if read.asks:
            return Reply("answer", f"{_WHICH}{read.asks[:1].lower()}{read.asks[1:]}") if _is_deed(read) else None
        if not entries and not read.vessels:
            return None
        self._landed = keep(entries, self._path, vessels=read.vessels)
        if self._named or not entries:
            return None
        self._named = True
        kept = kept_text(entries, self._knowledge, self._day)
        return Reply("heard", f"In your diary. {kept} “heapwright diary” lists it, and puts it right.")

    def _about(self, record: Record, heard: Heard, name: str) -> Vessel | None:
        """The vessel that the talk is about: by its name, the only one there is, or a first one by its kind."""
        in_use = [one for one in record.heaps if one.ended is None]
        called = record.vessel(name) if name else None
        if called is not None:
            return called
        if in_use:
            return None  # which of them it is, the line says, or it is asked
        kind: VesselKind = next((one for one in VESSEL_KINDS if one == heard.about and one in METHOD_OF), "heap")
        return Vessel(name=name or kind, kind=kind)

    def _taken_back(self) -> tuple[Reply, ...]:
        """Take back what the last line landed."""
        numbers, self._landed = self._landed, ()
        try:
            for number in numbers:
                take_back(number, self._path)
        except HouseholdError as error:
            return (Reply("lost", upper(f"{error.message}.")),)
        return (Reply("answer", "I took that out of the diary."),) if numbers else ()

    # ------------------------------------------------------------ what is due

    def before(self, text: str, heard: Heard, units: Units, moves: int) -> tuple[Reply, ...]:
        """The answer to "what should I do today?", to "done 1" behind it, and to the taking back of what only landed.

        Args:
            moves: how many moves the talk has made so far.

        Returns:
            Nothing if a line says none of these.
        """
        if self._path is None:
            return ()
        self._moves = moves
        if heard.acts[:1] == ("undo",) and self._landed and self._alone:
            return self._taken_back()
        try:
            if self._listed is not None and (replies := self._settled(text)):
                return replies
            topics = {question.topic for question in heard.asked}
            acts = {question.act for question in heard.asked}
            away = days_told(text, self._knowledge) if "holiday" in topics else 0
            if not (away or "next-step" in topics or "ask_what_now" in acts):
                return ()
            record = read_record(self._path)
            if not record.vessels:
                return ()
            now = Now(self._day, is_south(record), away)
            week = asks_of_days(text, self._knowledge)
            work = week_list if week and not away else due_list
            self._listed = work(record, now, self._knowledge, shipped_care_engine(), units=units)
        except HouseholdError as error:
            return (Reply("lost", upper(f"{error.message}.")),)
        lines = [*due_lines(self._listed, week=week and not away, away=bool(away))]
        if self._listed.deeds:
            lines.append("Say “done 1”, “put off 1” or “skip 1”.")
        return (Reply("answer", "\n".join(lines)),)

    def _settled(self, text: str) -> tuple[Reply, ...]:
        found = settling(text, self._knowledge, self._day)
        if found is None or self._listed is None:
            return ()
        if not 1 <= found.number <= len(self._listed.deeds):
            return (Reply("lost", f"There is no number {found.number} in the list of today."),)
        deed = self._listed.deeds[found.number - 1]
        entries: tuple[ToKeep, ...] = settled(deed, found.how, self._day, self._knowledge, days=found.days)
        self._landed = keep(entries, self._path)
        return (Reply("heard", kept_text(entries[-1:], self._knowledge, self._day)),)

    @property
    def _day(self) -> date:
        return self._today or date.today()


def _is_deed(read: Noted) -> bool:
    """Whether what must be asked first is a deed or a reading: a trouble is answered, whichever heap has it."""
    if read.heard is None or read.heard.asked or "what_if" in read.heard.acts:
        return False
    return any(fact.name.startswith("deed.") or fact.name == "sign.degrees" for fact in read.heard.told) or read.far_off
