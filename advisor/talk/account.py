"""Everything told, and what stands because of it: the plan, the heap in trouble, the sheet that lies open."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from advisor.counsel.plan import Line, Plan
from advisor.diary.store import Diary
from advisor.errors import HouseholdError
from advisor.hearing.hear import hear
from advisor.hearing.shapes import Heard
from advisor.household.shapes import Household
from advisor.household.tokens import shown
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.talk.filling import opening_parts
from advisor.talk.intents import Door, Understood
from advisor.talk.interview import Interview
from advisor.talk.memory import Entered, Filled, Fresh, Memory, Mended, Move, State
from advisor.talk.recap import told_before
from advisor.talk.reckoning import Reckoning
from advisor.talk.replies import Reply
from advisor.talk.saying import upper
from advisor.talk.shelf import NAMELESS
from advisor.talk.trouble import Ailing
from advisor.units import Units


@dataclass(frozen=True, slots=True)
class Answered:
    """What there is to say to a line that answers a sheet, and what it said that is no matter of sheets."""

    replies: list[Reply]
    others: tuple[str, ...] = ()


class Account:
    """The moves of one talk, folded up, and all that is worked out of them."""

    def __init__(
        self,
        knowledge: Knowledge,
        engine: Engine,
        units: Units,
        household: Household | None,
        diary: Diary | None,
        today: date | None,
    ) -> None:
        self.today = today or date.today()
        self.reckoning = Reckoning(knowledge, engine, units)
        self.ailing = Ailing(knowledge)
        self.interview = Interview(knowledge, engine, diary, today)
        self.name = ""
        """The name under which the household was kept last."""
        self._in_mind: tuple[str, ...] = ()  # said on a sheet before it was asked
        self._noted: tuple[str, ...] = ()  # of that, what was said to be borne in mind
        self._unknown = ""  # what must be known and was not, the last time it was asked
        self._opened_with: tuple[str, ...] = ()  # said when the sheet was opened
        self._memory = Memory(knowledge, household or Household(NAMELESS))
        self.work_out()

    # ------------------------------------------------------------ what stands

    @property
    def state(self) -> State:
        """What the moves come to."""
        return self._memory.state

    @property
    def moves(self) -> tuple[Move, ...]:
        """The moves that stand."""
        return self._memory.moves

    @property
    def last_sheet(self) -> State | None:
        """Where the sheet that was filled in last stood."""
        return self._memory.last_sheet

    @property
    def household(self) -> Household:
        """Everything told so far."""
        household = self.state.household
        return replace(household, name=self.name) if self.name else household

    @property
    def plan(self) -> Plan | None:
        """The plan as it stands, without its doubts; None before anything is known."""
        return self.reckoning.plan

    @property
    def units(self) -> Units:
        """The units in which figures are said."""
        return self.reckoning.units

    @property
    def changes(self) -> tuple[str, ...]:
        """What was told, move by move, in words."""
        told: list[str] = []
        for move in self._memory.moves:
            if any(isinstance(made, Fresh) for made in move.changes):
                told = []
            told += [said for said in move.said if said]
        return tuple(told)

    @property
    def lines(self) -> Mapping[str, Line]:
        """Lines outside the plan that can be asked why, by their names: of a diagnosis, of a sheet."""
        return {**self.ailing.lines, **self.interview.lines}

    def news(self, materials: Sequence[str] = ()) -> list[Reply]:
        """What must be said at once of what stands now: of the heap in trouble, or of the one that is planned."""
        if not self.state.in_trouble:
            return self.reckoning.news(self.state, materials)
        return self.ailing.news(self.household)

    def prepare(self) -> None:
        """Make ready for the first line: its words, and the rules that answer it."""
        hear("hello", self.reckoning.knowledge)
        self.reckoning.prepare()

    def work_out(self) -> None:
        """Work out afresh what stands. Raises HouseholdError; what stood before still stands then."""
        self.interview.stand(self.state, self.units)
        self.reckoning.work_out(self.household)
        if self.state.signs or self.ailing.diagnosis is not None:
            self.ailing.work_out(self.state, self.household, self.units)

    def use(self, units: Units) -> None:
        """Say figures in other units from now on."""
        self.reckoning.units = units
        self.work_out()

    # ------------------------------------------------------------ moves

    def told(self, move: Move) -> None:
        """Make a move. Raises HouseholdError if it leads where nothing can stand; then it is not made."""
        before = self._memory
        self._memory = before.told(move)
        try:
            self.work_out()
        except HouseholdError:
            self._memory = before
            self.interview.stand(self.state, self.units)
            raise

    def back(self) -> Reply | None:
        """Take back the last move; None if there is none."""
        if not self._memory.moves:
            return None
        last = self._memory.moves[-1]
        self._bear_in_mind()
        try:
            unkept = self.interview.take_back(len(self._memory.moves))
        except HouseholdError as error:
            return Reply("lost", upper(f"{error}."))
        self._memory = self._memory.back()
        self.work_out()
        return Reply("heard", f"{last.taken_back}{' It is out of your diary again.' if unkept else ''}")

    def again(self) -> Reply | None:
        """Put back the move that was taken back last; None if there is none."""
        if not self._memory.undone:
            return None
        move = self._memory.undone[0]
        self._memory = self._memory.again()
        self.work_out()
        said = ", ".join(words for words in move.said if words)
        return Reply("heard", f"Put back: {said}." if said else "One step forward again.")

    def forget(self) -> None:
        """Forget what was said to the person, as it was about another heap."""
        self.name = ""
        self._bear_in_mind()
        self.reckoning.forget()
        self.ailing.forget()
        self.interview.forget()

    def carry_on(self, household: Household | None, moves: tuple[Move, ...], name: str) -> list[Reply]:
        """Put the moves of another talk in the place of those of this one; what there is to say of them.

        Args:
            household: what that talk began with.
        """
        self.forget()
        self.interview.clear()
        self.name = name
        self._memory = Memory(self._memory.knowledge, household or Household(NAMELESS), moves)
        sheet, replies = self.last_sheet, []
        if sheet is not None:
            self.reckoning.work_out(sheet.household)
            replies = list(self.interview.begin(sheet, self.plan, self.units))
        self.work_out()
        recap = told_before(self.changes)
        replies += [Reply("answer", recap)] if recap else []
        ends_on_it = bool(moves) and any(isinstance(change, Filled | Mended) for change in moves[-1].changes)
        if sheet is not None and ends_on_it:
            replies += self.interview.said_last(sheet, self.units)
        return [*replies, *self.news()]

    # ------------------------------------------------------------ sheets

    def enter(self, door: Door, text: str) -> list[Reply]:
        """Open the sheet behind a door; what it says before its first question."""
        self._memory = self._memory.told(Move((Entered(door, text),)))
        replies = self.interview.begin(self.state, self.plan, self.units)
        self.work_out()
        self._bear_in_mind(opening_parts(text))
        return [*replies, *self._sheet_says(), *self._said_before()]

    def hears(self, understood: Understood, heard: Heard, besides: Callable[[str], bool]) -> Answered | None:
        """What a line does to the open sheet; None if it is about something else.

        Args:
            heard: how the line is read beside the open blank.
            besides: whether words that do not fill the open blank tell or ask something that is no matter of sheets.
        """
        found = self.interview.filled_by(understood, heard, self.state.filled)
        if found is None or isinstance(found, list):
            return None if found is None else Answered(found)
        if isinstance(found, Mended):
            return Answered(self._mend(found))
        others = tuple(piece for piece in found.rest if besides(piece))
        self._in_mind += tuple(piece for piece in found.rest if piece not in others)
        said = understood.text if not found.rest else ""
        return Answered(self.fill(found.text, said), others)

    def fill(self, text: str, said: str = "") -> list[Reply]:
        """Fill the open blank of the sheet, with nothing if it is not known; what the sheet says to that.

        Args:
            said: the words in which it was said, if they were others.
        """
        return [*self._fill(text, said), *self._said_before()]

    def _fill(self, text: str, said: str) -> list[Reply]:
        blank = self.interview.blank
        if blank is not None and blank.needed and not text:
            if self._unknown == blank.ask:
                self.leave()
                return [Reply("answer", "Then I leave that, as nothing can be worked out without it.")]
            self._unknown = blank.ask
            return [Reply("answer", "Nothing can be worked out without that; a guess will do. “never mind” leaves it.")]
        self._unknown = ""
        heard = self.interview.heard(text, said)
        try:
            self.told(Move((Filled(text),), (f"“{text}”",) if text else ()))
        except HouseholdError as error:
            return [Reply("lost", upper(f"{error}."))]
        return [*heard, *self._sheet_says()]

    def _said_before(self) -> list[Reply]:
        """Fill what follows from what was said already, as far as that goes."""
        replies: list[Reply] = []
        while self.on_a_sheet:
            found = self.interview.said_before(self._in_mind, near=True)
            if found is None and (found := self.interview.said_before(self._opened_with, near=False)) is None:
                break
            text, fit = found
            self._in_mind = tuple(piece for piece in self._in_mind if piece != text)
            self._opened_with = tuple(piece for piece in self._opened_with if piece != text)
            blank = self.interview.blank
            asked = blank.ask if blank is not None else ""
            filled = self._fill(fit, "")
            replies += [Reply("heard", f"{asked.split('?')[0]}? “{text}”, you said."), *filled]
        if self._in_mind:
            named = ", ".join(f"“{shown(piece)}”" for piece in self._in_mind)
            if not self.on_a_sheet:
                replies.append(Reply("lost", f"I did not get to ask about {named}."))
                self._in_mind = ()
            elif self._in_mind != self._noted:
                replies.append(Reply("heard", f"I bear in mind {named}."))
            self._noted = self._in_mind
        return replies

    def _mend(self, mended: Mended) -> list[Reply]:
        """Put right what a blank before the open one was filled with."""
        heard = self.interview.heard(mended.text, f"{mended.text}.,", mended.place)
        text = heard[0].text.removeprefix("Heard: ") if heard else f"{mended.text}."
        try:
            self.told(Move((mended,), (f"“{mended.text}”",)))
        except HouseholdError as error:
            return [Reply("lost", upper(f"{error}."))]
        return [Reply("heard", f"Put right: {text}"), *self._sheet_says(None if mended.alone else mended.place)]

    def _bear_in_mind(self, opened_with: Sequence[str] = ()) -> None:
        """Begin anew with what was said ahead."""
        self._in_mind, self._noted, self._opened_with = (), (), tuple(opened_with)

    def leave(self) -> None:
        """Leave the sheet, or the heap in trouble."""
        self._bear_in_mind()
        self.told(Move((Entered(""),)))

    @property
    def on_a_sheet(self) -> bool:
        """Whether a blank of a sheet is open."""
        return self.interview.blank is not None

    def _sheet_says(self, since: int | None = None) -> list[Reply]:
        replies = list(self.interview.goes_on(len(self._memory.moves), since))
        if not self.on_a_sheet:
            # its end belongs to the last answer, so that both are taken back together
            *before, last = self._memory.moves
            self._memory = replace(self._memory, moves=(*before, replace(last, changes=(*last.changes, Entered("")))))
            self.work_out()
        return replies
