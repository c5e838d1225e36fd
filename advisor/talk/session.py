"""The conversation: what is said comes in, what is answered goes out, and the plan is there at any time.

    talk = Talk(knowledge, engine)
    talk.open()
    talk.hear("3 sacks of leaves and a bucket of coffee grounds")
    talk.plan, talk.question

It knows no screen. All it knows of the household is the list of moves in its memory, so that anything said can be taken
back, changed or tried, and everything else follows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from pathlib import Path

from advisor.counsel.in_use import local_lines
from advisor.counsel.plan import Line, Plan
from advisor.diagnosis.shapes import Diagnosis
from advisor.diagnosis.signs import gone
from advisor.diary.store import Diary
from advisor.diary.talks import TalkBook
from advisor.errors import HouseholdError
from advisor.hearing import shapes as heard_shapes
from advisor.hearing.cutting import LONGEST
from advisor.household.shapes import Household
from advisor.household.tokens import shown
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.places import data_folder
from advisor.safe_text import safe_text
from advisor.talk import answering, doors
from advisor.talk.account import Account
from advisor.talk.asking import FIRST, NOWHERE, Asked
from advisor.talk.bed_notes import BedNote
from advisor.talk.beside_question import heard_beside, method_spoken_of, with_answer
from advisor.talk.composing import composed
from advisor.talk.diary_book import DiaryBook
from advisor.talk.diary_landing import DiaryLanding
from advisor.talk.hearing import Heard, amount_told, listened
from advisor.talk.intents import (
    Ask,
    AskMaterial,
    Context,
    Door,
    Enter,
    Have,
    HaveNot,
    Intent,
    Less,
    Lost,
    Pick,
    Request,
    Swap,
    TellRoom,
    Told,
    Unclear,
    Understood,
    Unsaid,
    Vague,
    WhatIf,
)
from advisor.talk.keeping import Keeping, kept_as_said
from advisor.talk.kept_heaps import KeptHeaps
from advisor.talk.labels import Labels
from advisor.talk.last_told import LastTold
from advisor.talk.lines_shown import LinesShown
from advisor.talk.memory import Change, Filled, Forget, Fresh, Load, Move, State
from advisor.talk.replies import Question, Reply
from advisor.talk.requests import Requests
from advisor.talk.resolving import resolved
from advisor.talk.saying import upper
from advisor.talk.shelf import Keeper, Shelf, named_to_save
from advisor.talk.standing_danger import StandingDanger
from advisor.talk.trouble import unseen
from advisor.talk.turns import turn
from advisor.talk.understand import meant
from advisor.talk.waiting import Waiting
from advisor.units import Units

#: What is told or asked of a heap even where a sheet is open.
_BESIDES = (Have, HaveNot, Less, AskMaterial, WhatIf, Swap)
_WAITS = "The questions you were at wait: say “back to the questions” to go on with them."
#: So many characters are said back of where reading ended.
_READ_LAST = 40
_LEFT_TO_SHEETS = (Lost, Vague, Unclear, TellRoom)


class Talk:
    """One conversation about one household."""

    def __init__(
        self,
        knowledge: Knowledge,
        engine: Engine,
        *,
        units: Units = "metric",
        household: Household | None = None,
        save: Callable[[Household, str], Path] | None = None,
        shelf: Shelf | None = None,
        diary: Diary | None = None,
        book: TalkBook | None = None,
        today: date | None = None,
    ) -> None:
        """Begin.

        Args:
            household: what is known already; a heap to carry on with.
            save: keeps a household under a name and says where; by default it goes on the shelf.
            shelf: where heaps are kept; by default in the folder of advisor/places.py.
            diary: where beds and checks are kept; by default in the same folder.
            book: where every line is kept as it is said; nowhere if left out.
            today: the day; that of the clock if left out.
        """
        self.knowledge, self.engine = knowledge, engine
        self._account = Account(knowledge, engine, units, household, diary, today)
        self._given = household
        self.keeping = Keeping(book, self._account, knowledge, household, today)
        self._landing = DiaryLanding(book.path if book is not None else None, knowledge, today)
        keeper = Keeper(shelf or Shelf(data_folder(), knowledge), save)
        self._heaps = KeptHeaps(keeper, self.keeping, self._account, household, today)
        self._waiting = Waiting()
        self._labels = Labels(knowledge)
        self._topic: Asked | None = None
        self._shown = LinesShown(knowledge, engine)
        self._told = LastTold()
        self._danger = StandingDanger()
        self._warns = False  # whether the last line was answered with a warning alone
        self._seen: tuple[Told, ...] = ()  # signs told before any trouble opened
        self._meant = ""  # the way of composting that the last line meant
        self._offered = ""  # what was asked when a sheet was offered last
        self._exchanges = 0
        self._requests = Requests(
            self._account,
            self._heaps,
            self._waiting,
            self._shown,
            self._told,
            knowledge,
            engine,
            self._forgets,
            self._landing.due,
        )

    # ------------------------------------------------------------ what stands

    @property
    def household(self) -> Household:
        """Everything told so far."""
        return self._account.household

    @property
    def plan(self) -> Plan | None:
        """The plan as it stands, without its doubts; None before anything is known."""
        return self._account.plan

    @property
    def question(self) -> Question | None:
        """The question that stands open; none is shown behind a warning, and it comes back with the next line."""
        asked = self._open if not self._warns else None
        return asked.question if asked is not None else None

    @property
    def exchanges(self) -> int:
        """How often something was said to the talk, or done on a screen."""
        return self._exchanges

    @property
    def cure(self) -> Diagnosis | None:
        """What ails the heap and what to do, while a heap in trouble is what the talk is about."""
        found = self._account.ailing.diagnosis
        return found if found is not None and found.causes and self._state.in_trouble else None

    @property
    def units(self) -> Units:
        """The units in which figures are said."""
        return self._account.units

    @property
    def changes(self) -> tuple[str, ...]:
        """What was told, move by move, in words."""
        return self._account.changes

    @property
    def other_lines(self) -> tuple[Line, ...]:
        """Lines outside the plan that were said last and can be asked why."""
        return (*self._account.lines.values(), *self._shown.lines.values())

    @property
    def beds(self) -> tuple[BedNote, ...]:
        """The beds of the diary with their latest checks, once the talk has been about what it holds."""
        return self._account.interview.beds(self.units)

    @property
    def book(self) -> DiaryBook:
        """The diary of vessels, to show it and to put it right."""
        return self._landing.book

    @property
    def context(self) -> Context:
        """What is expected just now."""
        asked = self._open
        named = [line.id for line in self.plan.lines()] if self.plan is not None else []
        return Context(
            attribute=asked.question.attribute if asked is not None else "",
            options=len(asked.question.options) if asked is not None and not asked.question.figures else 0,
            materials=tuple(dict.fromkeys(held.material for held in self.household.holdings)),
            latest=self._requests.latest,
            lines=(*named, *self._account.lines, *self._shown.lines),
            ails=self._state.in_trouble,
            animals=tuple(str(value) for value in self.household.answers.get("household.animals", ())),
        )

    @property
    def _open(self) -> Asked | None:
        return self._waiting.first or self._topic

    @property
    def _state(self) -> State:
        return self._account.state

    # ------------------------------------------------------------ what is said

    def open(self) -> tuple[Reply, ...]:
        """The first words: a greeting with the doors; of a heap that is known already, what stands."""
        local = tuple(Reply("answer", text) for text in local_lines(self.knowledge))
        if self._given is not None:
            carrying = Reply("greeting", f"Carrying on with {self._given.name}.")
            return (carrying, *local, *self._account.news(), *self._goes_on())
        found = self._heaps.found()
        due = self._landing.due.opening(self._account.units)
        self._waiting.add(self._landing.due.before(doors.doors_asked(found)))
        greeting = due or (Reply("greeting", doors.GREETING),)
        return (*greeting, *local, *doors.amiss_told(found), *self._asks())

    def prepare(self) -> None:
        """Read the words and compile the rules, of which the first words had no need, so that an answer waits less.

        Raises:
            EngineMissing: durable-rules is not installed, or was built wrongly.
            RuleBaseError: a file of rules/words/ is not in order.
        """
        self._account.prepare()

    @kept_as_said(typed=True)
    def hear(self, text: str) -> tuple[Reply, ...]:
        """Something typed; signs that are no writing are heard as blanks.

        Raises:
            InferenceFault: a rule broke.
        """
        text = safe_text(text)
        replies = self._hears(text)
        if len(text) <= LONGEST:
            return replies
        read = shown(text[:LONGEST][-_READ_LAST:].strip())
        rest = f"That is long: I read as far as “… {read}”. Tell me the rest in a line of its own."
        return (Reply("lost", rest), *replies)

    def _hears(self, text: str) -> tuple[Reply, ...]:
        heard = self._heard(text)
        if self._waiting.first is None and self._account.on_a_sheet:
            return self._follows(text, heard)
        before, moves = self._landing.changes.count, len(self._account.moves)
        name, units = self._account.name, self._account.units
        replies = self._landing.before(text, heard, units, moves) or self._landing.answers(heard, name, units)
        if replies:
            self._exchanges += 1
        else:
            self._account.ailing.batch = self._landing.batch_of(heard, name)
            follows = self._follows(text, heard)
            replies = self._landing.after(heard, follows, self._account.name, len(self._account.moves), units)
        return replies if self._landing.changes.count == before else self._doors_renewed(replies)

    def _doors_renewed(self, replies: tuple[Reply, ...]) -> tuple[Reply, ...]:
        """Replies to what changed the diary, with the first question anew if that stands open: less may be due now."""
        asked = self._waiting.first
        if asked is None or asked.key != FIRST:
            return replies
        self._waiting.answered()
        self._waiting.add(self._landing.due.before(doors.doors_asked(self._heaps.found())), at_once=True)
        return (*(reply for reply in replies if reply.question is None), *self._asks())

    def diary_changed(self) -> tuple[Reply, ...]:
        """What there is to say once the diary was put right on a screen: what is due may be other things now."""
        return self._doors_renewed(())

    def _follows(self, text: str, heard: heard_shapes.Heard) -> tuple[Reply, ...]:
        warned, self._warns = self._warns, False
        self._meant = answering.vessel_meant(heard, self.plan)
        on_a_form = self._waiting.first is None and self._account.on_a_sheet
        if "more" in heard.acts and not heard.dangers and not heard.named:
            self._exchanges += 1
            return (self._told.more((*self._shown.kept, *self._account.ailing.kept)),)
        warnings = () if on_a_form and heard.named else tuple(answering.warnings(heard, self.knowledge, self.units))
        if heard.named and self._open is not None and (on_a_form or not warned):
            picks = tuple(Pick(number, (0, len(text))) for number in heard.options)
            return (*warnings, *self.take(Understood(text, picks)))
        self._danger, meanwhile = self._danger.hears(heard, self.knowledge, self.units)
        answers = on_a_form and heard.acts[:1] == ("answer",)
        if warnings or (meanwhile and not answers):
            self._exchanges += 1
            cautions = meanwhile or warnings
            self._warns = any(reply.kind == "caution" for reply in cautions)  # no question is put after a warning
            return cautions
        understood = self._understood(text, heard)
        labelled = self._labels.meant(text) if not heard.options else ()
        if labelled and not on_a_form:
            return self.take(Understood(text, labelled))
        if not on_a_form:
            return self._takes_turn(heard, with_answer(heard, understood, self._open))
        answered = self._account.hears(understood, heard, self._is_besides)
        if answered is None:
            return self._leaves_form(heard, understood)
        self._exchanges += 1
        replies = answered.replies
        for other in answered.others:
            told = self._takes_turn(self._heard(other), self._understood(other))
            replies += [reply for reply in told if reply.question is None]
        self._requests.after_the_sheet()
        return (*replies, *self._goes_on())

    def _leaves_form(self, heard: heard_shapes.Heard, understood: Understood) -> tuple[Reply, ...]:
        """Do what a line says that is no matter of the open form, which waits."""
        labelled = self._labels.meant(heard.text)
        told = Understood(heard.text, labelled) if labelled else None
        replies = self.take(told) if told is not None else self._takes_turn(heard, understood)
        if self._state.left:
            return (*replies, Reply("answer", _WAITS))
        asked = any(reply.question is not None for reply in replies)
        return replies if asked or not self._account.on_a_sheet else (*replies, *self._asks())

    def _heard(self, text: str) -> heard_shapes.Heard:
        return heard_beside(text, self._open, self._state, self.knowledge, self._account.today)

    def _takes_turn(self, heard: heard_shapes.Heard, understood: Understood) -> tuple[Reply, ...]:
        """Do what a line says that was heard as a whole."""
        if "save" in heard.acts[:1]:
            return self.take(understood)  # the words of a name mean nothing else
        for request in ("paper", "calendar"):
            if request in heard.acts[:1]:  # "on paper" names no material
                return self.take(Understood(heard.text, (Ask(request, NOWHERE),)))
        found = turn(
            heard,
            understood.intents,
            self.knowledge,
            self.household,
            in_trouble=self._state.in_trouble,
            method=method_spoken_of(self._state),
            open_attribute=self.context.attribute,
        )
        signs = found.signs if found.ails else ()
        if not self._state.in_trouble:  # what was told before the trouble opened counts
            self._seen = (*self._seen, *found.signs)
            signs = self._seen if found.ails else ()
        away = tuple(Unsaid(*one) for one in gone(heard) if one[1] in self._state.signs.get(one[0], ()))
        taken: tuple[Reply, ...] = ()
        before = self._topic
        if found.intents or signs or away:
            taken = self.take(Understood(heard.text, (*away, *found.intents, *signs)))
        else:
            self._exchanges += 1
        told = [(one.attribute, str(value)) for one in found.intents if isinstance(one, Told) for value in one.values]
        besides = answering.Besides(heard, self.plan, self._state, self.knowledge, self.units, told)
        replies = composed(
            besides, taken, ails=found.ails, waits=self._waiting.first is not None or self._account.on_a_sheet
        )
        self._told.remember(replies, besides.sources())
        if self._topic is not before and not any(reply.question is not None for reply in replies):
            self._topic = None  # it was not put, so nothing that is said next answers it
        if self._state.in_trouble and not signs and answering.asks_what_to_do(heard):
            replies = self._account.ailing.again(done="deed" in heard.acts) or replies
        door = self._door_of(understood) if not (found.ails or self._account.on_a_sheet) else None
        if door is not None and not replies:
            return self.take(Understood(heard.text, (Enter(door, NOWHERE),)))
        if door is not None and (heard.asked or not taken):
            self._offered = heard.text
            self._waiting.add(doors.offer_asked(door), at_once=True)
            return (*(reply for reply in replies if reply.question is None), *self._asks())
        stands = self._account.ailing.stands() if self._state.in_trouble and not replies and not heard.unread else ()
        if stands:
            return (*stands, *(self._asks() if not heard.asked else ()))
        return replies or (answering.lost(heard), *(self._asks() if not heard.acts else ()))

    def _door_of(self, understood: Understood) -> Door | None:
        """The sheet that a line asks for, if it asks for one."""
        named = (intent.door for intent in understood.intents if isinstance(intent, Enter))
        return next((door for door in named if door in doors.SHEETS), None)

    def _understood(self, text: str, heard: heard_shapes.Heard | None = None) -> Understood:
        """What a line means; a part of one is heard by itself."""
        return Understood(text, meant(heard or self._heard(text), self.knowledge, self.context))

    def _is_besides(self, text: str) -> bool:
        acts = self._heard(text).acts
        return acts[:1] in (("trouble",), ("danger",)) or any(
            isinstance(intent, _BESIDES) for intent in self._understood(text).intents
        )

    def take(self, understood: Understood) -> tuple[Reply, ...]:
        """The same, understood already."""
        if not understood.text.strip() and not understood.intents:
            return (Reply("lost", "I heard nothing. “help” lists what you can say."), *self._asks())
        self._exchanges += 1
        name, understood = named_to_save(understood)
        found = resolved(understood, self._open, self._requests.trial, self.knowledge)
        if any(isinstance(intent, Enter) and intent.door in doors.SHEETS for intent in found.intents):
            # what else such a line says belongs to the sheet, which asks for it
            found.intents = [intent for intent in found.intents if not isinstance(intent, _LEFT_TO_SHEETS)]
        requests = [intent.request for intent in found.intents if isinstance(intent, Ask)]
        if "leave" in requests:
            return (self._heaps.farewell(),)
        put = self._open
        offered, self._offered = self._offered, ""
        self._shown.next_line()
        fills = [one.text for one in found.intents if isinstance(one, Filled) and one.text]
        if any(isinstance(one, Filled) for one in found.intents):
            said = "" if any(sign.isdigit() for sign in understood.text) else understood.text
            return (*self._filled(", ".join(fills), said), *self._goes_on())
        if found.settled:
            self._waiting.answered()
        replies = [reply for request in requests for reply in self._moved_about(request)]
        heard = listened(found.intents, understood.text, self._state, self.knowledge, self.units)
        replies += self._made(heard)
        if (heard.changes or heard.asked) and not found.settled:
            found.notes.append(self._waiting.pass_over(put, heard.changes))
        for asked in heard.asked:
            self._waiting.add(asked)
        replies += [Reply("answer", note) for note in found.notes if note]
        for intent in found.intents:
            told = any(not isinstance(change, HaveNot) for change in heard.changes)
            # what was picked from a list says nothing for the form that opens: "5" is no measurement
            said = (
                understood.text if not found.picked else offered if put is not None and put.key == doors.OFFER else ""
            )
            replies += self._requests.answers(intent, said, name, put, told=told, vessel=self._meant)
        if not replies and not heard.asked and not understood.intents:
            replies.append(Reply("answer", "Very well. “help” lists what you can tell and ask me."))
        found_next = self._goes_on()
        if not replies and not found_next:
            replies.append(Reply("answer", "Nothing that I could ask would change it. “show the plan” has all of it."))
        return (*replies, *found_next)

    def look_ahead(self) -> Iterator[None]:
        """Work out what each answer to the open question would bring, one a step, so that it need not be waited for."""
        return self._account.reckoning.look_ahead()

    # ------------------------------------------------------------ what is done on a screen

    @kept_as_said(typed=False)
    def set_amount(self, material: str, text: str) -> tuple[Reply, ...]:
        """Put an amount in place of the one there is: "4 sacks", "none".

        Raises:
            KeyError: there is no such material.
        """
        self._exchanges += 1
        told = amount_told(material, text, self.knowledge)
        return (Reply("lost", told),) if isinstance(told, str) else self._done([told])

    @kept_as_said(typed=False)
    def set_answer(self, attribute: str, values: Sequence[Value]) -> tuple[Reply, ...]:
        """Put an answer in place of the one there is; none takes it away."""
        self._exchanges += 1
        told = [Told(attribute, tuple(values), NOWHERE)] if values else []
        return self._done([Forget(attribute), *told] if attribute in self.household.answers or not told else told)

    @kept_as_said(typed=False)
    def remove(self, material: str) -> tuple[Reply, ...]:
        """Take a material away."""
        self._exchanges += 1
        return self._done([HaveNot((material,), NOWHERE)])

    def _done(self, made: Sequence[Intent | Change]) -> tuple[Reply, ...]:
        replies = self._made(listened(made, "", self._state, self.knowledge, self.units))
        return (*replies, *self._goes_on())

    # ------------------------------------------------------------ what it changes

    def _made(self, heard: Heard) -> list[Reply]:
        """Take in what was heard, and say it back; an amount out of all bounds is not taken in."""
        replies: list[Reply] = []
        if heard.changes:
            try:
                self._account.told(Move(tuple(heard.changes), tuple(heard.said)))
            except HouseholdError as error:
                return [Reply("lost", upper(f"{error}."))]
            self._requests.trial = ()
            if any(isinstance(change, Load | Fresh) for change in heard.changes):
                self._forgets()
                self._heaps.loaded()
        if heard.materials:
            self._requests.latest = heard.materials[-1]
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
            self._forgets()
            self._heaps.begun_again()
            self._waiting.add(doors.doors_asked(self._heaps.found()))
            return [Reply("answer", "From the start, then. “go back” brings back what you had said.")]
        if request not in ("back", "redo"):
            return []
        reply = self._account.back() if request == "back" else self._account.again()
        if reply is None:
            said = "There is nothing to take back." if request == "back" else "There is nothing to put back."
            return [Reply("answer", said)]
        self._waiting.clear()
        self._requests.trial = ()
        return [reply, *(self._account.news() or unseen(self._state))]

    def _forgets(self) -> None:
        """Forget what was said to the person, as it was about another heap."""
        self._waiting.clear()
        self._topic = None
        self._requests.trial, self._requests.latest = (), ""
        self._shown.forget()
        self._seen = ()
        self._account.forget()

    # ------------------------------------------------------------ what comes next

    def _goes_on(self) -> tuple[Reply, ...]:
        """The next question, or the conclusion if nothing more need be asked."""
        kept_back = 0
        if self._waiting.first is None and self._account.interview.asked is not None:
            self._topic = self._account.interview.asked
            return self._asks()
        if self._waiting.first is None:
            if self._state.in_trouble:
                self._topic = self._account.ailing.next_asked(self._state, self.units)
                return self._asks()
            self._topic, kept_back = self._account.reckoning.next_asked(self._state)
        if self._open is not None or self.plan is None:
            return self._asks()
        return tuple(self._account.reckoning.conclusion(kept_back))

    def _asks(self) -> tuple[Reply, ...]:
        asked = self._open
        return (Reply("question", asked.question.ask, question=asked.question),) if asked is not None else ()
