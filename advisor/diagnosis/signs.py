"""From how a line was heard to the signs of a trouble: the facts that it tells, by attribute of the fact kind `sign`.

What is denied, asked, feared, past or somebody else's is no sign. Where two values of an attribute cannot both hold,
the gravest counts, and of equal ones the last that was said. A word said in general gives way to a particular one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from advisor.hearing.hear import hear
from advisor.hearing.shapes import Fact, Heard
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.records import dataclass

Signs = Mapping[str, tuple[Value, ...]]

#: The kinds of compost by the thing that a line is about.
METHOD_OF: Mapping[str, str] = {
    "heap": "open-heap",
    "bin": "bin",
    "tumbler": "tumbler",
    "worm bin": "worm-bin",
    "fermented bucket": "fermented-bucket",
    "leaf heap": "leaf-heap",
    "trench": "trench",
}
#: "The heap" and "the bin" are what anybody calls anything: they take no other vessel's place.
GENERAL_METHODS = frozenset({"open-heap", "bin"})
#: A word said in general ("it stinks") says nothing more once it is told of what.
GENERAL: Mapping[str, tuple[str, frozenset[str]]] = {
    "smell": ("foul", frozenset({"ammonia", "rotten-egg", "sour", "rancid", "putrid", "musty"})),
    "looks": ("mould", frozenset({"white-mould", "coloured-mould", "slime-mould", "white-threads", "mushrooms"})),
}
#: Of values that cannot both hold, these count before all others.
_GRAVEST: Mapping[str, tuple[str, ...]] = {"warmth": ("burning", "smoking", "too-hot", "frozen")}
#: What went in, by the materials that a trouble names: the first trait of each that stands here says it.
_HOLDS: Mapping[str, str] = {
    "pet-waste": "pet-waste",
    "meat": "meat",
    "dairy": "dairy-fat",
    "oily": "dairy-fat",
    "coal-ash": "coal-ash",
    "ash": "ash",
    "lime": "lime",
    "treated": "treated-wood",
    "coated": "glossy-paper",
    "diseased": "leaf-disease",
    "farm-manure": "manure",
    "bedding": "manure",
    "seedy": "seeding-weeds",
    "spreads": "spreading-weeds",
    "salty": "salty",
    "leaf": "leaves",
    "paper": "paper",
    "woody": "woody",
    "citrus": "slow-stuff",
    "waxy": "slow-stuff",
    "kitchen": "kitchen",
}
#: The same by name, where no trait says it.
_HOLDS_NAMED: Mapping[str, str] = {
    "grass-clippings": "grass",
    "hay": "hay-straw",
    "straw": "hay-straw",
    "eggshells": "slow-stuff",
    "fruit-stones": "slow-stuff",
    "corn-cobs": "slow-stuff",
    "nut-shells": "slow-stuff",
}
_READINGS = 2  # of a name that may mean several materials, those it means first


@dataclass(frozen=True, slots=True)
class Read:
    """A sign and the words it was read from."""

    attribute: str
    value: Value
    said: str


def read_signs(text: str, knowledge: Knowledge) -> tuple[dict[str, tuple[Value, ...]], tuple[str, ...]]:
    """The signs that words tell, by attribute of `sign`, and the words that were not understood."""
    heard = hear(text, knowledge)
    return as_signs(signs_told(heard, knowledge)), heard.unread


def as_signs(read: Iterable[Read]) -> dict[str, tuple[Value, ...]]:
    """Signs by attribute."""
    found: dict[str, tuple[Value, ...]] = {}
    for one in read:
        found[one.attribute] = tuple(dict.fromkeys((*found.get(one.attribute, ()), one.value)))
    return found


def signs_told(heard: Heard, knowledge: Knowledge, method: str = "", *, ails: bool = False) -> tuple[Read, ...]:
    """The signs that a line tells, in the order in which rules/facts.toml declares them.

    Args:
        method: the kind of compost that is spoken of already, by the words of sign.method; empty if none.
        ails: whether a heap in trouble is spoken of already: then what was fed to it is a sign by itself.
    """
    declared = knowledge.kinds["sign"].attributes
    read: dict[str, list[Read]] = {}
    measured = any(fact.name == "sign.degrees" for fact in heard.told)
    for fact in heard.told:
        if measured and fact.name == "sign.warmth" and not fact.concept:
            continue  # it was worked out of the reading, which counts itself
        kind, _, name = fact.name.partition(".")
        if kind == "sign" and name in declared and name != "method":
            value = _value(fact, declared[name].number)
            if value is not None and (declared[name].number is not None or value in declared[name].words):
                read.setdefault(name, []).append(Read(name, value, fact.said))
    fed = ails and (heard.acts[:1] == ("stock",) or any(fact.name in ("deed.added", "deed.fed") for fact in heard.told))
    named = _named(heard, method)
    in_worms = "worm-bin" in (named, method)  # whose bedding is paper, and no litter
    if read or fed:
        held = [
            Read("holds", value, said)
            for value, said in _held(heard, knowledge)
            if value in declared["holds"].words and not (in_worms and said.casefold() == "bedding")
        ]
        read.setdefault("holds", []).extend(held)
    steams = [fact.said for fact in heard.told if fact.name == "sign.steam"]
    if steams and not measured and "warmth" not in read:
        read["warmth"] = [Read("warmth", "hot", steams[0])]  # only a hot middle steams: common practice, no source
    for cooled in _cooled(read.get("degrees", ()), knowledge.figures["heat-fallen-k"].typical):
        read.setdefault("heat_before", []).append(cooled)
    if named:
        read["method"] = [Read("method", named, heard.about)]
    return tuple(
        one
        for name in declared
        for one in (read.get(name, ()) if declared[name].many else _one(name, read.get(name, ())))
        if not _gives_way(one, read.get(name, ()))
    )


def _held(heard: Heard, knowledge: Knowledge) -> Iterator[tuple[str, str]]:
    """What went in, by the materials that the line names as being there."""
    for one in heard.materials:
        beside = any(amount.beside and amount.start <= one.start < amount.end for amount in heard.amounts)
        if one.stance != "told" or not one.ids or beside or one.likened:
            continue
        values = {held_of(name, knowledge) for name in one.ids[:_READINGS]}
        if len(values) == 1:  # a word such as "brown", that may be leaves or straw, tells nothing
            yield from ((value, one.said) for value in values if value)


def held_of(name: str, knowledge: Knowledge) -> str:
    """The word of sign.holds for a material; empty if there is none."""
    traits = knowledge.materials[name].traits
    return _HOLDS_NAMED.get(name) or next((value for trait, value in _HOLDS.items() if trait in traits), "")


def gone(heard: Heard) -> Iterator[tuple[str, str]]:
    """Signs that a line denies or says are past: attribute of `sign` and value."""
    told = {(fact.name, fact.value) for fact in heard.told}
    for fact in heard.facts:
        kind, _, name = fact.name.partition(".")
        if kind == "sign" and fact.stance in ("denied", "past") and (fact.name, fact.value) not in told:
            yield name, fact.value


def _named(heard: Heard, method: str) -> str:
    """The kind of compost that a line names itself; none if it only says "the heap" or "the bin" of another vessel."""
    named = METHOD_OF.get(heard.about, "")
    said = any(piece.about == heard.about and piece.asks != "whether" for piece in heard.pieces)
    return named if named and said and not (named in GENERAL_METHODS and (method or named == "open-heap")) else ""


def _value(fact: Fact, bounds: tuple[float, float] | None) -> Value | None:
    if bounds is None:
        return fact.value
    try:
        number = float(fact.value)
    except ValueError:
        return None
    return number if bounds[0] <= number <= bounds[1] else None


def _one(name: str, read: Sequence[Read]) -> tuple[Read, ...]:
    grave = [one for value in _GRAVEST.get(name, ()) for one in read if one.value == value]
    return (grave[0],) if grave else tuple(read[-1:])


def _cooled(readings: Sequence[Read], fallen_k: float) -> Iterator[Read]:
    """That it was hot before, where the last of several readings is lower than the first by more than so many K."""
    if len(readings) > 1 and float(readings[0].value) - float(readings[-1].value) > fallen_k:
        yield Read("heat_before", "was-hot", readings[0].said)


def _gives_way(one: Read, others: Sequence[Read]) -> bool:
    general, particular = GENERAL.get(one.attribute, ("", frozenset()))
    return one.value == general and any(other.value in particular for other in others)
