"""Keeping a talk as it goes, so that nothing said is lost, and carrying on with one that was kept."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Concatenate, ParamSpec

from advisor.diary.talks import CarriedOnElsewhere, TalkBook, TalkKept, TurnKept, moves_json
from advisor.errors import HouseholdError
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.safe_text import safe_text
from advisor.talk.account import Account
from advisor.talk.kept_moves import household_read, household_written, moves_read, moves_written
from advisor.talk.memory import Fresh, Load, Move
from advisor.talk.recap import about_what, day_text
from advisor.talk.replies import Reply
from advisor.talk.saying import upper

if TYPE_CHECKING:
    from advisor.talk.session import Talk

_P = ParamSpec("_P")
_Told = Callable[Concatenate["Talk", _P], tuple[Reply, ...]]


def kept_as_said(*, typed: bool) -> Callable[[_Told[_P]], _Told[_P]]:
    """Keep what a method of the talk was told, before its replies are given.

    Args:
        typed: whether its first argument is a line as it was typed; otherwise it was done on a screen.
    """

    def keeping_it(method: _Told[_P]) -> _Told[_P]:
        @wraps(method)
        def told(talk: Talk, /, *given: _P.args, **named: _P.kwargs) -> tuple[Reply, ...]:
            replies = method(talk, *given, **named)
            return talk.keeping.after(safe_text(str(given[0])) if typed and given else "", replies)

        return told

    return keeping_it


class Keeping:
    """Writes each line of one talk into the book of talks. Without a book it keeps nothing and never speaks."""

    def __init__(
        self, book: TalkBook | None, account: Account, knowledge: Knowledge, begun: Household | None, today: date | None
    ) -> None:
        self._book, self._account, self._knowledge, self._today = book, account, knowledge, today
        self._begun = household_written(begun) if begun is not None else ""
        self._number: int | None = None  # of the talk in the book, once it is there
        self._place = 0  # turns that are in the book
        self._moves: tuple[Move, ...] = ()  # of the account, as they were after the last turn
        self._unkept: list[TurnKept] = []
        self._failing = self._warned = self._opened = False

    # ------------------------------------------------------------ as it is said

    @property
    def holds_all(self) -> bool:
        """Whether all that was told is in the book."""
        return self._book is not None and not (self._unkept and self._moves)

    def after(self, said: str, replies: tuple[Reply, ...]) -> tuple[Reply, ...]:
        """Keep a line with what it changed, and give back its replies, with a word if it could not be kept.

        A farewell is put off once if something is not kept.
        """
        if self._book is None or self._opened:
            self._opened = False  # to open a talk adds nothing to it
            return replies
        leaving = any(reply.kind == "farewell" for reply in replies)
        told = self._flushed() if leaving else self._keep(said)
        if leaving:
            if self.holds_all or self._warned:
                return replies
            self._warned = True
            count = len(self._unkept)
            lines = "The last line is" if count == 1 else f"The last {count} lines are"
            why = f" {told[0].text}" if told else ""
            return (Reply("lost", f"{lines} not kept.{why} To leave all the same, say “bye” again."),)
        if replies and replies[-1].question is not None:
            return (*replies[:-1], *told, replies[-1])
        return (*replies, *told)

    def _keep(self, said: str) -> list[Reply]:
        before, moves = self._moves, self._account.moves
        stood = 0
        while stood < min(len(before), len(moves)) and before[stood] == moves[stood]:
            stood += 1
        made = moves[stood:]
        if any(isinstance(change, Fresh | Load) for move in made for change in move.changes):
            # another heap: the one before stays in the book as it was
            self._number, self._place, self._unkept = None, 0, []
            stood, made = 0, moves
        self._unkept.append(TurnKept(said, self._now(), stood, moves_written(made)))
        self._moves = moves
        return self._flushed()

    def _flushed(self) -> list[Reply]:
        """Write what is not in the book yet; a word if that fails, or goes well again, or goes another way."""
        if self._book is None or not self._unkept or (self._number is None and not self._moves):
            return []
        told: list[Reply] = []
        about = self._about
        name = self._account.name
        try:
            try:
                self._write(self._book, (), name, about)
            except CarriedOnElsewhere as error:
                before = self._before(self._book, self._number or 0)
                self._number = None
                self._write(self._book, before, name, about)
                told.append(Reply("answer", f"{upper(error.message)}. I keep this one as well."))
        except HouseholdError as error:
            if not self._failing:
                self._failing = True
                why = error.message.rpartition(": ")[2]
                told.append(Reply("lost", f"I could not keep that: {why}. It stands here; I try again with each line."))
            return told
        if self._failing:
            self._failing = self._warned = False
            told.append(Reply("heard", "All that you said is kept again."))
        return told

    def _before(self, book: TalkBook, number: int) -> tuple[TurnKept, ...]:
        """The turns of this talk that are in the book; if they are gone, all that stands is written as one."""
        try:
            turns = book.turns(number)[1][: self._place]
        except HouseholdError:
            turns = ()
        if len(turns) < self._place:
            said = "; ".join(turn.said for turn in self._unkept)
            self._unkept = [TurnKept(said, self._now(), 0, moves_written(self._moves))]
            return ()
        return turns

    def _write(self, book: TalkBook, before: tuple[TurnKept, ...], name: str, about: str) -> None:
        if self._number is None:
            turns = (*before, *self._unkept)
            self._number = book.begin(turns, begun=self._begun, name=name, about=about)
            self._place = len(turns)
        else:
            book.add(self._number, self._place, self._unkept, name=name, about=about)
            self._place += len(self._unkept)
        self._unkept = []

    @property
    def _about(self) -> str:
        return about_what(self._account.state, self._account.last_sheet, self._knowledge)

    def _now(self) -> datetime:
        now = datetime.now().replace(microsecond=0)
        return datetime.combine(self._today, now.time()) if self._today is not None else now

    # ------------------------------------------------------------ another day

    @property
    def path(self) -> Path | None:
        """The diary file; None without a book."""
        return self._book.path if self._book is not None else None

    def talks(self) -> tuple[TalkKept, ...]:
        """The talks that can be carried on with, the latest first, but for this one while it is about something.

        Raises:
            HouseholdError: the book cannot be read.
        """
        found = self._book.talks() if self._book is not None else ()
        here = self._number if self._about else None
        return tuple(talk for talk in found if talk.number != here)

    def carry_on(self, talk: TalkKept) -> list[Reply]:
        """Put a kept talk in the place of this one; what there is to say of it.

        Raises:
            HouseholdError: it cannot be read, or this one cannot be kept; then nothing is changed.
        """
        self._flushed()
        if self._book is None or not self.holds_all:
            raise HouseholdError("what you said here is not kept yet")
        begun, turns = self._book.turns(talk.number)
        moves, amiss = moves_read(moves_json(turns), self._knowledge)
        try:
            household = household_read(begun, self._knowledge) if begun else None
        except (ValueError, KeyError, RecursionError):
            household, amiss = None, ("what it began with", *amiss)
        again = self._account.carry_on(household, moves, talk.name)
        self._begun, self._number, self._place = begun, talk.number, len(turns)
        self._moves, self._unkept, self._opened = moves, [], True
        seen = day_text(talk.seen.date(), self._today or date.today())
        replies = [Reply("greeting", f"Carrying on with {called(talk)}, last seen {seen}.")]
        replies += [Reply("lost", f"I cannot read this any more, and leave it out: {words}.") for words in amiss]
        return [*replies, *again]


def called(talk: TalkKept) -> str:
    """A kept talk in words: "Front garden: your heap of straw", "a check of the soil"."""
    return f"“{talk.name}”: {talk.about}" if talk.name else talk.about
