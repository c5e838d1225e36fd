"""The bones of a plan in a fraction of the time: what further answers would move, without mixing anything.

A sketch is drawn by the same engine from the same rules, but only from those that an answer can move and only on the
facts that these read. What is kept out by the nature of a material is settled once. What goes into the mix is taken to
be everything that may: a caution that a sketch adds is one that may be needed.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from functools import cached_property
from weakref import WeakKeyDictionary

from advisor.counsel.blending import shift_of_target
from advisor.counsel.choose import Standing, rank
from advisor.counsel.settle import FORMS, answers, container_litres, is_barred
from advisor.counsel.shifts import Known, meets, shift_of, shifted
from advisor.counsel.stock import Lot, lots, material_facts, stock_facts, uses
from advisor.household.shapes import Household, Room
from advisor.inference.engine import Engine
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge, Rule
from advisor.knowledge.conditions import Condition, Value
from advisor.records import dataclass

#: What a sketch says: a kind, or kind.attribute.
_WANTED = ("method", "plan.aim", "turning.times", "target.shift", "caution", "need", "holding.barred_from")

_RATIO = "carbon-nitrogen"

#: The question that is asked next and what is still missing both try the answers to a household, one after the other;
#: in between, the talk may look at the household as each answer to a question would make it, or each amount.
_VIEWS_KEPT = 24

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

    def prepare(self) -> None:
        """Make ready for the first outline, which is quicker for it."""
        self._small.prepare()

    def view(self, household: Household, held: Sequence[Lot] | None = None, since: View | None = None) -> View:
        """What can be sketched of a household. The last few are kept, with all that was tried on them.

        Args:
            held: the lots of the household, if they have been worked out already.
            since: the view of the household as it was before the last answer; what was tried on it need not be drawn
                again where that answer only adds to it.
        """
        known = next((view for view in self._views if view.household == household), None)
        if known is not None:
            return known
        view = View(self, household, lots(household, self.knowledge) if held is None else tuple(held), since)
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
            for rule in self._readers.get(attribute, ())
            if all(condition.name == attribute or view.may_hold(condition) for condition in rule.when)
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


class OnHand:
    """What is on hand, as facts that some rule of a sketch reads."""

    def __init__(self, sketcher: Sketcher, held: tuple[Lot, ...]) -> None:
        self._sketcher = sketcher
        materials = tuple(material_facts(held))
        with sketcher.engine.consultation() as talk:
            talk.tell(materials, "from what you have on hand")
            self.barred: Barred = {
                lot.material_id: frozenset(map(str, talk.values("holding", "barred_from", lot.material_id)))
                for lot in held
            }
            self.considered = [lot for lot in held if not is_barred(talk, lot.material_id, "all")]
        self.materials = tuple(sketcher.read(materials))
        self._stock: dict[float | None, tuple[Fact, ...]] = {}

    def stock(self, container: float | None) -> tuple[Fact, ...]:
        """What it adds up to, beside a container of so many litres."""
        if container not in self._stock:
            self._stock[container] = tuple(self._sketcher.read(stock_facts(self.considered, container)))
        return self._stock[container]


class View:
    """One household as the sketcher sees it: its facts are worked out once, its answers may be tried.

    What an answer brings is told in one of three ways, the cheapest first: added to what stands now; what stood with it
    before the last answer, with that added; or drawn.
    """

    def __init__(
        self, sketcher: Sketcher, household: Household, held: tuple[Lot, ...], since: View | None = None
    ) -> None:
        self.sketcher, self.household, self.held = sketcher, household, held
        if since is not None and since.held != held:
            since = None  # what was tried with other things on hand tells nothing
        self._on_hand: OnHand = OnHand(sketcher, held) if since is None else since._on_hand
        self._tried: dict[tuple[str, tuple[Value, ...]], tuple[Outline, ...]] = {}
        self._before: dict[tuple[str, Value], Outline] = {}
        self._told_since: dict[str, Value] = {}
        if since is not None:
            self._follow(since)

    def _follow(self, since: View) -> None:
        """Take over what was tried before the last answer, if that told new attributes and changed none."""
        new = {name: known for name, known in self._known.items() if since._known.get(name) != known}
        one_each = all(len(known) == 1 and known[0][0] == "" for known in new.values())
        if not one_each or since._known.keys() - self._known.keys() or new.keys() & since._known.keys():
            return
        self._told_since = {name: known[0][1] for name, known in new.items()}
        self._household_before = since.household
        for (attribute, values), outlines in since._tried.items():
            self._before |= {(attribute, value): one for value, one in zip(values, outlines, strict=True)}

    @cached_property
    def now(self) -> Outline:
        """The outline as things stand."""
        for (attribute, value), outline in self._before.items():
            if attribute in self._told_since and answered(self._household_before, attribute, value) == self.household:
                return outline
        return self._outline(self.household)

    def tried(self, attribute: str, values: Sequence[Value]) -> tuple[Outline, ...]:
        """The outline that follows from each answer."""
        told = attribute, tuple(values)
        if told not in self._tried:
            self._tried[told] = self._try(attribute, values)
        return self._tried[told]

    def _try(self, attribute: str, values: Sequence[Value]) -> tuple[Outline, ...]:
        found: dict[Value, Outline] = {}
        left = []
        for value in values:
            added_up = self._added_up(attribute, value)
            if added_up is None:
                left.append(value)
            else:
                found[value] = added_up
        marks = self.sketcher.alike(attribute, left, self) if left else {}
        alike: dict[frozenset[str] | str, Outline] = {}
        for value in left:
            mark = marks[value]
            if mark not in alike:
                alike[mark] = self._followed(attribute, value) or self._drawn(attribute, value)
            found[value] = alike[mark]
        return tuple(found[value] for value in values)

    def _added_up(self, attribute: str, value: Value) -> Outline | None:
        """The outline that follows from an answer, if it can be told without running the rules."""
        return self._with(self.now, {attribute: value, **self._worked_out(attribute, value)}, self._settled)

    def _followed(self, attribute: str, value: Value) -> Outline | None:
        """The same, from what stood with that answer before the last one was told."""
        before = self._before.get((attribute, value))
        if before is None:
            return None
        settled = _settled(before, self._all_known(answered(self._household_before, attribute, value)))
        return self._with(before, self._told_since, settled)

    def _drawn(self, attribute: str, value: Value) -> Outline:
        return self._outline(answered(self.household, attribute, value))

    def _with(self, now: Outline, told: Mapping[str, Value], settled: Known) -> Outline | None:
        """An outline with answers added, if what they bring can be told by what is settled."""
        shift = shift_of(told, self.sketcher.readers(told), settled, self.sketcher.knowledge)
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
        facts = stock_facts(self._on_hand.considered, value)
        return {f"{fact.kind}.{fact.attribute}": fact.value for fact in facts if fact.attribute == "container_filled"}

    @cached_property
    def _settled(self) -> Known:
        """What is known once the method stands."""
        return _settled(self.now, self._known)

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
        return self._all_known(self.household)

    def _all_known(self, household: Household) -> dict[str, list[tuple[str, Value]]]:
        found: dict[str, list[tuple[str, Value]]] = {}
        for fact in self._facts(household):
            found.setdefault(f"{fact.kind}.{fact.attribute}", []).append((fact.subject, fact.value))
        return found

    def _outline(self, household: Household) -> Outline:
        return self.sketcher.draw(self._facts(household), self.held, self._on_hand.barred)

    def _facts(self, household: Household) -> Iterator[Fact]:
        yield from answers(household, self.sketcher.knowledge)
        if household.room is not None:
            yield Fact("place", "narrowest", "", min(household.room.length_m, household.room.width_m))
        yield from self._on_hand.materials
        yield from self._on_hand.stock(container_litres(household))


def _settled(outline: Outline, known: Known) -> Known:
    chosen = {"plan.method": outline.method, "plan.form": FORMS[outline.method], "plan.aim": outline.aim}
    return {**known, **{name: [("", value)] for name, value in chosen.items() if value}}


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
