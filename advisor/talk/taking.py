"""What a line does once it is understood: moves are made, requests answered, and the next question is put."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from advisor.errors import HouseholdError
from advisor.knowledge.base import Knowledge
from advisor.talk import doors
from advisor.talk.account import Account
from advisor.talk.hearing import Heard, listened
from advisor.talk.intents import (
    Ask,
    Enter,
    HaveNot,
    Intent,
    Lost,
    Request,
    TellRoom,
    Unclear,
    Understood,
    Vague,
)
from advisor.talk.kept_heaps import KeptHeaps
from advisor.talk.memory import Change, Filled, Fresh, Load, Move
from advisor.talk.replies import Reply
from advisor.talk.requests import Requests
from advisor.talk.resolving import resolved
from advisor.talk.saying import upper
from advisor.talk.shelf import named_to_save
from advisor.talk.trouble import unseen

_LEFT_TO_SHEETS = (Lost, Vague, Unclear, TellRoom)


class Taking:
    """Takes in what was understood, and leads the course of the talk on."""

    def __init__(self, account: Account, heaps: KeptHeaps, requests: Requests, knowledge: Knowledge) -> None:
        self._course, self._account, self._heaps = account.course, account, heaps
        self._requests, self._knowledge = requests, knowledge

    def take(self, understood: Understood) -> tuple[Reply, ...]:
        """What there is to say to a line that is understood."""
        if not understood.text.strip() and not understood.intents:
            return (Reply("lost", "I heard nothing. “help” lists what you can say."), *self.asks())
        now = self._course.now = self._course.now.counted()
        name, understood = named_to_save(understood)
        found = resolved(understood, now.pending.asked, now.trial, self._knowledge)
        if any(isinstance(intent, Enter) and intent.door in doors.SHEETS for intent in found.intents):
            # what else such a line says belongs to the sheet, which asks for it
            found.intents = [intent for intent in found.intents if not isinstance(intent, _LEFT_TO_SHEETS)]
        requests = [intent.request for intent in found.intents if isinstance(intent, Ask)]
        if "leave" in requests:
            return (self._heaps.farewell(),)
        put, offered = now.pending.asked, now.offered
        now = self._course.now = replace(now, offered="", shown=now.shown.next_line())
        fills = [one.text for one in found.intents if isinstance(one, Filled) and one.text]
        if any(isinstance(one, Filled) for one in found.intents):
            said = "" if any(sign.isdigit() for sign in understood.text) else understood.text
            return (*self._filled(", ".join(fills), said), *self.goes_on())
        if found.settled:
            self._course.now = now.waits(now.pending.waiting.answered())
        replies = [reply for request in requests for reply in self._moved_about(request)]
        now = self._course.now
        heard = listened(found.intents, understood.text, now.state, self._knowledge, now.units)
        replies += self._made(heard)
        if (heard.changes or heard.asked) and not found.settled:
            waiting, note = self._course.now.pending.waiting.passed_over(put, heard.changes)
            self._course.now = self._course.now.waits(waiting)
            found.notes.append(note)
        for asked in heard.asked:
            self._course.now = self._course.now.put(asked)
        replies += [Reply("answer", note) for note in found.notes if note]
        for intent in found.intents:
            told = any(not isinstance(change, HaveNot) for change in heard.changes)
            # what was picked from a list says nothing for the form that opens: "5" is no measurement
            said = (
                understood.text if not found.picked else offered if put is not None and put.key == doors.OFFER else ""
            )
            replies += self._requests.answers(intent, said, name, put, told=told)
        if not replies and not heard.asked and not understood.intents:
            replies.append(Reply("answer", "Very well. “help” lists what you can tell and ask me."))
        found_next = self.goes_on()
        if not replies and not found_next:
            replies.append(Reply("answer", "Nothing that I could ask would change it. “show the plan” has all of it."))
        return (*replies, *found_next)

    def done(self, made: Sequence[Intent | Change]) -> tuple[Reply, ...]:
        """What was done on a screen is taken in, and said back."""
        now = self._course.now
        return (*self._made(listened(made, "", now.state, self._knowledge, now.units)), *self.goes_on())

    # ------------------------------------------------------------ what it changes

    def _made(self, heard: Heard) -> list[Reply]:
        """Take in what was heard, and say it back; an amount out of all bounds is not taken in."""
        replies: list[Reply] = []
        if heard.changes:
            try:
                self._account.told(Move(tuple(heard.changes), tuple(heard.said)))
            except HouseholdError as error:
                return [Reply("lost", upper(f"{error}."))]
            self._course.now = replace(self._course.now, trial=())
            if any(isinstance(change, Load | Fresh) for change in heard.changes):
                self._course.now = self._course.now.forgetful()
                self._heaps.loaded()
        if heard.materials:
            self._course.now = self._course.now.spoke_of(heard.materials[-1])
        if heard.back:
            guessed = " Say how much there is, and I put it right." if heard.guessed else ""
            replies.append(Reply("heard", f"Heard: {', '.join(heard.back)}.{guessed}"))
        if heard.left_open:
            replies.append(Reply("heard", f"Left open: {', '.join(heard.left_open)}."))
        replies += [Reply("lost", lost) for lost in heard.lost]
        return [*replies, *self._account.news(heard.materials)] if heard.changes else replies

    def _filled(self, text: str, said: str) -> list[Reply]:
        replies = self._account.fill(text, said)
        self._requests.after_the_sheet()
        return replies

    def _moved_about(self, request: Request) -> list[Reply]:
        """Go back, or start again."""
        if request == "again":
            self._account.told(Move((Fresh(),)))
            self._course.now = self._course.now.forgetful()
            self._heaps.begun_again()
            self._course.now = self._course.now.put(doors.doors_asked(self._heaps.found()))
            return [Reply("answer", "From the start, then. “go back” brings back what you had said.")]
        if request not in ("back", "redo"):
            return []
        reply = self._account.back() if request == "back" else self._account.again()
        if reply is None:
            said = "There is nothing to take back." if request == "back" else "There is nothing to put back."
            return [Reply("answer", said)]
        return [reply, *(self._account.news() or unseen(self._account.state))]

    # ------------------------------------------------------------ what comes next

    def goes_on(self) -> tuple[Reply, ...]:
        """The next question, or the conclusion if nothing more need be asked."""
        now = self._course.now
        if now.pending.waiting.first is not None:
            return self.asks()
        asked, kept_back = self._account.interview.asked, 0
        if asked is None and now.state.in_trouble:
            asked = self._account.ailing.next_asked(now.state, now.units)
            if asked is not None:
                told = replace(now.cure_told, put=now.cure_told.put | {asked.key})
                now = replace(now, cure_told=told)
        elif asked is None:
            asked, kept_back = self._account.reckoning.next_asked(now.state, now.units, asks_on=now.plan_told.asks_on)
        on_the_plan = self._account.interview.asked is None and not now.state.in_trouble
        now = self._course.now = now.turned_to(asked)
        if asked is not None or not on_the_plan:
            return self.asks()
        told_of, replies = self._account.reckoning.conclusion(now.plan_told, kept_back)
        self._course.now = replace(now, plan_told=told_of)
        return tuple(replies)

    def asks(self) -> tuple[Reply, ...]:
        """The question that stands open, if one does."""
        asked = self._course.now.pending.asked
        return (Reply("question", asked.question.ask, question=asked.question),) if asked is not None else ()
