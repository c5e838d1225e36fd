"""What a line does: warnings first, then the open form or question, then what it tells and asks by its kind."""

from __future__ import annotations

from dataclasses import replace

from advisor.diagnosis.signs import as_signs, gone, signs_told
from advisor.hearing import shapes as heard_shapes
from advisor.knowledge.base import Knowledge
from advisor.talk import answering, doors
from advisor.talk.account import Account
from advisor.talk.asking import NOWHERE
from advisor.talk.beside_question import heard_beside, method_spoken_of, with_answer
from advisor.talk.composing import composed
from advisor.talk.intents import (
    Ask,
    AskMaterial,
    Context,
    Door,
    Enter,
    Have,
    HaveNot,
    Less,
    Pick,
    Swap,
    Told,
    Understood,
    Unsaid,
    WhatIf,
)
from advisor.talk.labels import Labels
from advisor.talk.last_told import last_told
from advisor.talk.near_trouble import as_told, asked_of, goes_on, opens, with_how_wet, without_stock
from advisor.talk.replies import Reply
from advisor.talk.requests import Requests
from advisor.talk.taking import Taking
from advisor.talk.turns import GROUND, turn
from advisor.talk.understand import meant

#: What is told or asked of a heap even where a sheet is open.
_BESIDES = (Have, HaveNot, Less, AskMaterial, WhatIf, Swap)
_WAITS = "The questions you were at wait: say “back to the questions” to go on with them."
_LEFT = Reply("answer", "I leave those questions, as you tell of something else.")


