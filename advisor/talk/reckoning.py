"""What stands: the plan worked out afresh whenever something changes, what must be said of it, and what to ask next."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence

from advisor.counsel.consult import consult
from advisor.counsel.doubts import doubts
from advisor.counsel.plan import Plan
from advisor.counsel.sketch import Outline, View, answered, sketcher_for
from advisor.household.shapes import Household
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.talk import answers, verdicts
from advisor.talk.agenda import LEAST_WORTH, Amount, amounts, topics
from advisor.talk.asking import Asked, amount_asked, materials_asked, topic_asked
from advisor.talk.bounds import within_bounds
from advisor.talk.card import card
from advisor.talk.memory import State
from advisor.talk.replies import Reply
from advisor.talk.saying import upper
from advisor.units import Units

#: So many answers that nobody has given yet are worked out ahead and kept; no question has more.
_MOST_AHEAD = 16

#: After so many moves the talk says what stands, and asks the rest only if asked to.
MOVES_TO_A_PLAN = 8


class Reckoning:
    """The plan and the outline of a household, and what the person was told of them already."""

    def __init__(self, knowledge: Knowledge, engine: Engine, units: Units) -> None:
        self.knowledge, self.engine, self.units = knowledge, engine, units
        self.plan: Plan | None = None
        self.view: View | None = None
        self._ahead: deque[tuple[Plan, View]] = deque(maxlen=_MOST_AHEAD)
        self._asked_of: tuple[tuple[State, bool, Units], tuple[Asked | None, int]] | None = None
        self.forget()

    def prepare(self) -> None:
        """Compile the rules, which the first words of a talk have no need of."""
        self.engine.prepare()

    def forget(self) -> None:
        """Forget what was said to the person, as it was about another heap."""
        self.asks_on = False  # whether to ask what could still change small things
        self._warned: set[str] = set()
        self._stood: Outline | None = None
        self._carded: Plan | None = None
        self._concluded: Plan | None = None

    def work_out(self, household: Household) -> None:
        """Work out the plan and the outline, if what they hang on has changed.

        Raises:
            HouseholdError: an amount is out of all bounds; what stood before still stands.
        """
        view, plan = self.view, self.plan
        if view is not None and plan is not None and view.household == household and plan.units == self.units:
            return
        known = household.holdings or household.answers or household.measures or household.room is not None
        if not known:
            self.plan = self.view = None
            return
        self.plan, self.view = self._found_ahead(household) or self._worked_out(household)
        self._ahead.clear()

    def _worked_out(self, household: Household) -> tuple[Plan, View]:
        view = self.view
        if view is not None and _amounts(view.household) == _amounts(household):
            held = view.held
        else:
            held = within_bounds(household, self.knowledge)
        plan = consult(household, self.knowledge, self.engine, units=self.units, with_doubts=False, held=held)
        return plan, sketcher_for(self.knowledge, self.engine).view(household, held)

    def look_ahead(self) -> Iterator[None]:
        """Work out what each answer to the question asked last would bring, one a step; nobody has given it yet."""
        if self._asked_of is None or self.view is None:
            return
        (state, _, _), (asked, _) = self._asked_of
        if asked is None or not asked.question.attribute or asked.question.figures:
            return
        now = self.view.household
        for option in asked.question.options:
            then = now if option.value is None else answered(now, asked.question.attribute, option.value)
            if then is now or self._found_ahead(then) is not None:
                continue
            plan, view = self._worked_out(then)
            # what there would be to ask then is kept with the view
            topics(then, self.knowledge, self.engine, passing_over=state.skipped, view=view)
            self._ahead.append((plan, view))
            yield

    def _found_ahead(self, household: Household) -> tuple[Plan, View] | None:
        found = [(new, seen) for new, seen in self._ahead if seen.household == household and new.units == self.units]
        return found[0] if found else None

    def whole_plan(self) -> Plan | None:
        """The plan with what nobody has said yet, and what it would change."""
        if self.plan is None or self.view is None:
            return None
        open_ones = doubts(self.view.household, self.knowledge, self.engine)
        return self.plan.model_copy(update={"doubts": open_ones})

    def news(self, state: State, materials: Sequence[str]) -> list[Reply]:
        """What is new and must be said at once: grave cautions, what stays out, and another method.

        Args:
            materials: those just spoken of.
        """
        plan, view = self.plan, self.view
        if plan is None or view is None:
            return []
        urgent = [line for line in plan.cautions if line.grave]
        names = {upper(self.knowledge.materials[name].name) for name in materials}
        urgent += [line for line in plan.stays_out if line.text.partition(":")[0] in names]
        new = [line for line in urgent if line.text not in self._warned]
        self._warned.update(line.text for line in new)
        replies = [Reply("caution", line.text) for line in new]
        begun = state.household.holdings or "materials" in state.skipped
        if begun and (self._carded is None or _gist(self._carded) != _gist(plan)):
            told = []
            if self._stood is None or self._stood.method != view.now.method:
                told.append(verdicts.turned(self._stood, view.now, self.knowledge))
            self._stood, self._carded = view.now, plan
            replies.append(Reply("verdict", "\n".join([*told, card(plan, self.knowledge, self.units)])))
        return replies

    def next_asked(self, state: State) -> tuple[Asked | None, int]:
        """What to ask next, and how many questions are kept back, because enough was asked or they matter little."""
        hangs_on = (state, self.asks_on, self.units)
        if self._asked_of is None or self._asked_of[0] != hangs_on:
            self._asked_of = (hangs_on, self._next_asked(state))
        return self._asked_of[1]

    def _next_asked(self, state: State) -> tuple[Asked | None, int]:
        if not state.household.holdings and "materials" not in state.skipped:
            return materials_asked(self.knowledge), 0
        found = topics(state.household, self.knowledge, self.engine, passing_over=state.skipped, view=self.view)
        guesses = {name for name in state.guesses if f"amount:{name}" not in state.skipped}
        guessed: tuple[Amount, ...] = ()
        if guesses and self.view is not None:
            guessed = amounts(state.household, guesses, self.knowledge, self.engine, self.view.now)
        best = max([topic.worth for topic in found[:1]] + [amount.worth for amount in guessed[:1]], default=0.0)
        if not self.asks_on and (best < LEAST_WORTH or state.spent >= MOVES_TO_A_PLAN):
            return None, len(found) + len(guessed)
        if guessed and (not found or guessed[0].worth > found[0].worth):
            return amount_asked(guessed[0], self.knowledge, self.units), 0
        return (topic_asked(found[0], self.knowledge, self.units), 0) if found else (None, 0)

    def conclusion(self, kept_back: int) -> list[Reply]:
        """What stands when nothing more is asked: in full the first time, then what has changed since."""
        plan, before = self.plan, self._concluded
        if plan is None:
            return []
        self._concluded = plan
        if before is None:
            return [verdicts.conclusion(plan, kept_back)]
        if _gist(before) == _gist(plan):
            return []
        told = answers.compared(before, plan, self.units)
        return [Reply("verdict", "\n".join([*told, "Say “show the plan” for all of it."]))]


def _amounts(household: Household) -> tuple[object, ...]:
    """What the lots hang on: how much there is, and how large the measures are that it was told in."""
    return household.holdings, household.measures


def _gist(plan: Plan) -> tuple[object, ...]:
    """What the gardener would do, whatever units it is said in."""
    recipe, choice = plan.recipe, plan.choice
    amounts_used = [(line.material, line.litres) for line in (*recipe.lines, *recipe.fetch)]
    return choice.method, choice.aim, recipe.status, round(recipe.water_litres, 1), amounts_used
