"""The first half of a consultation: what was told, what is on hand, and the method that follows."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from advisor.counsel.choose import Standing, rank
from advisor.counsel.stock import Lot, check_amounts, lots, material_facts, stock_facts
from advisor.household.shapes import Household
from advisor.inference.engine import Consultation
from advisor.inference.evaluate import State
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.records import dataclass


@dataclass(frozen=True, slots=True)
class Settled:
    """What is settled before anything is mixed."""

    lots: tuple[Lot, ...]
    standings: tuple[Standing, ...]
    method: str

    @property
    def runner_up(self) -> Standing | None:
        """The best of the rest, if any is left that is not ruled out and has something to say for it."""
        rest = [one for one in self.standings[1:] if not one.ruled_out and one.votes]
        return rest[0] if rest else None


def settle(
    talk: Consultation,
    household: Household,
    knowledge: Knowledge,
    held: tuple[Lot, ...] | None = None,
    *,
    among: Collection[str] = (),
) -> Settled:
    """Tell the rules what the household said and holds, and settle the method.

    Args:
        held: the lots of the household, if they have been worked out already.
        among: the methods that are looked at; all of them if empty.

    Raises:
        InferenceFault: an answer does not fit its attribute, or a rule broke.
    """
    talk.tell(answers(household, knowledge), "you said so")
    if household.room is not None:
        sides = (household.room.length_m, household.room.width_m)
        talk.tell([Fact("place", "narrowest", "", min(sides))], "from the room you gave")
    talk.close_answers()
    held = lots(household, knowledge) if held is None else held
    check_amounts(held)
    talk.tell(material_facts(held), "from what you have on hand")
    considered = [lot for lot in held if not is_barred(talk, lot.material_id, "all")]
    talk.tell(stock_facts(considered, container_litres(household)), "added up from what you have on hand")
    standings = tuple(one for one in rank(talk, knowledge) if not among or one.method in among)
    method = standings[0].method
    talk.tell(chosen(method, knowledge), "the best of what the rules leave")
    return Settled(held, standings, method)


def chosen(method: str, knowledge: Knowledge) -> tuple[Fact, Fact]:
    """The method, and what kind of thing it makes, as facts."""
    return Fact("plan", "method", "", method), Fact("plan", "form", "", knowledge.methods[method].form)


def answers(household: Household, knowledge: Knowledge) -> Iterable[Fact]:
    """What was answered, as facts, with what follows from it. Room told as length by width answers `place.room`."""
    for name, values in {**implied(household, knowledge), **household.answers}.items():
        kind, _, attribute = name.partition(".")
        for value in values:
            yield Fact(kind, attribute, "", value)
    room = household.room
    if room is not None and "place.room" not in household.answers:
        yield Fact("place", "room", "", room.length_m * room.width_m)


def implied(household: Household, knowledge: Knowledge) -> dict[str, tuple[Value, ...]]:
    """What follows from an answer where nothing else was said: whoever has a bad back turns nothing."""
    found: dict[str, tuple[Value, ...]] = {}
    for name, values in household.answers.items():
        kind, _, attribute = name.partition(".")
        for value in values:
            for follows, word in knowledge.kinds[kind].attributes[attribute].implies.get(str(value), {}).items():
                if follows not in household.answers:
                    found[follows] = (word,)
    return found


def container_litres(household: Household) -> float | None:
    """What the container holds, if that was said."""
    said = household.answers.get("place.holds", ())
    return float(said[0]) if said else None


def is_barred(talk: Consultation | State, material_id: str, method: str) -> bool:
    """Whether the rules keep a material out of a method, or out of all of them."""
    barred = talk.values("holding", "barred_from", material_id)
    return "all" in barred or method in barred


def usable(talk: Consultation | State, held: Sequence[Lot], method: str) -> tuple[Lot, ...]:
    """What may go into a method."""
    return tuple(lot for lot in held if not is_barred(talk, lot.material_id, method))
