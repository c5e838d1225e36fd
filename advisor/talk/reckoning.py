"""What stands: the plan worked out afresh whenever something changes, what must be said of it, and what to ask next."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import replace

from advisor.counsel.consult import consult
from advisor.counsel.doubts import doubts
from advisor.counsel.plan import Plan
from advisor.counsel.sketch import Outline, View, answered, sketcher_for
from advisor.household.shapes import Household
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
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


@dataclass(frozen=True, slots=True)
class PlanTold:
    """What the person was told of plans, and asked to be told.

    Attributes:
        asks_on: whether to ask what could still change small things.
        warned: what was warned of.
        stood: the outline as it was when its method was told last.
        carded: the plan of which a card was shown last.
        concluded: the plan that was concluded with last.
    """

    asks_on: bool = False
    warned: frozenset[str] = frozenset()
    stood: Outline | None = None
    carded: Plan | None = None
    concluded: Plan | None = None


class Reckoning:
    """Works out the plan and the outline of a household, and keeps those it worked out last and ahead."""

    def __init__(self, knowledge: Knowledge, engine: Engine) -> None:
        self.knowledge, self.engine = knowledge, engine
        self.plan: Plan | None = None
        self.view: View | None = None
        self._ahead: deque[tuple[Plan, View]] = deque(maxlen=_MOST_AHEAD)
        self._asked_of: tuple[tuple[State, bool, Units], tuple[Asked | None, int]] | None = None

    def prepare(self) -> None:
        """Compile the rules, which the first words of a talk have no need of."""
        self.engine.prepare()

    def work_out(self, household: Household, units: Units) -> None:
        """Work out the plan and the outline, if what they hang on has changed.

        Raises:
            HouseholdError: an amount is out of all bounds; what stood before still stands.
        """
        view, plan = self.view, self.plan
        if view is not None and plan is not None and view.household == household and plan.units == units:
            return
        known = household.holdings or household.answers or household.measures or household.room is not None
        if not known:
            self.plan = self.view = None
            return
        self.plan, self.view = self._found_ahead(household, units) or self._worked_out(household, units)
        self._ahead.clear()

    def _worked_out(self, household: Household, units: Units) -> tuple[Plan, View]:
        view = self.view
        if view is not None and _amounts(view.household) == _amounts(household):
            held = view.held
        else:
            held = within_bounds(household, self.knowledge)
        plan = consult(household, self.knowledge, self.engine, units=units, with_doubts=False, held=held)
        return plan, sketcher_for(self.knowledge, self.engine).view(household, held)

    def look_ahead(self) -> Iterator[None]:
        """Work out what each answer to the question asked last would bring, one a step; nobody has given it yet."""
        if self._asked_of is None or self.view is None:
            return
        (state, _, units), (asked, _) = self._asked_of
        if asked is None or not asked.question.attribute or asked.question.figures:
            return
        now = self.view.household
        for option in asked.question.options:
            then = now if option.value is None else answered(now, asked.question.attribute, option.value)
            if then is now or self._found_ahead(then, units) is not None:
                continue
            plan, view = self._worked_out(then, units)
            # what there would be to ask then is kept with the view
            topics(then, self.knowledge, self.engine, passing_over=state.skipped, view=view)
            self._ahead.append((plan, view))
            yield

    def _found_ahead(self, household: Household, units: Units) -> tuple[Plan, View] | None:
        found = [(new, seen) for new, seen in self._ahead if seen.household == household and new.units == units]
        return found[0] if found else None

    def whole_plan(self) -> Plan | None:
        """The plan with what nobody has said yet, and what it would change."""
        if self.plan is None or self.view is None:
            return None
        open_ones = doubts(self.view.household, self.knowledge, self.engine)
        return self.plan.model_copy(update={"doubts": open_ones})

    def news(self, state: State, told: PlanTold, materials: Sequence[str]) -> tuple[PlanTold, list[Reply]]:
        """What is new and must be said at once: grave cautions, what stays out, and another method.

        Args:
            told: what the person was told already.
            materials: those just spoken of.

        Returns:
            What the person is told by then, and what to say.
        """
        plan, view = self.plan, self.view
        if plan is None or view is None:
            return told, []
        urgent = [line for line in plan.cautions if line.grave]
        names = {upper(self.knowledge.materials[name].name) for name in materials}
        urgent += [line for line in plan.stays_out if line.text.partition(":")[0] in names]
        new = [line for line in urgent if line.text not in told.warned]
        told = replace(told, warned=told.warned.union(line.text for line in new))
        replies = [Reply("caution", line.text) for line in new]
        begun = state.household.holdings or "materials" in state.skipped
        if begun and (told.carded is None or _gist(told.carded) != _gist(plan)):
            said = []
            if told.stood is None or told.stood.method != view.now.method:
                said.append(verdicts.turned(told.stood, view.now, self.knowledge))
            told = replace(told, stood=view.now, carded=plan)
            replies.append(Reply("verdict", "\n".join([*said, card(plan, self.knowledge, plan.units)])))
        return told, replies

    def next_asked(self, state: State, units: Units, *, asks_on: bool = False) -> tuple[Asked | None, int]:
        """What to ask next, and how many questions are kept back, because enough was asked or they matter little.

        Args:
            asks_on: whether to ask what matters little all the same.
        """
        hangs_on = (state, asks_on, units)
        if self._asked_of is None or self._asked_of[0] != hangs_on:
            self._asked_of = (hangs_on, self._next_asked(state, units, asks_on=asks_on))
        return self._asked_of[1]

    def _next_asked(self, state: State, units: Units, *, asks_on: bool) -> tuple[Asked | None, int]:
        if not state.household.holdings and "materials" not in state.skipped:
            return materials_asked(self.knowledge), 0
        found = topics(state.household, self.knowledge, self.engine, passing_over=state.skipped, view=self.view)
        guesses = {name for name in state.guesses if f"amount:{name}" not in state.skipped}
        guessed: tuple[Amount, ...] = ()
        if guesses and self.view is not None:
            guessed = amounts(state.household, guesses, self.knowledge, self.engine, self.view.now)
        best = max([topic.worth for topic in found[:1]] + [amount.worth for amount in guessed[:1]], default=0.0)
        if not asks_on and (best < LEAST_WORTH or state.spent >= MOVES_TO_A_PLAN):
            return None, len(found) + len(guessed)
        if guessed and (not found or guessed[0].worth > found[0].worth):
            return amount_asked(guessed[0], self.knowledge, units), 0
        return (topic_asked(found[0], self.knowledge, units), 0) if found else (None, 0)

    def conclusion(self, told: PlanTold, kept_back: int) -> tuple[PlanTold, list[Reply]]:
        """What stands when nothing more is asked: in full the first time, then what has changed since.

        Args:
            told: what the person was told already.

        Returns:
            What the person is told by then, and what to say.
        """
        plan, before = self.plan, told.concluded
        if plan is None:
            return told, []
        told = replace(told, concluded=plan)
        if before is None:
            return told, [verdicts.conclusion(plan, kept_back)]
        if _gist(before) == _gist(plan):
            return told, []
        said = answers.compared(before, plan, plan.units)
        return told, [Reply("verdict", "\n".join([*said, "Say “show the plan” for all of it."]))]


def _amounts(household: Household) -> tuple[object, ...]:
    """What the lots hang on: how much there is, and how large the measures are that it was told in."""
    return household.holdings, household.measures


def _gist(plan: Plan) -> tuple[object, ...]:
    """What the gardener would do, whatever units it is said in."""
    recipe, choice = plan.recipe, plan.choice
    amounts_used = [(line.material, line.litres) for line in (*recipe.lines, *recipe.fetch)]
    return choice.method, choice.aim, recipe.status, round(recipe.water_litres, 1), amounts_used
