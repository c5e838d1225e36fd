"""The conversation: what is said comes in, what is answered goes out, and what stands is always to be had.

    talk = Talk(knowledge, engine)
    talk.open()
    talk.hear("3 sacks of leaves and a bucket of coffee grounds")
    talk.plan, talk.question

It knows no screen. All it knows of the household is the list of moves in its memory, so that anything said can be taken
back, changed or tried, and everything else follows.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from advisor.counsel.plan import Plan
from advisor.errors import HouseholdError
from advisor.household.shapes import Household
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.places import data_folder
from advisor.talk import answers, doors
from advisor.talk.asking import NOWHERE, Asked, keep_asked
from advisor.talk.hearing import Heard, amount_told, listened
from advisor.talk.intents import (
    Ask,
    AskMaterial,
    AskWhy,
    Context,
    Door,
    Enter,
    HaveNot,
    Intent,
    Pick,
    Request,
    Swap,
    Told,
    Understood,
    WhatIf,
)
from advisor.talk.lines_shown import LinesShown
from advisor.talk.memory import Change, Entered, Forget, Fresh, Load, Memory, Move, State
from advisor.talk.reckoning import Reckoning
from advisor.talk.replies import Question, Reply
from advisor.talk.resolving import resolved
from advisor.talk.saying import upper
from advisor.talk.shelf import NAMELESS, Keeper, Shelf, named_to_save
from advisor.talk.trouble import Ailing
from advisor.talk.trying import what_if
from advisor.talk.waiting import Waiting
from advisor.units import Units


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
    ) -> None:
        """Begin.

        Args:
            household: what is known already; a heap to carry on with.
            save: keeps a household under a name and says where; by default it goes on the shelf.
            shelf: where heaps are kept; by default in the folder of advisor/places.py.
        """
        self.knowledge, self.engine = knowledge, engine
        self._reckoning = Reckoning(knowledge, engine, units)
        self._ailing = Ailing(knowledge)
        self._given = household
        self._keeper = Keeper(shelf or Shelf(data_folder(), knowledge), save)
        self._memory = Memory(knowledge, household or Household(NAMELESS))
        self._waiting = Waiting()
        self._topic: Asked | None = None
        self._trial: tuple[Change, ...] = ()
        self._shown = LinesShown(knowledge, engine)
        self._latest = ""
        self._name = ""  # under which it was kept last
        self._kept: Household | None = household
        self._exchanges = 0
        self._works_out()

    # ------------------------------------------------------------ what stands

    @property
    def household(self) -> Household:
        """Everything told so far."""
        household = self._memory.state.household
        return replace(household, name=self._name) if self._name else household

    @property
    def plan(self) -> Plan | None:
        """The plan as it stands, without its doubts; None before anything is known."""
        return self._reckoning.plan

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
        return self._reckoning.units

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
    def context(self) -> Context:
        """What is expected just now."""
        asked = self._open
        named = [line.id for line in self.plan.lines()] if self.plan is not None else []
        return Context(
            attribute=asked.question.attribute if asked is not None else "",
            options=len(asked.question.options) if asked is not None else 0,
            materials=tuple(dict.fromkeys(held.material for held in self.household.holdings)),
            latest=self._latest,
            lines=(*named, *self._ailing.lines, *self._shown.lines),
        )

    @property
    def _open(self) -> Asked | None:
        return self._waiting.first or self._topic

    @property
    def _state(self) -> State:
        return self._memory.state

    # ------------------------------------------------------------ what is said

    def open(self) -> tuple[Reply, ...]:
        """The first words: a greeting with the doors; of a heap that is known already, what stands."""
        if self._given is not None:
            return (Reply("greeting", f"Carrying on with {self._given.name}."), *self._news(), *self._goes_on())
        self._waiting.add(doors.doors_asked())
        return (Reply("greeting", doors.GREETING), *self._asks())

    def hear(self, text: str) -> tuple[Reply, ...]:
        """Something typed.

        Raises:
            InferenceFault: a rule broke.
        """
        picked = self._open.picked(text) if self._open is not None else ()
        if picked:
            return self.take(Understood(text, tuple(Pick(number, (0, len(text))) for number in picked)))
        from advisor.talk.understand import understand

        return self.take(understand(text, self.knowledge, self.context))

    def take(self, understood: Understood) -> tuple[Reply, ...]:
        """The same, understood already."""
        if not understood.text.strip() and not understood.intents:
            return (Reply("lost", "I heard nothing. “help” lists what you can say."), *self._asks())
        self._exchanges += 1
        name, understood = named_to_save(understood)
        found = resolved(understood, self._open, self._trial, self.knowledge)
        if any(isinstance(intent, Enter) and intent.door == "trouble" for intent in found.intents):
            known = {(one.attribute, one.values) for one in found.intents if isinstance(one, Told)}
            signs = self._ailing.signs_in(understood.text)
            found.intents += [one for one in signs if (one.attribute, one.values) not in known]
        requests = [intent.request for intent in found.intents if isinstance(intent, Ask)]
        if "leave" in requests:
            return (self._farewell(),)
        put = self._open
        self._shown.next_line()
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
            replies += self._answers(intent, understood.text, name, put)
        if not replies and not heard.asked and not understood.intents:
            replies.append(Reply("answer", "Very well. “help” lists what you can tell and ask me."))
        found_next = self._goes_on()
        if not replies and not found_next:
            replies.append(Reply("answer", "Nothing that I could ask would change it. “show the plan” has all of it."))
        return (*replies, *found_next)

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
            before = self._memory
            self._memory = before.told(Move(tuple(heard.changes), tuple(heard.said)))
            try:
                self._works_out()
            except HouseholdError as error:
                self._memory = before
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
        return [*replies, *self._news(heard.materials)] if heard.changes else replies

    def _news(self, materials: Sequence[str] = ()) -> list[Reply]:
        """What must be said at once of what stands now: of the heap in trouble, or of the one that is planned."""
        if not self._state.in_trouble:
            return self._reckoning.news(self._state, materials)
        return self._ailing.news(self.household)

    def _works_out(self) -> None:
        """Work out afresh what stands. Raises HouseholdError; what stood before still stands then."""
        self._reckoning.work_out(self.household)
        if self._state.signs or self._ailing.diagnosis is not None:
            self._ailing.work_out(self._state.signs, self.household, self.units)

    def _moved_about(self, request: Request) -> list[Reply]:
        """Go back, or start again."""
        if request == "again":
            self._memory = self._memory.told(Move((Fresh(),)))
            self._forgets()
            self._works_out()
            self._waiting.add(doors.doors_asked())
            return [Reply("answer", "From the start, then. “go back” brings back what you had said.")]
        if request != "back":
            return []
        if not self._memory.moves:
            return [Reply("answer", "There is nothing to take back.")]
        last = self._memory.moves[-1]
        self._memory = self._memory.back()
        self._waiting.clear()
        self._trial = ()
        self._works_out()
        return [Reply("heard", last.taken_back), *self._news()]

    def _forgets(self) -> None:
        """Forget what was said to the person, as it was about another heap."""
        self._waiting.clear()
        self._topic, self._trial = None, ()
        self._shown.forget()
        self._latest = self._name = ""
        self._reckoning.forget()
        self._ailing.forget()

    # ------------------------------------------------------------ what is asked of the talk

    def _answers(self, intent: Intent | Change, text: str, name: str, put: Asked | None) -> list[Reply]:
        match intent:
            case Ask(request, _):
                return self._request(request, name)
            case AskWhy(about, _):
                return self._shown.why(about, self.plan, self._ailing.lines, put)
            case AskMaterial(materials, _):
                self._latest = materials[0] if len(materials) == 1 else self._latest
                return [self._shown.about(materials, self.plan, self.units)]
            case WhatIf(changes, _):
                return [self._tries(changes, text, keep=False)]
            case Swap():
                return [self._tries((intent,), text, keep=True)]
            case Enter(door, _):
                return self._enters(door)
            case _:
                return []

    def _request(self, request: Request, name: str) -> list[Reply]:
        plan, view = self.plan, self._reckoning.view
        match request:
            case "plan" if (whole := self._reckoning.whole_plan()) is not None:
                return [Reply("plan", "The plan as it stands.", plan=whole)]
            case "else" if plan is not None and view is not None:
                return [answers.what_else(view.now, self.knowledge)]
            case "plan" | "else":
                return [Reply("answer", "There is no plan yet: tell me first what you have to compost.")]
            case "metric" | "us":
                self._reckoning.units = request
                self._works_out()
                said = "litres, kilograms and metres" if request == "metric" else "gallons, pounds and feet"
                return [Reply("answer", f"From now on in {said}.")]
            case "save":
                return [self._keeps(name)]
            case "help":
                return [Reply("answer", answers.HELP)]
            case "list":
                return [answers.told_so_far(self._state, self.knowledge, self.units)]
            case "skip":
                self._reckoning.asks_on = True
                return []
            case _:
                return []

    def _tries(self, changes: Sequence[Intent], text: str, *, keep: bool) -> Reply:
        view = self._reckoning.view
        now = view.now if view is not None else None
        try:
            trial = what_if(changes, text, self._state, self.plan, now, self.knowledge, self.engine, self.units)
        except HouseholdError as error:
            return Reply("lost", upper(f"{error}."))
        self._trial = trial.changes
        if not trial.changes:
            return Reply("answer", trial.text)
        if keep:
            self._waiting.add(keep_asked(trial.changes), at_once=True)
            return Reply("answer", trial.text)
        return Reply("answer", f"{trial.text}\nNothing is changed; say “yes” to keep it so.")

    def _enters(self, door: Door) -> list[Reply]:
        self._waiting.clear()
        if door == "carry-on":
            heaps = self._keeper.shelf.heaps()
            if heaps:
                self._waiting.add(doors.kept_asked(heaps))
                return []
            return [Reply("answer", f"No heap is kept yet. “save” keeps one, in {self._keeper.shelf.folder}.")]
        if door == "trouble" and self._state.signs:
            return []  # the signs came with it, and were answered
        self._memory = self._memory.told(Move((Entered(door),)))
        return self._ailing.news(self.household) if door == "trouble" else [doors.behind(door, self.knowledge)]

    def _keeps(self, name: str) -> Reply:
        if self.plan is None:
            return Reply("answer", "There is nothing to keep yet.")
        try:
            self._name, path = self._keeper.keep(self.household, name)
        except HouseholdError as error:
            return Reply("lost", upper(f"{error}."))
        self._works_out()
        self._kept = self.household
        other = "" if name else " To give it another name, say “save as” and the name."
        return Reply("answer", f"Kept as “{self._name}”, in {path}.{other}")

    def _farewell(self) -> Reply:
        unkept = self.plan is not None and self.household != self._kept
        text = " What you told me is not kept; another time say “save” before you go." if unkept else ""
        return Reply("farewell", f"Good-bye, and good compost.{text}")

    # ------------------------------------------------------------ what comes next

    def _goes_on(self) -> tuple[Reply, ...]:
        """The next question, or the conclusion if nothing more need be asked."""
        kept_back = 0
        if self._waiting.first is None:
            if self._state.in_trouble:
                self._topic = self._ailing.next_asked(self._state, self.units)
                return self._asks()
            self._topic, kept_back = self._reckoning.next_asked(self._state)
        if self._open is not None or self.plan is None:
            return self._asks()
        return tuple(self._reckoning.conclusion(kept_back))

    def _asks(self) -> tuple[Reply, ...]:
        asked = self._open
        return (Reply("question", asked.question.ask, question=asked.question),) if asked is not None else ()
