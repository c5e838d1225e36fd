"""What is told of a vessel in the talk lands in the diary by itself; what is asked of the diary is answered.

Only what is told lands: what is asked, denied or supposed never does. A talk that keeps nothing lands nothing.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from advisor.counsel.wording import joined
from advisor.diagnosis.signs import METHOD_OF
from advisor.diary.entries import VESSEL_KINDS, Vessel, VesselKind
from advisor.diary.from_words import Noted, noted
from advisor.diary.saying import spoken_name
from advisor.diary.vessels import Changed, Record, keep, read_record
from advisor.errors import HouseholdError
from advisor.hearing.shapes import Heard
from advisor.knowledge.base import Knowledge
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
    """The talk's hand on the diary of vessels.

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
        self._named = False  # whether the person was told that it lands
        self._questioned = ""  # the line whose far-off figure was questioned
        self._moves = 0  # of the talk, before the last line
        self._landed = False  # whether the last line landed
        self._undid = False  # whether the last line undid what a line had landed, with the rest of it
        self._undoes = False  # whether the last line undid a change of the diary
        self.changes = DiaryChanges(path)
        self.due = DueToday(path, knowledge, lambda: self._day, self.changes)
        self.book = DiaryBook(path, knowledge, lambda: self._day, self.changes)

    # ------------------------------------------------------------ after a turn

    def after(self, heard: Heard, replies: tuple[Reply, ...], name: str, moves: int) -> tuple[Reply, ...]:
        """Land what a line told, and give back its replies with what there is to say of that.

        Args:
            name: of the heap that the talk is about; empty if it has none.
            moves: how many moves the talk has made by now.
        """
        landed, self._landed = self._landed, False
        if self._path is None or heard.named:
            return replies
        undid, self._undid = self._undid, False
        if heard.acts[:1] == ("undo",):  # the line that is taken back had landed as well
            undone = self.changes.undo() if landed else None
            self._undid = undone is not None
            return _before_question(replies, undone)
        if heard.acts[:1] == ("redo",):
            return _before_question(replies, self.changes.redo() if undid else None)
        try:
            told = self._land(heard, name, alone=moves == self._moves)
        except HouseholdError as error:
            told = Reply("lost", upper(f"{error.message}. That line is not in the diary."))
        return _before_question(replies, told)

    def _land(self, heard: Heard, name: str, *, alone: bool) -> Reply | None:
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
        self.changes.made(Changed(kept=keep(entries, self._path, vessels=read.vessels)), alone=alone)
        self._landed = True
        if self._named or not entries:
            return None
        self._named = True
        names = list(dict.fromkeys(spoken_name(one.vessel) for one in entries if one.vessel))
        where = f" for {joined(names)}" if names else ""
        return Reply("heard", f"I put that in your diary{where}. “Show my diary” lists it and lets you correct it.")

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
            self._landed = False
        else:
            self.changes.alone = False
        return replies

    def _turned(self, heard: Heard) -> Reply | None:
        """What there is to say to "undo that" and "put it back" where they are about the diary alone."""
        undoes, self._undoes = self._undoes, False
        if heard.acts[:1] == ("undo",) and self.changes.alone and (done := self.changes.undo()) is not None:
            self._undoes, self._landed = True, False
            return done
        if heard.acts[:1] == ("redo",):
            if undoes:
                return self.changes.redo()
            return self.changes.undo() if self.changes.alone else None  # it had been taken back as an entry
        return None

    @property
    def _day(self) -> date:
        return self._today or date.today()


def _before_question(replies: tuple[Reply, ...], told: Reply | None) -> tuple[Reply, ...]:
    """Replies with one more, before the question if they end with one."""
    if told is None:
        return replies
    if replies and replies[-1].question is not None:
        return (*replies[:-1], told, replies[-1])
    return (*replies, told)


def _is_deed(read: Noted) -> bool:
    """Whether what must be asked first is a deed or a reading: a trouble is answered, whichever heap has it."""
    if read.heard is None or read.heard.asked or "what_if" in read.heard.acts:
        return False
    return any(fact.name.startswith("deed.") or fact.name == "sign.degrees" for fact in read.heard.told) or read.far_off
