"""What is asked of the talk itself, and what it answers: the plan, why, what if, a door, units, keeping, leaving."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.talk import answers, doors
from advisor.talk.account import Account
from advisor.talk.asking import Asked, keep_asked
from advisor.talk.diary_due import DueToday
from advisor.talk.handing_over import handed_over
from advisor.talk.intents import (
    Ask,
    AskMaterial,
    AskWhy,
    CarryOn,
    Door,
    Enter,
    Intent,
    LookAtDeed,
    Request,
    SettleDeed,
    Swap,
    WhatIf,
)
from advisor.talk.kept_heaps import KeptHeaps
from advisor.talk.last_told import LastTold
from advisor.talk.lines_shown import LinesShown
from advisor.talk.material_answer import narrowed
from advisor.talk.memory import Change, Entered, Move
from advisor.talk.replies import Reply
from advisor.talk.trouble import unseen
from advisor.talk.trying import what_if
from advisor.talk.waiting import Waiting


class Requests:
    """Answers requests about one talk.

    Attributes:
        trial: what was tried last and can be kept.
        latest: the material that was spoken of last; empty if none.
    """

    def __init__(
        self,
        account: Account,
        heaps: KeptHeaps,
        waiting: Waiting,
        shown: LinesShown,
        told: LastTold,
        knowledge: Knowledge,
        engine: Engine,
        forget: Callable[[], None],
        due: DueToday,
    ) -> None:
        """Begin. `forget` forgets what was said to the person about the heap before."""
        self._due = due
        self._account, self._heaps, self._waiting = account, heaps, waiting
        self._shown, self._told, self._knowledge, self._engine, self._forget = shown, told, knowledge, engine, forget
        self.trial: tuple[Change, ...] = ()
        self.latest = ""
        self._knows_sheets = False  # how to get about on them was said

    def answers(
        self, intent: Intent | Change, text: str, name: str, put: Asked | None, *, told: bool, vessel: str
    ) -> list[Reply]:
        """What an intent is answered with; nothing if it asks nothing of the talk.

        Args:
            text: the words of the line that count for it.
            name: the name under which the heap is to be kept; empty if none was said.
            put: the question that stood open.
            told: whether the line also tells what there is.
            vessel: the method of composting that the line means; empty if none.
        """
        match intent:
            case Ask(request, _):
                return self._request(request, name)
            case AskWhy(about, _):
                reasons = () if about else self._told.why(self._account.ailing.reasons)
                return list(reasons) or self._shown.why(about, self._account.plan, self._account.lines, put)
            case AskMaterial(materials, _):
                self.latest = materials[0] if len(materials) == 1 else self.latest
                return [self._shown.about(narrowed(materials, text, self._knowledge), vessel, self._account.units)]
            case WhatIf(changes, _):
                return [self._tries(changes, text, keep=False)]
            case Swap():
                return [self._tries((intent,), text, keep=True)]
            case Enter(door, _):
                return self._enters(door, text, told=told)
            case CarryOn(talk):
                return self._heaps.carry_on(talk, self._forget)
            case LookAtDeed(vessel, deed, _):
                said, asked = self._due.look_at(vessel, deed)
                self._waiting.add(asked, at_once=True)
                return list(said)
            case SettleDeed(vessel, deed, how, _):
                settled = self._due.settle(vessel, deed, how)
                self._asks_doors("What next?")
                return list(settled)
            case _:
                return []

    def _asks_doors(self, ask: str) -> None:
        """Ask what brings the person here, with what is due today before all else."""
        self._waiting.add(self._due.before(doors.doors_asked(self._heaps.found(), ask)))

    def _request(self, request: Request, name: str) -> list[Reply]:
        plan, view = self._account.plan, self._account.reckoning.view
        match request:
            case "plan" if self._account.state.in_trouble and (cure := self._account.ailing.again()):
                return list(cure)
            case "plan" if (whole := self._account.reckoning.whole_plan()) is not None:
                return [Reply("plan", "The whole plan so far.", plan=whole)]
            case "else" if plan is not None and view is not None:
                return [answers.what_else(view.now, self._knowledge)]
            case "plan" | "else":
                return [Reply("answer", "There is no plan yet: tell me first what you have to compost.")]
            case "metric" | "us":
                self._account.use(request)
                said = "litres, kilograms and metres" if request == "metric" else "gallons, pounds and feet"
                return [Reply("answer", f"From now on in {said}.")]
            case "save":
                return [self._heaps.keep(name)]
            case "paper" | "calendar":
                return [handed_over(request, self._account, self._knowledge, self._engine)]
            case "help":
                return [Reply("answer", answers.HELP)]
            case "list":
                return [answers.told_so_far(self._account.state, self._knowledge, self._account.units)]
            case "skip":
                self._account.reckoning.asks_on = True
                return []
            case "drop":
                return [self._drops()]
            case _:
                return []

    def _tries(self, changes: Sequence[Intent], text: str, *, keep: bool) -> Reply:
        view = self._account.reckoning.view
        now = view.now if view is not None else None
        trial = what_if(
            changes,
            text,
            self._account.state,
            self._account.plan,
            now,
            self._knowledge,
            self._engine,
            self._account.units,
        )
        self.trial = trial.changes
        if keep and trial.changes:
            self._waiting.add(keep_asked(trial.changes), at_once=True)
        return trial.reply(asked_to_keep=keep)

    def _drops(self) -> Reply:
        if not self._account.state.door:
            return Reply("answer", "There is nothing to leave just now. “bye” ends the talk.")
        self._account.leave()
        self.after_the_sheet()
        return Reply("answer", "We leave that, then.")

    def _enters(self, door: Door, text: str, *, told: bool) -> list[Reply]:
        self._waiting.clear()
        if self._account.state.left and door in ("carry-on", self._account.state.left):
            self._account.told(Move((Entered(self._account.state.left),)))
            return [Reply("answer", "Back to the questions, then.")]
        if door == "carry-on":
            asked, said = doors.kept_asked(self._heaps.found(), self._heaps.folder)
            if asked is not None:
                self._waiting.add(asked)
            return list(said)
        if door == "trouble" and self._account.state.signs:
            return []  # the signs came with it, and were answered
        if door == "no-manure" and told:  # said in passing, with what there is
            return [doors.behind(door, self._knowledge)]
        if door in ("start", "trouble"):
            self._account.told(Move((Entered(door),)))
            if door == "trouble":
                return self._account.news() or unseen(self._account.state)
            return [doors.behind(door, self._knowledge)]
        first, self._knows_sheets = not self._knows_sheets, True
        replies = [doors.behind(door, self._knowledge, first=first), *self._account.enter(door, text)]
        self.after_the_sheet()
        return replies

    def after_the_sheet(self) -> None:
        """Ask what comes next where a sheet has been left and there is no heap to go on with."""
        if not self._account.on_a_sheet and not self._account.household.holdings:
            self._asks_doors("What next?")
