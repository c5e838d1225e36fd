"""One material by itself: where it may go, where it must stay out and why, how much of it, and what to do first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Literal

from advisor.counsel import why
from advisor.counsel.measures import share_text
from advisor.counsel.plan import Because, Line
from advisor.counsel.settle import chosen
from advisor.counsel.stock import lots, nature, stock_facts, uses
from advisor.counsel.wording import joined
from advisor.household.shapes import Holding, Household, Quantity
from advisor.inference.engine import Consultation, Engine
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.records import dataclass
from advisor.units import Units, fill

#: A material is looked at as a pinch among other stuff: rules on large shares speak of a whole stock, not of it.
_PINCH_PCT = 1.0
_ROLES = {
    "green": "a green, rich in nitrogen",
    "brown": "a brown, rich in carbon",
    "mineral": "a mineral: it feeds no microbes",
    "starter": "a starter: it brings microbes",
    "liquid": "a liquid",
    "never": "no compost",
}


PartKind = Literal["out", "most", "first", "care", "nature"]


@dataclass(frozen=True, slots=True)
class MaterialPart:
    """One thing there is to say of a material.

    Attributes:
        kind: where it stays out, how much at most, what to do first, a caution, or what it is.
        methods: those it holds for; empty for all.
        say: the words by themselves, without the methods: a reason, a share, a deed, a caution.
        reason: why, where `say` is no reason itself.
        line: the same as a line of its own.
        grave: whether somebody can be hurt.
    """

    kind: PartKind
    methods: tuple[str, ...]
    say: str
    reason: str
    line: Line
    grave: bool = False


@dataclass(frozen=True, slots=True)
class MaterialVerdict:
    """What the rules say of a material, whoever holds it.

    Attributes:
        material: its id.
        name: its name.
        goes_into: methods it may go into, in the order of rules/methods.toml.
        stays_out_of: methods it must stay out of, likewise. Handing it on is no method here.
        headline: the answer in a sentence.
        parts: everything there is to say, each with its reasons; the lines are named u1, u2 and so on.
    """

    material: str
    name: str
    goes_into: tuple[str, ...]
    stays_out_of: tuple[str, ...]
    headline: str
    parts: tuple[MaterialPart, ...]

    @property
    def lines(self) -> tuple[Line, ...]:
        """The lines of all parts."""
        return tuple(part.line for part in self.parts)

    @property
    def never(self) -> bool:
        """Whether it has no place in any composting at home."""
        return not self.goes_into


def verdict_on(material_id: str, knowledge: Knowledge, engine: Engine, *, units: Units = "metric") -> MaterialVerdict:
    """What the rules say of a material.

    Raises:
        KeyError: there is no such material.
        InferenceFault: a rule broke.
    """
    material = knowledge.materials[material_id]
    methods = [name for name in knowledge.methods if name != "collection"]
    if "leaf" not in material.traits:
        methods.remove("leaf-heap")  # it takes leaves and nothing else
    talks = {method: _consulted(material_id, method, knowledge, engine) for method in methods}
    barred = {str(word) for word in next(iter(talks.values())).values("holding", "barred_from", material_id)}
    out = tuple(method for method in talks if barred & {"all", method})
    into = tuple(method for method in talks if method not in out)
    writer = _Writer(material_id, knowledge, engine, units, {method: talks[method] for method in into or out}, barred)
    parts = [*writer.stays_out(out), *writer.at_most(), *writer.first(), *writer.cautions(into), *writer.made_of()]
    named = (
        replace(part, line=part.line.model_copy(update={"id": f"u{number}"})) for number, part in enumerate(parts, 1)
    )
    return MaterialVerdict(
        material_id, material.name, into, out, _headline(material.name, into, out, knowledge), tuple(named)
    )


def _consulted(material_id: str, method: str, knowledge: Knowledge, engine: Engine) -> Consultation:
    """A consultation that knows of the material and the method, and of nothing else."""
    material = knowledge.materials[material_id]
    pinch = lots(Household("", (Holding(material_id, Quantity(1, 1, 1, "L"), ""),)), knowledge)
    kinds = [fact for fact in stock_facts(pinch, None) if fact.attribute == "has"]
    with engine.consultation() as talk:
        talk.tell(nature(material_id, material), "what it is")
        talk.tell([Fact("holding", "share", material_id, _PINCH_PCT), *kinds], "a little of it among other stuff")
        talk.tell([*chosen(method, knowledge), *uses([material])], "if it went into it")
    return talk


def _line(text: str, why: tuple[Because, ...]) -> Line:
    return Line(id="", text=text, why=why)


class _Writer:
    """Writes the lines of one verdict, from a consultation for each method that is in question."""

    def __init__(
        self,
        material_id: str,
        knowledge: Knowledge,
        engine: Engine,
        units: Units,
        talks: Mapping[str, Consultation],
        barred: set[str],
    ) -> None:
        self.id, self.material = material_id, knowledge.materials[material_id]
        self.knowledge, self.engine, self.units = knowledge, engine, units
        self.talks, self.barred = talks, barred
        self.talk = next(iter(talks.values()))

    def stays_out(self, out: tuple[str, ...]) -> Iterator[MaterialPart]:
        """A line for each reason, with the methods it keeps it out of."""
        by_reason: dict[str, tuple[list[str], Because]] = {}
        for word in ("all",) if "all" in self.barred else out:
            for because in self._reasons(self.talk, "barred_from", word):
                methods, _ = by_reason.setdefault(because.because, ([], because))
                methods.append(word)
        for reason, (methods, because) in by_reason.items():
            where = "of all composting at home" if methods == ["all"] else f"of {_listed(methods, self.knowledge)}"
            held = () if methods == ["all"] else tuple(methods)
            yield MaterialPart("out", held, reason, "", _line(f"It stays out {where}. {reason}", (because,)))

    def at_most(self) -> Iterator[MaterialPart]:
        """How much of it there should be at most."""
        caps = self.talk.values("holding", "share_cap", self.id)
        if caps and "all" not in self.barred:
            least = min(float(cap) for cap in caps)
            reasons = self._reasons(self.talk, "share_cap", least)
            say = f"No more than {share_text(least)} of the heap by volume."
            yield MaterialPart("most", (), say, _whys(reasons), _line(f"{say} {_whys(reasons)}", reasons))

    def first(self) -> Iterator[MaterialPart]:
        """What to do to it first, with the methods that ask it."""
        words = self.knowledge.kinds["holding"].attributes["prepare"].words
        asked: dict[str, list[str]] = {}
        if "all" in self.barred:
            return
        for method, talk in self.talks.items():
            for word in talk.values("holding", "prepare", self.id):
                asked.setdefault(str(word), []).append(method)
        for word, methods in asked.items():
            reasons = self._reasons(self.talks[methods[0]], "prepare", word)
            where = "" if len(methods) == len(self.talks) else f" for {_listed(methods, self.knowledge)}"
            line = _line(f"First{where}: {words[word]}. {_whys(reasons)}", reasons)
            yield MaterialPart("first", tuple(methods), f"{words[word]}.", _whys(reasons), line)

    def cautions(self, into: tuple[str, ...]) -> Iterator[MaterialPart]:
        """The cautions that come with it wherever it may go, and would not be there without it; grave ones first."""
        declared = self.knowledge.notices["caution"]
        brought: dict[str, Consultation] = {}
        for method in into:
            with self.engine.consultation() as plain:
                plain.tell(chosen(method, self.knowledge), "without it")
                usual = set(plain.about("caution", "stands"))
            for name in self.talks[method].about("caution", "stands"):
                if name not in usual:
                    brought.setdefault(name, self.talks[method])
        for name in sorted(brought, key=lambda name: (not declared[name].grave, declared[name].order, name)):
            reasons = why.reasons(brought[name], Fact("caution", "stands", name, "yes").key, self.knowledge)
            said = why.computed(f"wording of {name.replace('-', ' ')}", sources=declared[name].source)
            if "{" not in fill(declared[name].say, _Nothing(), self.units):
                text = fill(declared[name].say, _Nothing(), self.units)
                line = _line(f"Take care. {text}", (*reasons, said))
                yield MaterialPart("care", (), text, "", line, declared[name].grave)

    def made_of(self) -> Iterator[MaterialPart]:
        """The part it plays, and the figures the arithmetic takes it by."""
        material = self.material
        ratio = material.carbon_nitrogen
        parts = [] if ratio is None else [f"carbon to nitrogen {ratio.typical:g} ({ratio.low:g} to {ratio.high:g})"]
        wet, density = material.moisture, material.density
        parts.append(f"moisture {wet.typical:g} % ({wet.low:g} to {wet.high:g})")
        parts.append(f"{density.typical:g} kg to the cubic metre ({density.low:g} to {density.high:g})")
        about = f" {material.about}" if material.about else ""
        text = f"It counts as {_ROLES[material.role]}: {', '.join(parts)}.{about}"
        say = f"It counts as {_ROLES[material.role]}.{about}"
        yield MaterialPart("nature", (), say, "", _line(text, (why.properties(material),)))

    def _reasons(self, talk: Consultation, attribute: str, value: Value) -> tuple[Because, ...]:
        return why.reasons(talk, Fact("holding", attribute, self.id, value).key, self.knowledge)


class _Nothing(dict[str, str]):
    """Stands for figures of a plan where there is none: a text that needs one shows its braces, and is left out."""

    def __missing__(self, key: str) -> str:
        return f"{{{key}}}"


def _whys(reasons: Iterable[Because]) -> str:
    return " ".join(dict.fromkeys(because.because for because in reasons))


def _headline(name: str, into: tuple[str, ...], out: tuple[str, ...], knowledge: Knowledge) -> str:
    said = name[:1].upper() + name[1:]
    if not into:
        return f"{said}: no, keep it out of all composting at home."
    if not out:
        return f"{said}: yes, it may go into any of the ways."
    if len(into) < len(out):
        return f"{said}: only for {_listed(into, knowledge)}; not for {_listed(out, knowledge)}."
    return f"{said}: yes for {_listed(into, knowledge)}; no for {_listed(out, knowledge)}."


def _listed(methods: Iterable[str], knowledge: Knowledge) -> str:
    names = [knowledge.methods[method].name for method in methods]
    return joined([f"{'an' if name[0] in 'aeiou' else 'a'} {name}" for name in names])
