"""What is asked of the talk itself, and what it answers: the plan, why, what if, a door, units, keeping, leaving."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

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
from advisor.talk.material_answer import narrowed
from advisor.talk.memory import Change, Entered, Move
from advisor.talk.replies import Reply
from advisor.talk.trouble import unseen
from advisor.talk.trying import what_if
from advisor.talk.waiting import Waiting


class Requests:
    """Answers requests about one talk."""

    def __init__(self, account: Account, heaps: KeptHeaps, knowledge: Knowledge, engine: Engine, due: DueToday) -> None:
        self._course, self._account, self._heaps, self._due = account.course, account, heaps, due
        self._knowledge, self._engine = knowledge, engine

    def answers(self, intent: Intent | Change, text: str, name: str, put: Asked | None, *, told: bool) -> list[Reply]:
        """What an intent is answered with; nothing if it asks nothing of the talk.

        Args:
            text: the words of the line that count for it.
            name: the name under which the heap is to be kept; empty if none was said.
            put: the question that stood open.
            told: whether the line also tells what there is.
        """
        now = self._course.now
        match intent:
            case Ask(request, _):
                return self._request(request, name)
            case AskWhy(about, _):
                reasons = () if about else now.last.why(now.cure_told.reasons)
                return list(reasons) or now.shown.why(about, self._account.plan, self._account.lines, put)
            case AskMaterial(materials, _):
                near = narrowed(materials, text, self._knowledge)
                shown, reply = now.shown.about(near, now.vessel, self._knowledge, self._engine, now.units)
                now = now.spoke_of(materials[0]) if len(materials) == 1 else now
                self._course.now = replace(now, shown=shown)
                return [reply]
            case WhatIf(changes, _):
                return [self._tries(changes, text, keep=False)]
            case Swap():
                return [self._tries((intent,), text, keep=True)]
            case Enter(door, _):
                return self._enters(door, text, told=told)
            case CarryOn(talk):
                return self._heaps.carry_on(talk)
            case LookAtDeed(vessel, deed, _):
                said, asked = self._due.look_at(vessel, deed)
                self._course.now = now.put(asked, at_once=True)
                return list(said)
            case SettleDeed(vessel, deed, how, _):
                settled = self._due.settle(vessel, deed, how)
                self._asks_doors("What next?")
                return list(settled)
            case _:
                return []

    def _asks_doors(self, ask: str) -> None:
        """Ask what brings the person here, with what is due today before all else."""
        asked = self._due.before(doors.doors_asked(self._heaps.found(), ask))
        self._course.now = self._course.now.put(asked)

    def _request(self, request: Request, name: str) -> list[Reply]:
        plan, view, now = self._account.plan, self._account.reckoning.view, self._course.now
        match request:
            case "plan" if self._account.state.in_trouble and (
                cure := self._account.ailing.again(self._course.now.cure_told)
            ):
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
                self._course.now = replace(now, plan_told=replace(now.plan_told, asks_on=True))
                return []
            case "drop":
                return [self._drops()]
            case _:
                return []

    def _tries(self, changes: Sequence[Intent], text: str, *, keep: bool) -> Reply:
        view = self._account.reckoning.view
        trial = what_if(
            changes,
            text,
            self._account.state,
            self._account.plan,
            view.now if view is not None else None,
            self._knowledge,
            self._engine,
            self._account.units,
        )
        now = replace(self._course.now, trial=trial.changes)
        self._course.now = now.put(keep_asked(trial.changes), at_once=True) if keep and trial.changes else now
        return trial.reply(asked_to_keep=keep)

    def _drops(self) -> Reply:
        if not self._account.state.door:
            return Reply("answer", "There is nothing to leave just now. “bye” ends the talk.")
        self._account.leave()
        self.after_the_sheet()
        return Reply("answer", "We leave that, then.")

    def _enters(self, door: Door, text: str, *, told: bool) -> list[Reply]:
        self._course.now = self._course.now.waits(Waiting())
        if self._account.state.left and door in ("carry-on", self._account.state.left):
            self._account.told(Move((Entered(self._account.state.left),)))
            return [Reply("answer", "Back to the questions, then.")]
        if door == "carry-on":
            asked, said = doors.kept_asked(self._heaps.found(), self._heaps.folder)
            if asked is not None:
                self._course.now = self._course.now.put(asked)
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
        first = not self._course.now.knows_sheets
        self._course.now = replace(self._course.now, knows_sheets=True)
        replies = [doors.behind(door, self._knowledge, first=first), *self._account.enter(door, text)]
        self.after_the_sheet()
        return replies

    def after_the_sheet(self) -> None:
        """Ask what comes next where a sheet has been left and there is no heap to go on with."""
        if not self._account.on_a_sheet and not self._account.household.holdings:
            self._asks_doors("What next?")
