"""What was said, as a list of moves that is never changed, only added to; the household is that list folded up.

Going back is leaving out the last move, and changing an earlier answer is one move more: everything else follows.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field, replace
from functools import cached_property

from advisor.counsel.sketch import answered
from advisor.household.shapes import Holding, Household, OwnMeasure
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.records import dataclass
from advisor.talk.intents import Have, HaveNot, TellMeasure, TellRoom, Told, Unsaid

Values = tuple[Value, ...]

#: Words that go with no other: "none" and "hens" cannot both be kept.
ALONE = frozenset({"none", "unsure"})


@dataclass(frozen=True, slots=True)
class Guess:
    """A material of which nobody said how much: it is there, and the holding is a guess."""

    holding: Holding


@dataclass(frozen=True, slots=True)
class Skip:
    """A question that could not be answered: an attribute, "materials", or "amount:" and a material."""

    key: str


@dataclass(frozen=True, slots=True)
class Forget:
    """An answer taken away without another in its place."""

    attribute: str


@dataclass(frozen=True, slots=True)
class Load:
    """A household that was kept."""

    household: Household


@dataclass(frozen=True, slots=True)
class Fresh:
    """Everything said before is set aside."""


@dataclass(frozen=True, slots=True)
class Entered:
    """A door was taken, with some words, or left if it is empty; it says nothing about the household."""

    door: str
    said: str = ""


@dataclass(frozen=True, slots=True)
class Filled:
    """A blank of the open sheet was filled; with nothing, if it is not known."""

    text: str


@dataclass(frozen=True, slots=True)
class Mended:
    """A blank that was filled before, by its place, is filled with something else.

    Attributes:
        alone: whether what was filled in behind it is asked again, as the questions are others now.
    """

    place: int
    text: str
    alone: bool = False


Change = (
    Have
    | HaveNot
    | Told
    | TellRoom
    | TellMeasure
    | Guess
    | Skip
    | Forget
    | Unsaid
    | Load
    | Fresh
    | Entered
    | Filled
    | Mended
)


@dataclass(frozen=True, slots=True)
class Move:
    """What one line of text, or one act on the screen, changed; `said` has each change in words."""

    changes: tuple[Change, ...]
    said: tuple[str, ...] = ()

    @property
    def taken_back(self) -> str:
        """What there is to say when it is taken back."""
        said = ", ".join(words for words in self.said if words)
        if said:
            return f"Taken back: {said}."
        return "Back to where you were." if Fresh() in self.changes else "One step back."


@dataclass(frozen=True)
class State:
    """What the moves come to.

    Attributes:
        household: all that was told.
        skipped: what was asked and not known.
        guesses: materials whose amount is a guess.
        signs: what is seen, smelt or felt of a heap in trouble, by attribute of the fact kind `sign`.
        door: the door taken last.
        said: the words with which it was taken.
        begun: the number of the move that took it.
        filled: what the blanks of its sheet were filled with, in their order.
        spent: moves since the talk began, or began again.
        left: the door of the sheet that waits while a trouble is talked about; empty if none does.
    """

    household: Household
    skipped: frozenset[str] = frozenset()
    guesses: frozenset[str] = frozenset()
    signs: Mapping[str, tuple[Value, ...]] = field(default_factory=dict)
    door: str = ""
    said: str = ""
    begun: int = 0
    filled: tuple[str, ...] = ()
    spent: int = 0
    left: str = ""

    @property
    def in_trouble(self) -> bool:
        """Whether a heap in trouble is what the talk is about."""
        return self.door == "trouble"


@dataclass(frozen=True)
class Memory:
    """The moves, on top of what was there at the start; `undone` are those taken back last, the latest first."""

    knowledge: Knowledge
    start: Household
    moves: tuple[Move, ...] = ()
    undone: tuple[Move, ...] = ()

    def told(self, move: Move) -> Memory:
        """With one move more; what was taken back before it cannot be put back any more."""
        return replace(self, moves=(*self.moves, move), undone=())

    def told_with_the_last(self, change: Change) -> Memory:
        """With one change more in the last move, so that both are taken back together."""
        *before, last = self.moves
        return replace(self, moves=(*before, replace(last, changes=(*last.changes, change))))

    def back(self) -> Memory:
        """Without the last move."""
        return replace(self, moves=self.moves[:-1], undone=(self.moves[-1], *self.undone))

    def again(self) -> Memory:
        """With the move that was taken back last."""
        return replace(self, moves=(*self.moves, self.undone[0]), undone=self.undone[1:])

    @cached_property
    def state(self) -> State:
        """What the moves come to."""
        state = State(self.start)
        for move in self.moves:
            state = after(replace(state, spent=state.spent + 1), move.changes, self.knowledge)
        return state

    @cached_property
    def last_sheet(self) -> State | None:
        """Where the sheet that was filled in last stood when the last of its blanks was filled; None without any."""
        state, found = State(self.start), None
        for move in self.moves:
            state = replace(state, spent=state.spent + 1)
            for change in move.changes:
                state = _changed(state, change, self.knowledge)
                if isinstance(change, Filled | Mended):
                    found = state
        return found


def after(state: State, changes: Iterable[Change], knowledge: Knowledge) -> State:
    """A state with some changes made, in their order."""
    for change in changes:
        state = _changed(state, change, knowledge)
    return state


def _changed(state: State, change: Change, knowledge: Knowledge) -> State:
    household = state.household
    match change:
        case Have(holding, _, more):
            if more:
                added = (*household.holdings, holding)
            elif holding.quantity.high > 0:
                added = _put_in_place(household.holdings, holding)
            else:
                added = without(household.holdings, holding.material)
            guesses = state.guesses - {holding.material}
            return replace(state, household=replace(household, holdings=added), guesses=guesses)
        case Guess(holding):
            guesses = state.guesses | {holding.material}
            held = _put_in_place(household.holdings, holding)
            return replace(state, household=replace(household, holdings=held), guesses=guesses)
        case HaveNot(materials, _):
            kept = without(household.holdings, *materials)
            guesses = state.guesses - set(materials)
            return replace(state, household=replace(household, holdings=kept), guesses=guesses)
        case Told(attribute, values, _):
            state = replace(state, skipped=state.skipped - {attribute})
            kind, _, name = attribute.partition(".")
            if kind == "sign":
                signs = {**state.signs, name: _joined(state.signs.get(name, ()), attribute, values, knowledge)}
                waits = state.left if state.in_trouble else state.door if state.filled else ""
                return replace(state, signs=signs, door="trouble", left=waits)
            return replace(state, household=_with_answer(household, attribute, values, knowledge))
        case TellRoom(ground, _):
            answers = {name: values for name, values in household.answers.items() if name != "place.room"}
            household = replace(household, room=ground, answers=answers)
            return replace(state, household=household, skipped=state.skipped - {"place.room"})
        case TellMeasure(measure, litres, _):
            measures = {**household.measures, measure: OwnMeasure(litres)}
            return replace(state, household=replace(household, measures=measures))
        case Skip(key):
            return replace(state, skipped=state.skipped | {key})
        case Forget(attribute):
            answers = {name: values for name, values in household.answers.items() if name != attribute}
            room = None if attribute == "place.room" else household.room
            return replace(state, household=replace(household, answers=answers, room=room))
        case Unsaid(attribute, value, _):
            left = tuple(one for one in state.signs.get(attribute, ()) if one != value)
            signs = {name: values for name, values in {**state.signs, attribute: left}.items() if values}
            return replace(state, signs=signs)
        case Load(kept_household):
            return State(kept_household)
        case Fresh():
            return State(Household(household.name))
        case Entered(door, said):
            if state.left and door in ("", state.left):
                return replace(state, door=state.left, left="")
            return replace(state, door=door, said=said, begun=state.spent, filled=(), left="")
        case Filled(text):
            return replace(state, filled=(*state.filled, text))
        case Mended():
            return replace(state, filled=with_mended(state.filled, change))


def with_mended(filled: tuple[str, ...], mended: Mended) -> tuple[str, ...]:
    """What the blanks are filled with once one of them is put right."""
    behind = () if mended.alone else filled[mended.place + 1 :]
    return (*filled[: mended.place], mended.text, *behind)


def _put_in_place(holdings: tuple[Holding, ...], holding: Holding) -> tuple[Holding, ...]:
    """A holding in the place of the first like it, and of all others like it; at the end if there is none.

    What lies beside a heap is not like what went into it.
    """
    like = [held.material == holding.material and held.beside == holding.beside for held in holdings]
    place = like.index(True) if any(like) else len(holdings)
    behind = [held for held, is_like in zip(holdings[place:], like[place:], strict=True) if not is_like]
    return (*holdings[:place], holding, *behind)


def without(holdings: tuple[Holding, ...], *materials: str) -> tuple[Holding, ...]:
    """The holdings of everything else."""
    return tuple(holding for holding in holdings if holding.material not in materials)


def _with_answer(household: Household, attribute: str, values: Values, knowledge: Knowledge) -> Household:
    if attribute == "place.room":
        return answered(household, attribute, values[0])
    told = _joined(household.answers.get(attribute, ()), attribute, values, knowledge)
    return replace(household, answers={**household.answers, attribute: told})


def _joined(given: Values, attribute: str, values: Values, knowledge: Knowledge) -> Values:
    """What was told before and what is told now, where several answers may hold; else what is told now."""
    kind, _, name = attribute.partition(".")
    if not knowledge.kinds[kind].attributes[name].many or ALONE & {*values}:
        return values
    return (*(value for value in given if value not in ALONE and value not in values), *values)
