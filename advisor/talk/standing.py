"""How a talk stands: one record that is never changed; each line maps it to the next.

It holds all of a conversation that is not worked out of something else: the moves, the open questions, and what the
person was told. The plan, the diagnosis and the place on a sheet follow from it, and are no part of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field, replace

from advisor.household.shapes import Household
from advisor.records import dataclass
from advisor.talk.asking import Asked
from advisor.talk.intents import Told
from advisor.talk.interview import Sheets
from advisor.talk.last_told import LastTold
from advisor.talk.lines_shown import LinesShown
from advisor.talk.memory import Change, Memory, Move, State
from advisor.talk.reckoning import PlanTold
from advisor.talk.said_ahead import SaidAhead
from advisor.talk.standing_danger import StandingDanger
from advisor.talk.trouble import CureTold
from advisor.talk.waiting import Waiting
from advisor.units import Units


@dataclass(frozen=True)
class Pending:
    """What the next line may speak to, and what comes back with a move that is taken back.

    Attributes:
        waiting: the questions that wait, before anything on the agenda.
        topic: what was asked last of the agenda, the heap in trouble or a sheet.
        latest: the material that was spoken of last; empty if none.
        seen: signs that were told before any trouble opened.
        near: signs the last lines asked about, where they told or asked of something wrong and no trouble opened;
            nothing otherwise.
    """

    waiting: Waiting = field(default_factory=Waiting)
    topic: Asked | None = None
    latest: str = ""
    seen: tuple[Told, ...] = ()
    near: tuple[Told, ...] | None = None

    @property
    def asked(self) -> Asked | None:
        """The question that stands open."""
        return self.waiting.first or self.topic


@dataclass(frozen=True)
class Standing:
    """How a talk stands.

    Attributes:
        memory: what was told, as moves.
        units: those in which figures are said.
        name: the name under which the household was kept last.
        saved: the household as it was kept or loaded last.
        pending: what the next line may speak to.
        before: what was pending before each of the moves, in their order.
        began: what was pending before the move that comes next.
        trial: what was tried last and can be kept.
        offered: what was asked when a sheet was offered last.
        ahead: what was said on a sheet before it was asked.
        sheets: what the sheets have come to, beside their answers.
        plan_told: what the person was told of plans.
        cure_told: what the person was told of a heap in trouble.
        shown: the lines of the last answer about materials.
        last: what kind of answer was given last.
        danger: a danger that was told and may last.
        warns: whether the last line was answered with a warning alone.
        vessel: the way of composting that the last line meant.
        knows_sheets: whether it was said how to get about on sheets.
        exchanges: how often something was said to the talk, or done on a screen.
    """

    memory: Memory
    units: Units
    name: str = ""
    saved: Household | None = None
    pending: Pending = field(default_factory=Pending)
    before: tuple[Pending, ...] = ()
    began: Pending = field(default_factory=Pending)
    trial: tuple[Change, ...] = ()
    offered: str = ""
    ahead: SaidAhead = field(default_factory=SaidAhead)
    sheets: Sheets = field(default_factory=Sheets)
    plan_told: PlanTold = field(default_factory=PlanTold)
    cure_told: CureTold = field(default_factory=CureTold)
    shown: LinesShown = field(default_factory=LinesShown)
    last: LastTold = field(default_factory=LastTold)
    danger: StandingDanger = field(default_factory=StandingDanger)
    warns: bool = False
    vessel: str = ""
    knows_sheets: bool = False
    exchanges: int = 0

    @property
    def state(self) -> State:
        """What the moves come to."""
        return self.memory.state

    # ------------------------------------------------------------ moves

    def line_begins(self) -> Standing:
        """A line is heard: what is pending now comes back if it is taken back."""
        return replace(self, began=self.pending)

    def told(self, move: Move) -> Standing:
        """With one move more. Those of one line after the first begin where that one led."""
        return replace(self, memory=self.memory.told(move), before=(*self.before, self.began), began=self.pending)

    def back(self) -> Standing:
        """Without the last move: questions about words stand open again, others are found anew.

        What the person was told stays told; what was only tried is not offered again.
        """
        then = self.before[-1]
        pending = replace(then, waiting=then.waiting.lasting)
        return replace(
            self, memory=self.memory.back(), pending=pending, before=self.before[:-1], began=pending, trial=()
        )

    def again(self) -> Standing:
        """With the move that was taken back last."""
        before = (*self.before, self.pending)
        pending = replace(self.pending, waiting=Waiting())
        return replace(self, memory=self.memory.again(), pending=pending, before=before, began=pending, trial=())

    # ------------------------------------------------------------ parts

    def counted(self) -> Standing:
        """With one exchange more."""
        return replace(self, exchanges=self.exchanges + 1)

    def put(self, asked: Asked, *, at_once: bool = False) -> Standing:
        """With a question that waits, behind the others or before them."""
        return self.waits(self.pending.waiting.add(asked, at_once=at_once))

    def waits(self, waiting: Waiting) -> Standing:
        """With these questions waiting."""
        return replace(self, pending=replace(self.pending, waiting=waiting))

    def turned_to(self, topic: Asked | None) -> Standing:
        """With another question of the agenda."""
        return replace(self, pending=replace(self.pending, topic=topic))

    def spoke_of(self, material: str) -> Standing:
        """With a material that was spoken of last."""
        return replace(self, pending=replace(self.pending, latest=material))

    def forgetful(self) -> Standing:
        """Without what was said to the person, as it was about another heap; the moves stay."""
        return replace(
            self,
            name="",
            pending=Pending(),
            began=Pending(),
            trial=(),
            ahead=SaidAhead(),
            sheets=replace(self.sheets, lines={}),
            plan_told=PlanTold(),
            cure_told=CureTold(),
            shown=LinesShown(),
        )

    def another(self, start: Household, moves: Sequence[Move], name: str) -> Standing:
        """With the moves of another talk in the place of those of this one; its sheets are to be begun anew."""
        memory = Memory(self.memory.knowledge, start, tuple(moves))
        before = (Pending(),) * len(moves)
        return replace(self.forgetful(), memory=memory, before=before, name=name, sheets=Sheets(self.sheets.ground))


class Course:
    """The one thing about a talk that changes: which record holds now."""

    def __init__(self, now: Standing) -> None:
        self.now = now
