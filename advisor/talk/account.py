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
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.talk.filling import opening_parts
from advisor.talk.intents import Door, Understood
from advisor.talk.interview import Interview
from advisor.talk.memory import Entered, Filled, Fresh, Mended, Move, State
from advisor.talk.recap import told_before
from advisor.talk.reckoning import Reckoning
from advisor.talk.replies import Reply
from advisor.talk.said_ahead import SaidAhead
from advisor.talk.saying import upper
from advisor.talk.shelf import NAMELESS
from advisor.talk.standing import Course
from advisor.talk.trouble import Ailing
from advisor.units import Units


@dataclass(frozen=True, slots=True)
class Answered:
    """What there is to say to a line that answers a sheet, and what it said that is no matter of sheets."""

    replies: list[Reply]
    others: tuple[str, ...] = ()


#: So many lines in a row that answer nothing leave a sheet.
_PATIENCE = 3


class Account:
    """What follows from how a talk stands, and how its moves are made.

    Attributes:
        course: how the talk stands; everything here reads it and leads it on.
    """

    def __init__(
        self, course: Course, knowledge: Knowledge, engine: Engine, diary: Diary | None, today: date | None
    ) -> None:
        self.course = course
        self.today = today or date.today()
        self.reckoning = Reckoning(knowledge, engine)
        self.ailing = Ailing(knowledge)
        self.interview = Interview(knowledge, engine, diary, today)
        self.work_out()

    # ------------------------------------------------------------ what stands

    @property
    def state(self) -> State:
        """What the moves come to."""
        return self.course.now.state

    @property
    def moves(self) -> tuple[Move, ...]:
        """The moves that stand."""
        return self.course.now.memory.moves

    @property
    def last_sheet(self) -> State | None:
        """Where the sheet that was filled in last stood."""
        return self.course.now.memory.last_sheet

    @property
    def name(self) -> str:
        """The name under which the household was kept last."""
        return self.course.now.name

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
        return self.course.now.units

    @property
    def changes(self) -> tuple[str, ...]:
        """What was told, move by move, in words."""
        told: list[str] = []
        for move in self.moves:
            if any(isinstance(made, Fresh) for made in move.changes):
                told = []
            told += [said for said in move.said if said]
        return tuple(told)

    @property
    def lines(self) -> Mapping[str, Line]:
        """Lines outside the plan that can be asked why, by their names: of a diagnosis, of a sheet."""
        return {**self.course.now.cure_told.lines, **self.course.now.sheets.lines}

    def news(self, materials: Sequence[str] = ()) -> list[Reply]:
        """What must be said at once of what stands now: of the heap in trouble, or of the one that is planned."""
        now = self.course.now
        if now.state.in_trouble:
            cure, replies = self.ailing.news(now.cure_told, self.household)
            self.course.now = replace(now, cure_told=cure)
        else:
            plan, replies = self.reckoning.news(now.state, now.plan_told, materials)
            self.course.now = replace(now, plan_told=plan)
        return replies

    def prepare(self) -> None:
        """Make ready for the first line: its words, and the rules that answer it."""
        hear("hello", self.reckoning.knowledge)
        self.reckoning.prepare()

    def work_out(self) -> None:
        """Work out afresh what stands. Raises HouseholdError; what stood before still stands then."""
        now = self.course.now
        self.interview.stand(now.sheets, now.state, now.units)
        self.reckoning.work_out(self.household, now.units)
        self.ailing.work_out(now.state, self.household, now.cure_told, now.units)

    def use(self, units: Units) -> None:
        """Say figures in other units from now on."""
        self.course.now = replace(self.course.now, units=units)
        self.work_out()

    # ------------------------------------------------------------ moves

    def told(self, move: Move) -> None:
        """Make a move. Raises HouseholdError if it leads where nothing can stand; then it is not made."""
        before = self.course.now
        self.course.now = before.told(move)
        try:
            self.work_out()
        except HouseholdError:
            self.course.now = before
            self.interview.stand(before.sheets, before.state, before.units)
            raise

    def back(self) -> Reply | None:
        """Take back the last move; None if there is none."""
        now = self.course.now
        if not now.memory.moves:
            return None
        try:
            sheets, unkept = self.interview.take_back(now.sheets, len(now.memory.moves))
        except HouseholdError as error:
            return Reply("lost", upper(f"{error}."))
        self.course.now = replace(now.back(), sheets=sheets, ahead=SaidAhead())
        self.work_out()
        taken_back = now.memory.moves[-1].taken_back
        return Reply("heard", f"{taken_back}{' It is out of your diary again.' if unkept else ''}")

    def again(self) -> Reply | None:
        """Put back the move that was taken back last; None if there is none."""
        now = self.course.now
        if not now.memory.undone:
            return None
        self.course.now = now.again()
        self.work_out()
        said = ", ".join(words for words in now.memory.undone[0].said if words)
        return Reply("heard", f"Put back: {said}." if said else "One step forward again.")

    def carry_on(self, household: Household | None, moves: tuple[Move, ...], name: str) -> list[Reply]:
        """Put the moves of another talk in the place of those of this one; what there is to say of them.

        Args:
            household: what that talk began with.
        """
        now = self.course.now = self.course.now.another(household or Household(NAMELESS), moves, name)
        sheet = self.last_sheet
        replies: list[Reply] = []
        if sheet is not None:
            self.reckoning.work_out(sheet.household, now.units)
            sheets, replies = self.interview.begin(now.sheets, sheet, self.plan, now.units)
            self.course.now = replace(now, sheets=sheets)
        self.work_out()
        recap = told_before(self.changes)
        replies += [Reply("answer", recap)] if recap else []
        ends_on_it = bool(moves) and any(isinstance(change, Filled | Mended) for change in moves[-1].changes)
        if sheet is not None and ends_on_it:
            now = self.course.now
            sheets, said = self.interview.said_last(now.sheets, sheet, now.units)
            self.course.now = replace(now, sheets=sheets)
            replies += said
        return [*replies, *self.news()]

    # ------------------------------------------------------------ sheets

    def enter(self, door: Door, text: str) -> list[Reply]:
        """Open the sheet behind a door; what it says before its first question."""
        now = self.course.now = self.course.now.told(Move((Entered(door, text),)))
        sheets, replies = self.interview.begin(now.sheets, now.state, self.plan, now.units)
        self.course.now = replace(now, sheets=sheets, ahead=SaidAhead(opened_with=tuple(opening_parts(text))))
        self.work_out()
        return [*replies, *self._sheet_says(), *self._said_before()]

    def hears(self, understood: Understood, heard: Heard, besides: Callable[[str], bool]) -> Answered | None:
        """What a line does to the open sheet; None if it is about something else.

        Args:
            heard: how the line is read beside the open blank.
            besides: whether words that do not fill the open blank tell or ask something that is no matter of sheets.
        """
        found = self.interview.filled_by(understood, heard, self.state.filled)
        if isinstance(found, list):
            return self._refuses(found)
        self._bears_refused(())
        if found is None:
            return None
        if isinstance(found, Mended):
            return Answered(self._mend(found))
        others = tuple(piece for piece in found.rest if besides(piece))
        in_mind = tuple(piece for piece in found.rest if piece not in others)
        now = self.course.now
        self.course.now = replace(now, ahead=replace(now.ahead, in_mind=(*now.ahead.in_mind, *in_mind)))
        said = understood.text if not found.rest else ""
        return Answered(self.fill(found.text, said), others)

    def _refuses(self, replies: list[Reply]) -> Answered | None:
        """A line that is no answer: first said so, then what would be one; the third time the sheet is left for it."""
        blank = self.interview.blank
        if blank is None or not any(reply.kind == "lost" for reply in replies):
            return Answered(replies)
        before = self.course.now.sheets.refused
        refused = (*(before if blank.ask in before else ()), blank.ask)
        self._bears_refused(refused)
        if len(refused) == 1:
            return Answered(replies)
        if len(refused) == _PATIENCE:
            self._bears_refused(())
            self.leave()
            return None
        offered = "; ".join(f"{number} for {option.say}" for number, option in enumerate(blank.options, 1))
        way_out = "Or say “never mind”, and I leave these questions and listen to what you tell."
        return Answered(
            [Reply("answer", f"I need {f'a number here: {offered}' if offered else 'a figure here'}. {way_out}")]
        )

    def _bears_refused(self, refused: tuple[str, ...]) -> None:
        now = self.course.now
        if now.sheets.refused != refused:
            self.course.now = replace(now, sheets=replace(now.sheets, refused=refused))

    def fill(self, text: str, said: str = "") -> list[Reply]:
        """Fill the open blank of the sheet, with nothing if it is not known; what the sheet says to that.

        Args:
            said: the words in which it was said, if they were others.
        """
        return [*self._fill(text, said), *self._said_before()]

    def _fill(self, text: str, said: str) -> list[Reply]:
        blank = self.interview.blank
        if blank is not None and blank.needed and not text:
            if self.course.now.sheets.unknown == blank.ask:
                self.leave()
                return [Reply("answer", "Then I leave that, as nothing can be worked out without it.")]
            self._bears_unknown(blank.ask)
            return [Reply("answer", "Nothing can be worked out without that; a guess will do. “never mind” leaves it.")]
        self._bears_unknown("")
        heard = self.interview.heard(text, said)
        try:
            self.told(Move((Filled(text),), (f"“{text}”",) if text else ()))
        except HouseholdError as error:
            return [Reply("lost", upper(f"{error}."))]
        return [*heard, *self._sheet_says()]

    def _bears_unknown(self, ask: str) -> None:
        now = self.course.now
        self.course.now = replace(now, sheets=replace(now.sheets, unknown=ask))

    def _said_before(self) -> list[Reply]:
        """Fill what follows from what was said already, as far as that goes."""
        replies: list[Reply] = []
        while self.on_a_sheet:
            ahead = self.course.now.ahead
            found = self.interview.said_before(ahead.in_mind, near=True)
            if found is None and (found := self.interview.said_before(ahead.opened_with, near=False)) is None:
                break
            text, fit = found
            self.course.now = replace(self.course.now, ahead=ahead.without(text))
            blank = self.interview.blank
            asked = blank.ask if blank is not None else ""
            filled = self._fill(fit, "")
            replies += [Reply("heard", f"{asked.split('?')[0]}? “{text}”, you said."), *filled]
        ahead, told = self.course.now.ahead.told(on_a_sheet=self.on_a_sheet)
        self.course.now = replace(self.course.now, ahead=ahead)
        return [*replies, *told]

    def _mend(self, mended: Mended) -> list[Reply]:
        """Put right what a blank before the open one was filled with."""
        heard = self.interview.heard(mended.text, f"{mended.text}.,", mended.place)
        text = heard[0].text.removeprefix("Heard: ") if heard else f"{mended.text}."
        try:
            self.told(Move((mended,), (f"“{mended.text}”",)))
        except HouseholdError as error:
            return [Reply("lost", upper(f"{error}."))]
        return [Reply("heard", f"Put right: {text}"), *self._sheet_says(None if mended.alone else mended.place)]

    def leave(self) -> None:
        """Leave the sheet, or the heap in trouble."""
        self.course.now = replace(self.course.now, ahead=SaidAhead())
        self.told(Move((Entered(""),)))

    @property
    def on_a_sheet(self) -> bool:
        """Whether a blank of a sheet is open."""
        return self.interview.blank is not None

    def _sheet_says(self, since: int | None = None) -> list[Reply]:
        now = self.course.now
        sheets, replies = self.interview.goes_on(now.sheets, len(now.memory.moves), since)
        now = self.course.now = replace(now, sheets=sheets)
        if not self.on_a_sheet:
            # its end belongs to the last answer, so that both are taken back together
            self.course.now = replace(now, memory=now.memory.told_with_the_last(Entered("")))
            self.work_out()
        return replies