class Following:
    """Follows what is said, line by line."""

    def __init__(self, account: Account, taking: Taking, requests: Requests, knowledge: Knowledge) -> None:
        self._course, self._account, self._taking = account.course, account, taking
        self._requests, self._knowledge = requests, knowledge
        self._labels = Labels(knowledge)

    @property
    def context(self) -> Context:
        """What is expected just now."""
        now, household, plan = self._course.now, self._account.household, self._account.plan
        asked = now.pending.asked
        named = [line.id for line in plan.lines()] if plan is not None else []
        return Context(
            attribute=asked.question.attribute if asked is not None else "",
            options=len(asked.question.options) if asked is not None and not asked.question.figures else 0,
            materials=tuple(dict.fromkeys(held.material for held in household.holdings)),
            latest=now.pending.latest,
            lines=(*named, *self._account.lines, *now.shown.lines),
            ails=now.state.in_trouble,
            animals=tuple(str(value) for value in household.answers.get("household.animals", ())),
        )

    def follows(self, text: str, heard: heard_shapes.Heard) -> tuple[Reply, ...]:
        """What there is to say to a line that is no matter of the diary alone."""
        now = self._course.now
        warned = now.warns
        now = self._course.now = replace(now, warns=False, vessel=answering.vessel_meant(heard, self._account.plan))
        on_a_form = now.pending.waiting.first is None and self._account.on_a_sheet
        if "more" in heard.acts and not heard.dangers and not heard.named:
            self._counts()
            return (now.last.more((*now.shown.kept, *now.cure_told.kept)),)
        warnings = () if on_a_form and heard.named else tuple(answering.warnings(heard, self._knowledge, now.units))
        if heard.named and now.pending.asked is not None and (on_a_form or not warned):
            picks = tuple(Pick(number, (0, len(text))) for number in heard.options)
            return (*warnings, *self._taking.take(Understood(text, picks)))
        danger, meanwhile = now.danger.hears(heard, self._knowledge, now.units)
        now = self._course.now = replace(now, danger=danger)
        answers = on_a_form and heard.acts[:1] == ("answer",)
        if warnings or (meanwhile and not answers):
            self._counts()
            cautions = meanwhile or warnings
            warns = any(reply.kind == "caution" for reply in cautions)  # no question is put after a warning
            self._course.now = replace(self._course.now, warns=warns)
            self._comes_near(heard)
            return cautions
        understood = self._understood(text, heard)
        labelled = self._labels.meant(text) if not heard.options else ()
        if labelled and not on_a_form:
            return self._taking.take(Understood(text, labelled))
        if not on_a_form:
            return self._takes_turn(heard, with_answer(heard, understood, now.pending.asked))
        answered = self._account.hears(understood, heard, self._is_besides)
        if answered is None:
            return self._leaves_form(heard, understood)
        self._counts()
        replies = answered.replies
        for other in answered.others:
            told = self._takes_turn(self.heard(other), self._understood(other))
            replies += [reply for reply in told if reply.question is None]
        self._requests.after_the_sheet()
        return (*replies, *self._taking.goes_on())

    def _leaves_form(self, heard: heard_shapes.Heard, understood: Understood) -> tuple[Reply, ...]:
        """Do what a line says that is no matter of the open form, which waits."""
        if not self._account.on_a_sheet:  # it was left, after lines that answered nothing
            self._course.now = self._course.now.turned_to(None)
            listened = self.heard(heard.text)
            return (_LEFT, *self._takes_turn(listened, self._understood(heard.text, listened)))
        labelled = self._labels.meant(heard.text)
        told = Understood(heard.text, labelled) if labelled else None
        replies = self._taking.take(told) if told is not None else self._takes_turn(heard, understood)
        if self._course.now.state.left:
            return (*replies, Reply("answer", _WAITS))
        asked = any(reply.question is not None for reply in replies)
        return replies if asked or not self._account.on_a_sheet else (*replies, *self._taking.asks())

    def heard(self, text: str) -> heard_shapes.Heard:
        """How a line is read beside the open question or form."""
        now = self._course.now
        heard = heard_beside(text, now.pending.asked, now.state, self._knowledge, self._account.today)
        ails = now.state.in_trouble or now.pending.near is not None
        return with_how_wet(as_told(heard), self._knowledge) if ails else heard

    def _takes_turn(self, heard: heard_shapes.Heard, understood: Understood) -> tuple[Reply, ...]:
        """Do what a line says that was heard as a whole."""
        if "save" in heard.acts[:1]:
            return self._taking.take(understood)  # the words of a name mean nothing else
        for request in ("paper", "calendar"):
            if request in heard.acts[:1]:  # "on paper" names no material
                return self._taking.take(Understood(heard.text, (Ask(request, NOWHERE),)))
        now = self._course.now
        was_in_trouble, near = now.state.in_trouble, now.pending.near
        more = not was_in_trouble and near is not None and goes_on(heard)
        found = turn(
            heard,
            understood.intents,
            self._knowledge,
            self._account.household,
            in_trouble=was_in_trouble or more,
            method=method_spoken_of(now.state),
            open_attribute=self.context.attribute,
        )
        found = replace(found, intents=without_stock(heard, found.intents))
        signs = found.signs if found.ails else ()
        if not now.state.in_trouble:  # what was told before the trouble opened counts
            before_it = bool(near) or any(one.attribute not in GROUND for one in now.pending.seen)
            seen = (*now.pending.seen, *found.signs)
            self._course.now = replace(now, pending=replace(now.pending, seen=seen))
            if more and heard.acts[:1] != ("deed",):
                shows = any(one.attribute not in GROUND for one in found.signs)
                found = replace(found, ails=before_it or (found.ails and shows))
            signs = (*(near or ()), *seen) if found.ails else ()
            if more and not found.ails and not found.intents and not heard.told:
                return self._asks_what_is_wrong(heard)
            if not found.ails:
                self._comes_near(heard, still=more)
        away = tuple(Unsaid(*one) for one in gone(heard) if one[1] in now.state.signs.get(one[0], ()))
        taken: tuple[Reply, ...] = ()
        before = now.pending.topic
        if found.intents or signs or away:
            taken = self._taking.take(Understood(heard.text, (*away, *found.intents, *signs)))
        else:
            self._counts()
        now = self._course.now
        told = [(one.attribute, str(value)) for one in found.intents if isinstance(one, Told) for value in one.values]
        besides = answering.Besides(heard, self._account.plan, now.state, self._knowledge, now.units, told)
        waits = now.pending.waiting.first is not None or self._account.on_a_sheet
        replies = composed(besides, taken, ails=found.ails, waits=waits)
        now = replace(now, last=last_told(replies, besides.sources()))
        if now.pending.topic != before and not any(reply.question is not None for reply in replies):
            now = now.turned_to(None)  # it was not put, so nothing that is said next answers it
        self._course.now = now
        if now.state.in_trouble and not signs and answering.asks_what_to_do(heard):
            replies = self._account.ailing.again(now.cure_told, done="deed" in heard.acts) or replies
        door = self._door_of(understood) if not (found.ails or self._account.on_a_sheet) else None
        if door is not None and not replies:
            return self._taking.take(Understood(heard.text, (Enter(door, NOWHERE),)))
        if door is not None and (heard.asked or not taken):
            self._course.now = replace(now, offered=heard.text).put(doors.offer_asked(door), at_once=True)
            return (*(reply for reply in replies if reply.question is None), *self._taking.asks())
        if was_in_trouble and signs and {reply.kind for reply in replies} == {"heard"}:
            return (*self._account.ailing.stands(now.cure_told), *replies)
        holds = now.state.in_trouble and not replies and not heard.unread
        if holds and (stands := self._account.ailing.stands(now.cure_told)):
            return (*stands, *(self._taking.asks() if not heard.asked else ()))
        return replies or (answering.lost(heard), *(self._taking.asks() if not heard.acts else ()))

    def _asks_what_is_wrong(self, heard: heard_shapes.Heard) -> tuple[Reply, ...]:
        """What there is to say where something is wrong and no line has told yet what."""
        self._counts()
        self._comes_near(heard, still=True)
        return (answering.lost(replace(heard, acts=("trouble",), asked=())),)

    def _comes_near(self, heard: heard_shapes.Heard, *, still: bool = False) -> None:
        """Keep in mind whether a line told or asked of something wrong; `still` if the one before it did."""
        pending = self._course.now.pending
        near = (*(pending.near or ()), *asked_of(heard)) if still or opens(heard) else None
        if heard.dangers:  # what was told with a danger counts once it is over
            told = signs_told(heard, self._knowledge)
            signs = tuple(Told(f"sign.{name}", values, NOWHERE) for name, values in as_signs(told).items())
            near = (*(near or ()), *signs)
        self._course.now = replace(self._course.now, pending=replace(pending, near=near))

    def _door_of(self, understood: Understood) -> Door | None:
        """The sheet that a line asks for, if it asks for one."""
        named = (intent.door for intent in understood.intents if isinstance(intent, Enter))
        return next((door for door in named if door in doors.SHEETS), None)

    def _understood(self, text: str, heard: heard_shapes.Heard | None = None) -> Understood:
        """What a line means; a part of one is heard by itself."""
        return Understood(text, meant(heard or self.heard(text), self._knowledge, self.context))

    def _is_besides(self, text: str) -> bool:
        acts = self.heard(text).acts
        return acts[:1] in (("trouble",), ("danger",)) or any(
            isinstance(intent, _BESIDES) for intent in self._understood(text).intents
        )

    def _counts(self) -> None:
        self._course.now = self._course.now.counted()
