"""The bones of a plan in a fraction of the time: what further answers would move, without mixing anything.

A sketch is drawn by the same engine from the same rules, but only from those that an answer can move and only on the
facts that these read. What is kept out by the nature of a material is settled once. What goes into the mix is taken to
be everything that may: a caution that a sketch adds is one that may be needed.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from weakref import WeakKeyDictionary

from advisor.counsel.blending import shift_of_target
from advisor.counsel.choose import Standing, rank
from advisor.counsel.settle import FORMS, answers, container_litres, is_barred
from advisor.counsel.shifts import meets, shift_of, shifted
from advisor.counsel.stock import Lot, lots, material_facts, stock_facts, uses
from advisor.household.shapes import Household, Room
from advisor.inference.engine import Engine
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge, Rule
from advisor.knowledge.conditions import Condition, Value

#: What a sketch says: a kind, or kind.attribute.
_WANTED = ("method", "plan.aim", "turning.times", "target.shift", "caution", "need", "holding.barred_from")

_RATIO = "carbon-nitrogen"

#: The question that is asked next and what is still missing both try the answers to a household, one after the other.
_VIEWS_KEPT = 8

#: Facts the arithmetic works out from an answer, which a rule may read in its stead.
_WORKED_OUT = {"place.room": "place.narrowest", "place.holds": "stock.container_filled"}


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
    """Draws outlines. Make one for an engine and keep it: it compiles rules of its own."""

    def __init__(self, knowledge: Knowledge, engine: Engine) -> None:
        self.knowledge, self.engine = knowledge, engine
        self.rules = tuple(_moved_by_answers(engine))
        self._tests: dict[str, list[Condition]] = {}
        for rule in self.rules:
            for condition in rule.when:
                self._tests.setdefault(condition.name, []).append(condition)
        self._readers: dict[str, list[Rule]] = {}
        for rule in self.rules:
            for name in dict.fromkeys(condition.name for condition in rule.when):
                self._readers.setdefault(name, []).append(rule)
        asked = {condition.name for rule in self.rules for condition in rule.when if condition.unknown}
        # To the small engine an answer is only what some rule asks unknown() of, so that it need not be told the rest.
        kinds = {
            name: kind.model_copy(
                update={
                    "attributes": {
                        key: attribute
                        if attribute.origin != "answer" or f"{name}.{key}" in asked
                        else attribute.model_copy(update={"origin": "computed"})
                        for key, attribute in kind.attributes.items()
                    }
                }
            )
            for name, kind in engine.kinds.items()
        }
        self._small = Engine(self.rules, kinds)
        self._views: deque[View] = deque(maxlen=_VIEWS_KEPT)

    def view(self, household: Household, held: Sequence[Lot] | None = None) -> View:
        """What can be sketched of a household. The last few are kept, with all that was tried on them.

        Args:
            held: the lots of the household, if they have been worked out already.
        """
        known = next((view for view in self._views if view.household == household), None)
        if known is not None:
            return known
        view = View(self, household, lots(household, self.knowledge) if held is None else tuple(held))
        self._views.appendleft(view)
        return view

    def draw(self, facts: Iterable[Fact], held: Sequence[Lot], barred: Barred) -> Outline:
        """The outline that follows from facts already worked out."""
        with self._small.consultation() as talk:
            talk.tell(self.read(facts), "you said so")
            talk.close_answers()
            standings = rank(talk, self.knowledge)
            method = standings[0].method
            usable = [
                lot.material
                for lot in held
                if not barred[lot.material_id] & {"all", method} and not is_barred(talk, lot.material_id, method)
            ]
            chosen = [Fact("plan", "method", "", method), Fact("plan", "form", "", FORMS[method])]
            talk.tell(
                self.read([*chosen, *(uses(usable) if method != "collection" else ())]), "the best of what is left"
            )
            times = talk.number("turning", "times")
            notices = {f"{kind}.{name}" for kind in ("caution", "need") for name in talk.about(kind, "stands")}
            browner = shift_of_target(talk, _RATIO)
            aim = talk.word("plan", "aim") or ""
            return Outline(method, aim, int(times or 0), frozenset(notices), standings, browner)

    def read(self, facts: Iterable[Fact]) -> Iterator[Fact]:
        """Those of the facts that meet a condition of some rule."""
        for fact in facts:
            conditions = self._tests.get(f"{fact.kind}.{fact.attribute}", ())
            if any(meets(condition, fact.subject, fact.value) for condition in conditions):
                yield fact

    def readers(self, names: Iterable[str]) -> tuple[Rule, ...]:
        """The rules that read any of these attributes."""
        found = {rule.id: rule for name in names for rule in self._readers.get(name, ())}
        return tuple(found.values())

    def alike(self, attribute: str, values: Iterable[Value], view: View) -> dict[Value, frozenset[str] | str]:
        """A mark for each answer; answers with the same mark lead to the same outline, as far as can be told.

        The mark is the rules that the answer may satisfy, given what else is known.
        """
        if _WORKED_OUT.get(attribute) in self._tests:
            return {value: str(value) for value in values}
        readers = [
            (rule.id, [condition for condition in rule.when if condition.name == attribute])
            for rule in self.rules
            if any(condition.name == attribute for condition in rule.when)
            and all(condition.name == attribute or view.may_hold(condition) for condition in rule.when)
        ]
        return {
            value: frozenset(
                name
                for name, conditions in readers
                if all(not condition.unknown and meets(condition, "", value) for condition in conditions)
            )
            for value in values
        }

    def counts_on_silence(self, attribute: str, view: View) -> bool:
        """Whether some rule holds only as long as the attribute is not answered."""
        return any(
            condition.unknown and condition.name == attribute and all(view.may_hold(other) for other in rule.when)
            for rule in self.rules
            for condition in rule.when
        )


Barred = Mapping[str, frozenset[str]]


class View:
    """One household as the sketcher sees it: its facts are worked out once, its answers may be tried."""

    def __init__(self, sketcher: Sketcher, household: Household, held: tuple[Lot, ...]) -> None:
        self.sketcher, self.household, self.held = sketcher, household, held
        self._materials = tuple(material_facts(held))
        with sketcher.engine.consultation() as talk:
            talk.tell(self._materials, "from what you have on hand")
            self.barred: Barred = {
                lot.material_id: frozenset(map(str, talk.values("holding", "barred_from", lot.material_id)))
                for lot in held
            }
            self._considered = [lot for lot in held if not is_barred(talk, lot.material_id, "all")]
        self._read = tuple(sketcher.read(self._materials))
        self._stock: dict[float | None, tuple[Fact, ...]] = {}
        self._tried: dict[tuple[str, tuple[Value, ...]], tuple[Outline, ...]] = {}

    @cached_property
    def now(self) -> Outline:
        """The outline as things stand."""
        return self._outline(self.household)

    def tried(self, attribute: str, values: Sequence[Value]) -> tuple[Outline, ...]:
        """The outline that follows from each answer."""
        told = attribute, tuple(values)
        if told not in self._tried:
            self._tried[told] = self._try(attribute, values)
        return self._tried[told]

    def _try(self, attribute: str, values: Sequence[Value]) -> tuple[Outline, ...]:
        added_up = [self._added_up(attribute, value) for value in values]
        marks = self.sketcher.alike(attribute, values, self)
        drawn: dict[frozenset[str] | str, Outline] = {}
        for value, found in zip(values, added_up, strict=True):
            if found is None and marks[value] not in drawn:
                drawn[marks[value]] = self._outline(answered(self.household, attribute, value))
        return tuple(
            drawn[marks[value]] if found is None else found for value, found in zip(values, added_up, strict=True)
        )

    def _added_up(self, attribute: str, value: Value) -> Outline | None:
        """The outline that follows from an answer, if it can be told without running the rules."""
        told = {attribute: value, **self._worked_out(attribute, value)}
        now = self.now
        shift = shift_of(told, self.sketcher.readers(told), self._settled, self.sketcher.knowledge)
        if shift is None:
            return None
        standings = shifted(now.standings, shift, self.sketcher.knowledge)
        gained = [then for rule in shift.gained for then in rule.then if then.kind != "method"]
        silenced = any(then.kind != "method" for rule in shift.lost for then in rule.then)
        moves = [then for then in gained if (then.kind, then.attribute) == ("target", "shift")]
        new = [then for then in gained if then.kind in ("caution", "need")]
        if standings[0].method != now.method or silenced or len(moves) + len(new) < len(gained):
            return None
        notices = now.notices | {f"{then.kind}.{then.subject}" for then in new}
        browner = now.browner + sum(float(then.value) for then in moves if then.subject == _RATIO)
        return replace(now, standings=standings, notices=notices, browner=browner)

    def _worked_out(self, attribute: str, value: Value) -> dict[str, Value]:
        """What the arithmetic makes of an answer that is a number."""
        if isinstance(value, str):
            return {}
        if attribute == "place.room":
            return {"place.narrowest": math.sqrt(value)}
        if attribute != "place.holds":
            return {}
        facts = stock_facts(self._considered, value)
        return {f"{fact.kind}.{fact.attribute}": fact.value for fact in facts if fact.attribute == "container_filled"}

    @cached_property
    def _settled(self) -> dict[str, list[tuple[str, Value]]]:
        """What is known once the method stands."""
        now = self.now
        chosen = {"plan.method": now.method, "plan.form": FORMS[now.method], "plan.aim": now.aim}
        return {**self._known, **{name: [("", value)] for name, value in chosen.items() if value}}

    def may_hold(self, condition: Condition) -> bool:
        """Whether a condition can be met by what is known of the household, whatever the rules conclude."""
        if condition.unknown:
            return condition.name not in self._known
        declared = self.sketcher.knowledge.kinds[condition.kind].attributes[condition.attribute]
        if declared.origin == "concluded" or condition.kind in ("plan", "recipe"):
            return True
        return any(meets(condition, subject, value) for subject, value in self._known.get(condition.name, ()))

    @cached_property
    def _known(self) -> dict[str, list[tuple[str, Value]]]:
        found: dict[str, list[tuple[str, Value]]] = {}
        for fact in self._facts(self.household):
            found.setdefault(f"{fact.kind}.{fact.attribute}", []).append((fact.subject, fact.value))
        return found

    def _outline(self, household: Household) -> Outline:
        return self.sketcher.draw(self._facts(household), self.held, self.barred)

    def _facts(self, household: Household) -> Iterator[Fact]:
        yield from answers(household)
        if household.room is not None:
            yield Fact("place", "narrowest", "", min(household.room.length_m, household.room.width_m))
        yield from self._read
        yield from self._stock_facts(container_litres(household))

    def _stock_facts(self, container: float | None) -> tuple[Fact, ...]:
        if container not in self._stock:
            self._stock[container] = tuple(self.sketcher.read(stock_facts(self._considered, container)))
        return self._stock[container]


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


def _moved_by_answers(engine: Engine) -> Iterator[Rule]:
    """The rules that a sketch needs: those that lead to what it says and can fire on what it is told."""
    wanted = set(_WANTED)
    while True:
        chosen = [
            rule
            for rule in engine.rules.values()
            if any(then.kind in wanted or f"{then.kind}.{then.attribute}" in wanted for then in rule.then)
        ]
        read = {condition.name for rule in chosen for condition in rule.when} | wanted
        if read == wanted:
            break
        wanted = read
    told = {f"{kind}.{name}" for kind, declared in engine.kinds.items() for name in declared.attributes}
    told -= {name for name in told if name.split(".")[0] in ("recipe", "blend", "heap")} - {"recipe.uses"}
    told -= {"holding.left_over"}
    for rule in chosen:
        by_nature = all(condition.kind == "holding" for condition in rule.when)
        of_materials = all(then.kind == "holding" for then in rule.then)
        if all(condition.name in told for condition in rule.when) and not (by_nature and of_materials):
            yield rule
