"""The bones of a plan in a fraction of the time: what further answers would change, without mixing anything.

An outline follows from the rules of a plan, put to what was answered and what is on hand by the plain evaluator
(`advisor/inference/evaluate.py`). Each further answer is a layer over what is known already. What goes into the mix is
taken to be everything that may: a caution that an outline adds is one that may be needed.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import field, replace
from weakref import WeakKeyDictionary

from advisor.counsel.blending import shift_of_target
from advisor.counsel.choose import Standing, rank
from advisor.counsel.settle import answers, chosen, container_litres, is_barred, usable
from advisor.counsel.stock import Lot, lots, material_facts, stock_facts, uses
from advisor.household.shapes import Household, Room
from advisor.inference.engine import Engine
from advisor.inference.evaluate import Rulebook, State
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge, Rule
from advisor.knowledge.conditions import Value
from advisor.records import dataclass

#: What an outline says: a kind, or kind.attribute.
_WANTED = ("method", "plan.aim", "turning.times", "target.shift", "caution", "need", "holding.barred_from")

_RATIO = "carbon-nitrogen"

#: The question that is asked next and what is still missing both try the answers to a household, one after the other;
#: in between, the talk may look at the household as each answer to a question would make it, or each amount.
_VIEWS_KEPT = 24


@dataclass(frozen=True, slots=True)
class Outline:
    """The bones of a plan: what a further answer might move. Two are equal if the gardener would do the same.

    `notices` are the cautions and needs that apply, such as "caution.rats"; `standings` are the methods, best first;
    `browner` is how far season and crop move the carbon to nitrogen ratio, which is a shade of the same plan.
    """

    method: str
    aim: str
    turnings: int
    notices: frozenset[str] = field(default=frozenset(), compare=False)
    standings: tuple[Standing, ...] = field(default=(), compare=False)
    browner: float = field(default=0.0, compare=False)

    def differs(self, other: Outline) -> bool:
        """Whether the gardener would do something else."""
        return self != other


class Sketcher:
    """Draws outlines. Make one for an engine and keep it."""

    def __init__(self, knowledge: Knowledge, engine: Engine) -> None:
        self.knowledge = knowledge
        self.rulebook = Rulebook(_leading_to_outlines(engine), engine.kinds)
        self._views: deque[View] = deque(maxlen=_VIEWS_KEPT)

    def view(self, household: Household, held: Sequence[Lot] | None = None) -> View:
        """What can be sketched of a household. The last few are kept, with all that was tried on them.

        Args:
            held: the lots of the household, if they have been worked out already.
        """
        known = next((view for view in self._views if view.household == household), None)
        if known is not None:
            return known
        found = lots(household, self.knowledge) if held is None else tuple(held)
        on_hand = next((view.on_hand for view in self._views if view.on_hand.held == found), None)
        view = View(self, household, on_hand or OnHand(self, found))
        self._views.appendleft(view)
        return view

    def outline(self, told: State, held: Sequence[Lot]) -> Outline:
        """The outline that follows from what is known, where nothing more will be answered."""
        state = told.layer()
        state.close_answers()
        standings = rank(state, self.knowledge)
        method = standings[0].method
        mixed = [lot.material for lot in usable(state, held, method)] if method != "collection" else []
        state.tell([*chosen(method, self.knowledge), *uses(mixed)])
        notices = {f"{kind}.{name}" for kind in ("caution", "need") for name in state.about(kind, "stands")}
        aim, times = state.word("plan", "aim") or "", state.number("turning", "times") or 0
        browner = shift_of_target(state, _RATIO)
        return Outline(method, aim, int(times), frozenset(notices), standings, browner)


class OnHand:
    """What is on hand, and what follows from its nature alone."""

    def __init__(self, sketcher: Sketcher, held: tuple[Lot, ...]) -> None:
        self.held = held
        self.state = State(sketcher.rulebook)
        self.state.tell(material_facts(held))
        self._considered = [lot for lot in held if not is_barred(self.state, lot.material_id, "all")]
        self._stock: dict[float | None, tuple[Fact, ...]] = {}

    def stock(self, container: float | None) -> tuple[Fact, ...]:
        """Facts about all that is on hand taken together.

        Args:
            container: the litres that the container holds, if that was told.
        """
        if container not in self._stock:
            self._stock[container] = tuple(stock_facts(self._considered, container))
        return self._stock[container]


class View:
    """One household as the sketcher sees it: what is known of it is worked out once, then its answers may be tried."""

    def __init__(self, sketcher: Sketcher, household: Household, on_hand: OnHand) -> None:
        self.sketcher, self.household, self.on_hand = sketcher, household, on_hand
        self._told = dict.fromkeys(self._facts(household))
        self._state = on_hand.state.layer()
        self._state.tell(self._told)
        self.now = sketcher.outline(self._state, on_hand.held)
        self._tried: dict[tuple[str, Value], Outline] = {}

    @property
    def held(self) -> tuple[Lot, ...]:
        """The lots of the household."""
        return self.on_hand.held

    def tried(self, attribute: str, values: Sequence[Value]) -> tuple[Outline, ...]:
        """The outline that follows from each answer."""
        for value in values:
            if (attribute, value) not in self._tried:
                self._tried[attribute, value] = self._try(answered(self.household, attribute, value))
        return tuple(self._tried[attribute, value] for value in values)

    def _try(self, household: Household) -> Outline:
        told = dict.fromkeys(self._facts(household))
        adds_only = self._told.keys() <= told.keys()
        state = (self._state if adds_only else self.on_hand.state).layer()
        state.tell(told)
        return self.sketcher.outline(state, self.on_hand.held)

    def _facts(self, household: Household) -> Iterator[Fact]:
        yield from answers(household, self.sketcher.knowledge)
        if household.room is not None:
            yield Fact("place", "narrowest", "", min(household.room.length_m, household.room.width_m))
        yield from self.on_hand.stock(container_litres(household))


def answered(household: Household, attribute: str, answer: Value) -> Household:
    """The household as it would be with that answer. Ground of which only the area is known is taken as a square."""
    if attribute == "place.room" and not isinstance(answer, str):
        side = math.sqrt(answer)
        return replace(household, room=Room(side, side))
    return replace(household, answers={**household.answers, attribute: (answer,)})


_SKETCHERS: WeakKeyDictionary[Engine, Sketcher] = WeakKeyDictionary()


def sketcher_for(knowledge: Knowledge, engine: Engine) -> Sketcher:
    """The sketcher of an engine, made once."""
    found = _SKETCHERS.get(engine)
    if found is None or found.knowledge is not knowledge:
        found = _SKETCHERS[engine] = Sketcher(knowledge, engine)
    return found


def _leading_to_outlines(engine: Engine) -> Iterable[Rule]:
    """The rules that conclude what an outline says, or what such rules wait for."""
    wanted = set(_WANTED)
    while True:
        chosen = [
            rule
            for rule in engine.rules.values()
            if any(then.kind in wanted or f"{then.kind}.{then.attribute}" in wanted for then in rule.then)
        ]
        read = {condition.name for rule in chosen for condition in rule.when} | wanted
        if read == wanted:
            return chosen
        wanted = read
