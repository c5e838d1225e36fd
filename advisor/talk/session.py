"""The conversation: what is said comes in, what is answered goes out, and what stands is always to be had.

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

from advisor.counsel.plan import Line, Plan
from advisor.diagnosis.signs import METHOD_OF, gone
from advisor.diary.store import Diary
from advisor.errors import HouseholdError
from advisor.hearing import shapes as heard_shapes
from advisor.hearing.hear import hear
from advisor.household.shapes import Household
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.places import data_folder
from advisor.safe_text import safe_text
from advisor.talk import answering, answers, doors
from advisor.talk.account import Account
from advisor.talk.asking import NOWHERE, Asked, keep_asked
from advisor.talk.bed_notes import BedNote
from advisor.talk.hearing import Heard, amount_told, listened
from advisor.talk.intents import (
    Ask,
    AskMaterial,
    AskWhy,
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
from advisor.talk.lines_shown import LinesShown
from advisor.talk.memory import Change, Entered, Filled, Forget, Fresh, Load, Move, State
from advisor.talk.replies import Question, Reply
from advisor.talk.resolving import resolved
from advisor.talk.saying import upper
from advisor.talk.shelf import Keeper, Shelf, named_to_save
from advisor.talk.trying import what_if
from advisor.talk.turns import turn
from advisor.talk.understand import meant
from advisor.talk.waiting import Waiting
from advisor.units import Units

#: What is told or asked of a heap even where a sheet is open.
_BESIDES = (Have, HaveNot, Less, AskMaterial, WhatIf, Swap)
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
        today: date | None = None,
    ) -> None:
        """Begin.

        Args:
            household: what is known already; a heap to carry on with.
            save: keeps a household under a name and says where; by default it goes on the shelf.
            shelf: where heaps are kept; by default in the folder of advisor/places.py.
            diary: where beds and checks are kept; by default in the same folder.
            today: the day; that of the clock if left out.
        """
        self.knowledge, self.engine = knowledge, engine
        self._account = Account(knowledge, engine, units, household, diary, today)
        self._given = household
        self._keeper = Keeper(shelf or Shelf(data_folder(), knowledge), save)
        self._waiting = Waiting()
        self._topic: Asked | None = None
        self._trial: tuple[Change, ...] = ()
        self._shown = LinesShown(knowledge, engine)
        self._latest = ""
        self._kept: Household | None = household
        self._exchanges = 0
        self._knows_sheets = False  # how to get about on them was said

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
        """The question that stands open."""
        asked = self._open
        return asked.question if asked is not None else None

    @property
    def exchanges(self) -> int:
        """How often something was said to the talk, or done on a screen."""
        return self._exchanges

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
    def context(self) -> Context:
        """What is expected just now."""
        asked = self._open
        named = [line.id for line in self.plan.lines()] if self.plan is not None else []
        return Context(
            attribute=asked.question.attribute if asked is not None else "",
            options=len(asked.question.options) if asked is not None and not asked.question.figures else 0,
            materials=tuple(dict.fromkeys(held.material for held in self.household.holdings)),
            latest=self._latest,
            lines=(*named, *self._account.lines, *self._shown.lines),
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
        if self._given is not None:
            return (Reply("greeting", f"Carrying on with {self._given.name}."), *self._account.news(), *self._goes_on())
        self._waiting.add(doors.doors_asked())
        return (Reply("greeting", doors.GREETING), *self._asks())

    def hear(self, text: str) -> tuple[Reply, ...]:
        """Something typed; signs that are no writing are heard as blanks.

        Raises:
            InferenceFault: a rule broke.
        """
        text = safe_text(text)
        heard = self._heard(text)
        warned = tuple(answering.warnings(heard, self.knowledge, self.units))
        if warned:
            self._exchanges += 1
            return (*warned, *self._asked_besides(heard))
        picked = self._open.picked(text) if self._open is not None else ()
        if picked and self._open is not None and self._open.question.figures:
            return self.take(Understood(text, (Ask("skip", (0, len(text))),)))
        if picked:
            return self.take(Understood(text, tuple(Pick(number, (0, len(text))) for number in picked)))
        understood = self._understood(text, heard)
        answered = self._account.hears(understood, self._is_besides) if self._waiting.first is None else None
        if answered is None:
            return self._takes_turn(heard, understood)
        self._exchanges += 1
        replies = answered.replies
        for other in answered.others:
            replies += [reply for reply in self.take(self._understood(other)) if reply.question is None]
        self._after_the_sheet()
        return (*replies, *self._goes_on())

    def _heard(self, text: str) -> heard_shapes.Heard:
        """How a line is read, beside the question that stands open and what was spoken of last."""
        asked = self._open.question if self._open is not None else None
        method = str(next(iter(self._state.signs.get("method", ())), ""))
        about = next((thing for thing, name in METHOD_OF.items() if name == method), "")
        options = tuple(option.label for option in asked.options) if asked is not None else ()
        ask, attribute = (asked.ask, asked.attribute) if asked is not None else ("", "")
        begun = bool(attribute or self.household.holdings)
        open_question = heard_shapes.Asked(ask, options, about, attribute, begun)
        return hear(text, self.knowledge, open_question, self._account.today)

    def _takes_turn(self, heard: heard_shapes.Heard, understood: Understood) -> tuple[Reply, ...]:
        """Do what a line says that was heard as a whole."""
        method = str(next(iter(self._state.signs.get("method", ())), ""))
        found = turn(heard, understood.intents, self.knowledge, in_trouble=self._state.in_trouble, method=method)
        signs = found.signs if found.ails else ()
        away = tuple(Unsaid(*one) for one in gone(heard) if one[1] in self._state.signs.get(one[0], ()))
        replies = [*answering.noted(heard, self.units)]
        if not found.ails:
            replies += answering.observed(heard, self.units)
        conditions = list(answering.qualified(heard, self.units))
        worries = conditions or list(answering.feared(heard, self.knowledge, self.units))
        replies = [*worries, *replies, *self._asked_besides(heard)]
        if found.intents or signs or away:
            taken = self.take(Understood(heard.text, (*away, *found.intents, *signs)))
            asked = [reply for reply in taken if reply.kind == "question"]
            return (*(reply for reply in taken if reply not in asked), *replies, *asked)
        self._exchanges += 1
        if not replies:
            return (answering.lost(heard), *self._asks())
        return tuple(replies)

    def _asked_besides(self, heard: heard_shapes.Heard) -> list[Reply]:
        """Answers to what a line asks of the trade or of one's own heap."""
        return list(answering.answered(heard, self.plan, self._state, self.knowledge, self.units))

    def _understood(self, text: str, heard: heard_shapes.Heard | None = None) -> Understood:
        """What a line means; a part of one is heard by itself."""
        return Understood(text, meant(heard or self._heard(text), self.knowledge, self.context))

    def _is_besides(self, text: str) -> bool:
        return any(isinstance(intent, _BESIDES) for intent in self._understood(text).intents)

    def take(self, understood: Understood) -> tuple[Reply, ...]:
        """The same, understood already."""
        if not understood.text.strip() and not understood.intents:
            return (Reply("lost", "I heard nothing. “help” lists what you can say."), *self._asks())
        self._exchanges += 1
        name, understood = named_to_save(understood)
        found = resolved(understood, self._open, self._trial, self.knowledge)
        if any(isinstance(intent, Enter) and intent.door in doors.SHEETS for intent in found.intents):
            # what else such a line says belongs to the sheet, which asks for it
            found.intents = [intent for intent in found.intents if not isinstance(intent, _LEFT_TO_SHEETS)]
        requests = [intent.request for intent in found.intents if isinstance(intent, Ask)]
        if "leave" in requests:
            return (doors.farewell(unkept=self.plan is not None and self.household != self._kept),)
        put = self._open
        self._shown.next_line()
        fills = [one.text for one in found.intents if isinstance(one, Filled) and one.text]
        if any(isinstance(one, Filled) for one in found.intents):
            return (*self._filled(", ".join(fills)), *self._goes_on())
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
            replies += self._answers(intent, understood.text, name, put, told=told)
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

    def set_amount(self, material: str, text: str) -> tuple[Reply, ...]:
        """Put an amount in place of the one there is: "4 sacks", "none".

        Raises:
            KeyError: there is no such material.
        """
        self._exchanges += 1
        told = amount_told(material, text, self.knowledge)
        return (Reply("lost", told),) if isinstance(told, str) else self._done([told])

    def set_answer(self, attribute: str, values: Sequence[Value]) -> tuple[Reply, ...]:
        """Put an answer in place of the one there is; none takes it away."""
        self._exchanges += 1
        told = [Told(attribute, tuple(values), NOWHERE)] if values else []
        return self._done([Forget(attribute), *told] if attribute in self.household.answers or not told else told)

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
            self._trial = ()
            if any(isinstance(change, Load | Fresh) for change in heard.changes):
                self._forgets()
                self._kept = self.household
        if heard.materials:
            self._latest = heard.materials[-1]
        if heard.back:
            guessed = " Say how much there is, and I put it right." if heard.guessed else ""
            replies.append(Reply("heard", f"Heard: {', '.join(heard.back)}.{guessed}"))
        if heard.left_open:
            replies.append(Reply("heard", f"Left open: {', '.join(heard.left_open)}."))
        replies += [Reply("lost", lost) for lost in heard.lost]
        return [*replies, *self._account.news(heard.materials)] if heard.changes else replies

    def _filled(self, text: str) -> list[Reply]:
        replies = self._account.fill(text)
        self._after_the_sheet()
        return replies

    def _after_the_sheet(self) -> None:
        if not self._account.on_a_sheet and not self.household.holdings:
            self._waiting.add(doors.doors_asked("What next?"))

    def _moved_about(self, request: Request) -> list[Reply]:
        """Go back, or start again."""
        if request == "again":
            self._account.told(Move((Fresh(),)))
            self._forgets()
            self._waiting.add(doors.doors_asked())
            return [Reply("answer", "From the start, then. “go back” brings back what you had said.")]
        if request != "back":
            return []
        reply = self._account.back()
        if reply is None:
            return [Reply("answer", "There is nothing to take back.")]
        self._waiting.clear()
        self._trial = ()
        return [reply, *self._account.news()]

    def _forgets(self) -> None:
        """Forget what was said to the person, as it was about another heap."""
        self._waiting.clear()
        self._topic, self._trial = None, ()
        self._shown.forget()
        self._latest = ""
        self._account.forget()

    # ------------------------------------------------------------ what is asked of the talk

    def _answers(self, intent: Intent | Change, text: str, name: str, put: Asked | None, *, told: bool) -> list[Reply]:
        match intent:
            case Ask(request, _):
                return self._request(request, name)
            case AskWhy(about, _):
                return self._shown.why(about, self.plan, self._account.lines, put)
            case AskMaterial(materials, _):
                self._latest = materials[0] if len(materials) == 1 else self._latest
                return [self._shown.about(materials, self.plan, self.units)]
            case WhatIf(changes, _):
                return [self._tries(changes, text, keep=False)]
            case Swap():
                return [self._tries((intent,), text, keep=True)]
            case Enter(door, _):
                return self._enters(door, text, told=told)
            case _:
                return []

    def _request(self, request: Request, name: str) -> list[Reply]:
        plan, view = self.plan, self._account.reckoning.view
        match request:
            case "plan" if (whole := self._account.reckoning.whole_plan()) is not None:
                return [Reply("plan", "The plan as it stands.", plan=whole)]
            case "else" if plan is not None and view is not None:
                return [answers.what_else(view.now, self.knowledge)]
            case "plan" | "else":
                return [Reply("answer", "There is no plan yet: tell me first what you have to compost.")]
            case "metric" | "us":
                self._account.use(request)
                said = "litres, kilograms and metres" if request == "metric" else "gallons, pounds and feet"
                return [Reply("answer", f"From now on in {said}.")]
            case "save":
                return [self._keeps(name)]
            case "help":
                return [Reply("answer", answers.HELP)]
            case "list":
                return [answers.told_so_far(self._state, self.knowledge, self.units)]
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
        trial = what_if(changes, text, self._state, self.plan, now, self.knowledge, self.engine, self.units)
        self._trial = trial.changes
        if keep and trial.changes:
            self._waiting.add(keep_asked(trial.changes), at_once=True)
        return trial.reply(asked_to_keep=keep)

    def _drops(self) -> Reply:
        if not self._state.door:
            return Reply("answer", "There is nothing to leave just now. “bye” ends the talk.")
        self._account.leave()
        self._after_the_sheet()
        return Reply("answer", "We leave that, then.")

    def _enters(self, door: Door, text: str, *, told: bool) -> list[Reply]:
        self._waiting.clear()
        if door == "carry-on":
            asked, said = doors.kept_asked(self._keeper.shelf)
            if asked is not None:
                self._waiting.add(asked)
            return list(said)
        if door == "trouble" and self._state.signs:
            return []  # the signs came with it, and were answered
        if door == "no-manure" and told:  # said in passing, with what there is
            return [doors.behind(door, self.knowledge)]
        if door in ("start", "trouble"):
            self._account.told(Move((Entered(door),)))
            return self._account.news() if door == "trouble" else [doors.behind(door, self.knowledge)]
        first, self._knows_sheets = not self._knows_sheets, True
        replies = [doors.behind(door, self.knowledge, first=first), *self._account.enter(door, text)]
        self._after_the_sheet()
        return replies

    def _keeps(self, name: str) -> Reply:
        if self.plan is None:
            return Reply("answer", "There is no heap to keep yet; beds and checks go into the diary where you say so.")
        try:
            self._account.name, said = self._keeper.keep(self.household, name)
        except HouseholdError as error:
            return Reply("lost", upper(f"{error}."))
        self._account.work_out()
        self._kept = self.household
        return Reply("answer", said)

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
