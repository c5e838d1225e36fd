"""What would be if: changes made to a copy of what is known, and the two plans held side by side."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.counsel.consult import consult
from advisor.counsel.plan import Plan
from advisor.counsel.sketch import Outline, sketcher_for
from advisor.counsel.stock import lots
from advisor.errors import HouseholdError
from advisor.household.shapes import Holding, Household, Quantity
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.talk.answers import compared
from advisor.talk.asking import NOWHERE
from advisor.talk.bounds import within_bounds
from advisor.talk.hearing import listened
from advisor.talk.intents import Have, HaveNot, Intent, Swap, Unclear, Vague
from advisor.talk.memory import Change, State, after
from advisor.talk.replies import Reply
from advisor.talk.saying import amount, rate, upper
from advisor.talk.verdicts import tipped
from advisor.units import Units


@dataclass(frozen=True, slots=True)
class Trial:
    """Something tried: what it would change, and what there is to say. Nothing is changed yet."""

    changes: tuple[Change, ...]
    text: str
    lost: bool = False

    def reply(self, *, asked_to_keep: bool) -> Reply:
        """What there is to say, and how it is kept if that is not asked at once."""
        if self.lost:
            return Reply("lost", self.text)
        how = "" if asked_to_keep or not self.changes else "\nNothing is changed; say “yes” to keep it so."
        return Reply("answer", f"{self.text}{how}")


def what_if(
    intents: Iterable[Intent],
    words: str,
    state: State,
    before: Plan | None,
    now: Outline | None,
    knowledge: Knowledge,
    engine: Engine,
    units: Units,
) -> Trial:
    """The plan as it would be if these things were said.

    Args:
        words: the whole line, into which the spans of the intents lead.
        before: the plan as it stands, if there is one.
        now: the same as an outline.
    """
    made: list[Intent | Change] = []
    for intent in intents:
        if isinstance(intent, Swap):
            swapped = swap_changes(intent, state, knowledge)
            if isinstance(swapped, str):
                return Trial((), swapped)
            made += swapped
        elif isinstance(intent, Unclear) and intent.readings:
            first = (
                Have(intent.holding, intent.span)
                if intent.holding
                else Vague(intent.readings[0], intent.words, intent.span)
            )
            made.append(first)
        else:
            made.append(intent)
    heard = listened(made, words, state, knowledge, units)
    changes = tuple(heard.changes)
    if not changes:
        return Trial(
            (), " ".join([*heard.lost, "I do not see what would change; say it like “what if I had 2 sacks of straw”."])
        )
    then = after(state, changes, knowledge).household
    if then == state.household:
        return Trial((), f"Suppose {', '.join(heard.back)}: that is how it is already, and nothing would change.")
    try:
        beside = _held_side_by_side(then, before, now, knowledge, engine, units)
    except HouseholdError as error:  # an amount is out of all bounds
        return Trial((), upper(f"{error}."), lost=True)
    told = [f"Suppose {', '.join(heard.back)}.", *beside]
    return Trial(changes, "\n".join([*heard.lost, *told]))


def _held_side_by_side(
    then: Household, before: Plan | None, now: Outline | None, knowledge: Knowledge, engine: Engine, units: Units
) -> list[str]:
    held = within_bounds(then, knowledge)
    plan = consult(then, knowledge, engine, units=units, with_doubts=False)
    outline = sketcher_for(knowledge, engine).view(then, held).now
    reason = tipped(now, outline, knowledge) if now is not None and now.method != outline.method else ""
    return compared(before, plan, units, reason)


def swap_changes(swap: Swap, state: State, knowledge: Knowledge) -> list[Change] | str:
    """What puts one material in place of another, as much by volume; or why it cannot be done."""
    household = state.household
    old = [held for held in household.holdings if held.material == swap.old]
    name, new = knowledge.materials[swap.old].name, knowledge.materials[swap.new].name
    if not old:
        return f"You have not told me of any {name}, so there is nothing to swap."
    if swap.old == swap.new:
        return f"{name} for {new} is no swap."
    made: list[Change] = [HaveNot((swap.old,), NOWHERE)]
    for held in old:
        quantity = _as_much(held, household, knowledge)
        said = f"{amount(quantity, knowledge, 'metric')} of {new}{rate(quantity)}, in place of {name}"
        made.append(Have(Holding(swap.new, quantity, said), NOWHERE, more=True))
    return made


def _as_much(held: Holding, household: Household, knowledge: Knowledge) -> Quantity:
    """The same volume: in the same measure where that holds anything, else in litres."""
    quantity = held.quantity
    if quantity.measure == "L" or (quantity.measure != "kg" and not knowledge.measures[quantity.measure].packed):
        return quantity
    found = lots(Household("", (held,), measures=household.measures), knowledge)
    litres = found[0].litres if found else None
    if litres is None:
        return quantity
    return Quantity(litres.typical, litres.low, litres.high, "L", "once" if quantity.per == "once" else "week")
