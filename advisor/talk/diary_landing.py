"""What is told of a vessel in the talk lands in the diary by itself; what is asked of the diary is answered.

Only what is told lands: what is asked, denied or supposed never does. A talk that keeps nothing lands nothing.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from advisor.counsel.wording import joined
from advisor.diagnosis.signs import METHOD_OF
from advisor.diary.batches import Batch, batch_told
from advisor.diary.entries import VESSEL_KINDS, Vessel, VesselKind
from advisor.diary.from_words import Noted, noted, vessels_spoken_of
from advisor.diary.saying import spoken_name
from advisor.diary.store import Diary
from advisor.diary.vessels import Changed, Record, keep, read_record, troubled
from advisor.diary.which_vessel import WhichVessel, meant_in
from advisor.errors import HouseholdError
from advisor.hearing.shapes import Heard
from advisor.knowledge.base import Knowledge
from advisor.talk.diary_asked import asked_of_diary, harvested_litres, kinds_asked, litres_said
from advisor.talk.diary_book import DiaryBook
from advisor.talk.diary_changes import DiaryChanges
from advisor.talk.diary_due import DueToday
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
    """What the talk writes into the diary of vessels and takes from it.

    Attributes:
        changes: what was changed in it during this talk.
        due: what is due today.
        book: the diary as it is shown and put right.
    """

    def __init__(self, path: Path | None, knowledge: Knowledge, today: date | None) -> None:
        """Begin.

        Args:
            path: the diary file; without one nothing lands and nothing is due.
            today: the day; that of the clock if left out.
        """
        self._path, self._knowledge, self._today = path, knowledge, today
        self._spoken = ""  # the heap or bin that was spoken of last
        self._named = False  # whether the person was told that it lands
        self._questioned = ""  # the line whose far-off figure was questioned
        self._moves = 0  # of the talk, before the last line
        self._landed: tuple[int, ...] = ()  # entries of the last line
        self._landing: tuple[Heard, Reply | None] | None = None  # the last line that landed, and what was said of that
        self._undid = False  # whether the last line undid what a line had landed, with the rest of it
        self._undoes = False  # whether the last line undid a change of the diary
        self.changes = DiaryChanges(path)
        self.due = DueToday(path, knowledge, lambda: self._day, self.changes)
        self.book = DiaryBook(path, knowledge, lambda: self._day, self.changes)

    # ------------------------------------------------------------ after a turn

    def after(
        self, heard: Heard, replies: tuple[Reply, ...], name: str, moves: int, units: Units = "metric"
    ) -> tuple[Reply, ...]:
        """Land what a line told, and give back its replies with what there is to say of that.

        Args:
            name: of the heap that the talk is about; empty if it has none.
            moves: how many moves the talk has made by now.
            units: in which figures are said.
        """
        landed = self._landed
        if self._path is None or heard.named:
            return replies
        undid, self._undid = self._undid, False
        if heard.acts[:1] == ("undo",):  # the line that is taken back had landed as well
            self._landed = ()
            undone = self.changes.undo() if landed else None
            self._undid = undone is not None
            return _before_question(replies, undone)
        if heard.acts[:1] == ("redo",):
            self._landed = ()
            return _before_question(replies, self.changes.redo() if undid else None)
        due: tuple[Reply, ...] = ()
        try:
            told = self._land(heard, name, alone=moves == self._moves)
            due = self.due.at_once(self._landed, units) if self._landed else ()
        except HouseholdError as error:
            told = Reply("lost", upper(f"{error.message}. That line is not in the diary."))
        return _before_question(replies, *due, told)

    def _land(self, heard: Heard, name: str, *, alone: bool) -> Reply | None:
        """Land what a line told, once; what there is to say of that."""
        if self._landing is not None and self._landing[0] is heard:
            self.changes.alone = alone and bool(self._landed)
            return self._landing[1]
        self._landed = ()
        told = self._land_anew(heard, name, alone=alone)
        self._landing = (heard, told)
        return told

    def _land_anew(self, heard: Heard, name: str, *, alone: bool) -> Reply | None:
        figures = any(sign.isdigit() for sign in heard.text)
        if not figures and not any(fact.name.startswith(("deed.", "sign.")) for fact in heard.facts):
            return None
        if heard.acts[:1] == ("save",):
            return None  # the name that a heap is saved by tells nothing of it
        record = read_record(self._path)
        again = heard.text.strip().casefold() == self._questioned
        of = self._about(record, heard, name)
        had = troubled(record)
        read = noted(
            heard.text, self._knowledge, self._day, record.vessels, of=of, logging=False, sure=again, troubled=had
        )
        about = record.vessel(read.vessel)
        if read.vessel and (about is None or about.kind != "bed"):
            self._spoken = read.vessel
        self._questioned = heard.text.strip().casefold() if read.far_off else ""
        entries = [one for one in read.entries if one.kind in _LANDS]
        if read.asks:
            return Reply("answer", f"{_WHICH}{read.asks[:1].lower()}{read.asks[1:]}") if _is_deed(read) else None
        if not entries and not read.vessels:
            return None
        self._landed = keep(entries, self._path, vessels=read.vessels)
        self.changes.made(Changed(kept=self._landed), alone=alone)
        if self._named or not entries:
            return None
        self._named = True
        names = list(dict.fromkeys(spoken_name(one.vessel) for one in entries if one.vessel))
        where = f" for {joined(names)}" if names else ""
        return Reply("heard", f"I put that in your diary{where}. “Show my diary” lists it and lets you correct it.")

    def _about(self, record: Record, heard: Heard, name: str) -> Vessel | None:
        """The vessel that the talk is about: by its name, the only one there is, or a first one by its kind."""
        in_use = [one for one in record.heaps if one.ended is None]
        for one in (name, self._spoken):
            called = record.vessel(one) if one else None
            if called is not None and called.ended is None:
                return called
        if in_use:
            return None  # which of them it is, the line says, or it is asked
        kind: VesselKind = next((one for one in VESSEL_KINDS if one == heard.about and one in METHOD_OF), "heap")
        return Vessel(name=name or kind, kind=kind)

    # ------------------------------------------------------------ what the diary answers

    def batch_of(self, heard: Heard, name: str) -> Batch | None:
        """What the diary tells of the batch that a line is about; nothing if it is not known which that is.

        Args:
            name: of the heap that the talk is about; empty if it has none.
        """
        if self._path is None:
            return None
        try:
            record = read_record(self._path)
        except HouseholdError:
            return None
        of = self._meant(record, heard, name)
        return batch_told(record, of, self._day, self._knowledge) if of is not None else None

    def _meant(self, record: Record, heard: Heard, name: str, *, beds: bool = False) -> Vessel | None:
        """The heap or bin that a line is about, or the bed as well."""
        vessels = record.vessels if beds else record.heaps
        if not vessels:
            return None
        named = vessels_spoken_of(heard.text, self._knowledge, vessels)
        return meant_in(named, WhichVessel(vessels, record.vessel(name or self._spoken)))

    def answers(self, heard: Heard, name: str, units: Units) -> tuple[Reply, ...]:
        """Answers to questions that the diary can answer; what is told with them lands.

        Args:
            name: of the heap that the talk is about; empty if it has none.
        """
        asks = asked_of_diary(heard) if self._path is not None and not heard.dangers else ""
        if not asks:
            return ()
        try:
            told = self._land(heard, name, alone=True)
            record = read_record(self._path)
            of = self._meant(record, heard, name, beds=asks == "last")
            found = self._answer(asks, heard, record, of, units)
        except HouseholdError as error:
            return (Reply("lost", upper(f"{error.message}.")),)
        if found is None:
            return ()
        if of is not None and of.kind != "bed":
            self._spoken = of.name
        return (found, told) if told is not None else (found,)

    def _answer(self, asks: str, heard: Heard, record: Record, of: Vessel | None, units: Units) -> Reply | None:
        from advisor.talk.diary_answers import last_time_reply, ready_reply, where_reply  # loaded once it is asked

        knowledge, today = self._knowledge, self._day
        if asks == "where":
            ground = Diary(knowledge, self._path).read().ground
            castings = any("worm-castings" in one.ids for one in heard.materials)
            litres = litres_said(heard, knowledge) or harvested_litres(record, of, today, knowledge)
            batch = batch_told(record, of, today, knowledge) if of is not None else None
            return where_reply(
                ground,
                litres,
                castings=castings,
                manure=batch is None or "manure" in batch.finished.holds,
                knowledge=knowledge,
                units=units,
                today=today,
            )
        if of is None:
            return None
        if asks == "ready":
            batch = batch_told(record, of, today, knowledge)
            return ready_reply(batch, knowledge, units, today) if batch is not None else None
        return last_time_reply(record, of.name, kinds_asked(heard), today)

    # ------------------------------------------------------------ before a turn

    def before(self, text: str, heard: Heard, units: Units, moves: int) -> tuple[Reply, ...]:
        """The answer to a line that is about the diary alone: what is due, what was done, showing it, taking back.

        Args:
            moves: how many moves the talk has made so far.

        Returns:
            Nothing if a line says none of these.
        """
        moved, self._moves = moves != self._moves, moves
        if heard.named:
            return ()
        turned = self._turned(heard)
        if turned is not None:
            return (turned,)
        try:
            replies = self.book.asked(text, moved=moved)
            if not replies and self._path is not None:
                replies = self.due.said(text) or self.due.asked(text, heard, units)
        except HouseholdError as error:
            return (Reply("lost", upper(f"{error.message}.")),)
        if replies:
            self._landed = ()
        else:
            self.changes.alone = False
        return replies

    def _turned(self, heard: Heard) -> Reply | None:
        """What there is to say to "undo that" and "put it back" where they are about the diary alone."""
        undoes, self._undoes = self._undoes, False
        if heard.acts[:1] == ("undo",) and self.changes.alone and (done := self.changes.undo()) is not None:
            self._undoes, self._landed = True, ()
            return done
        if heard.acts[:1] == ("redo",):
            if undoes:
                return self.changes.redo()
            return self.changes.undo() if self.changes.alone else None  # it had been taken back as an entry
        return None

    @property
    def _day(self) -> date:
        return self._today or date.today()


def _before_question(replies: tuple[Reply, ...], *told: Reply | None) -> tuple[Reply, ...]:
    """Replies with what else there is to say, before the question if they end with one."""
    more = tuple(one for one in told if one is not None)
    if replies and replies[-1].question is not None:
        return (*replies[:-1], *more, replies[-1])
    return (*replies, *more)


def _is_deed(read: Noted) -> bool:
    """Whether what must be asked first is a deed or a reading: a trouble is answered, whichever heap has it."""
    if read.heard is None or read.heard.asked or "what_if" in read.heard.acts:
        return False
    return any(fact.name.startswith("deed.") or fact.name == "sign.degrees" for fact in read.heard.told) or read.far_off
