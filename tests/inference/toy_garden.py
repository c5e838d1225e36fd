"""A small garden of facts and rules for trying the engine. Nothing in it is advice."""

from __future__ import annotations

from functools import cache

from advisor.inference.engine import Engine
from advisor.inference.facts import Fact
from advisor.knowledge.base import Conclusion, Rule
from advisor.knowledge.conditions import parse
from advisor.knowledge.load import read
from advisor.knowledge.shapes import Attribute, Kind
from advisor.places import rules_folder

WORDS = ("ash", "bark", "clay", "dung", "elm")
PILES = ("north", "south", "east")


def _attribute(words: tuple[str, ...], origin: str, *, many: bool = False) -> Attribute:
    return Attribute(words=dict.fromkeys(words, "a word"), origin=origin, many=many, about="made up")


def _number(low: float, high: float, origin: str, *, many: bool = False) -> Attribute:
    return Attribute(number=(low, high), origin=origin, many=many, about="made up")


KINDS = {
    "yard": Kind(
        about="has no subjects",
        attributes={
            "soil": _attribute(WORDS, "answer"),
            "guests": _attribute(WORDS, "answer", many=True),
            "area": _number(0, 1000, "computed"),
            "mood": _attribute(WORDS, "concluded", many=True),
            "score": _number(-50, 50, "concluded", many=True),
        },
    ),
    "pile": Kind(
        about="has the subjects that are listed",
        subjects=PILES,
        attributes={
            "trait": _attribute(WORDS, "computed", many=True),
            "share": _number(0, 100, "computed"),
            "smell": _attribute(WORDS, "answer"),
            "fate": _attribute(WORDS, "concluded", many=True),
            "rank": _number(-5, 5, "concluded", many=True),
        },
    ),
    "stuff": Kind(
        about="has any subjects at all",
        subjects="materials",
        attributes={
            "trait": _attribute(WORDS, "computed", many=True),
            "share": _number(0, 1e9, "computed"),
            "note": _attribute(WORDS, "concluded", many=True),
        },
    ),
}
STUFF = ("hay", "hay-old", "leaf", "leaf mould", 'l\'herbe "verte"', "Wiesengrün", "草", "🍂{}\\\n")


def rule(name: str, when: list[str], then: list[tuple[str, ...]], because: str = "It is so.") -> Rule:
    """A rule from conditions as written in rules/, and conclusions as (kind.attribute, value[, subject]).

    The subject "same" is the one the rule matched.
    """
    subjects = {"pile": frozenset(PILES), "stuff": frozenset(STUFF)}
    conclusions = []
    for target, value, *about in then:
        kind, attribute = target.split(".")
        subject = about[0] if about else ""
        same = subject == "same"
        conclusions.append(Conclusion(kind, attribute, "" if same else subject, same, value))
    conditions = tuple(parse(line, KINDS, subjects) for line in when)
    return Rule(
        name, "toy", "situation", conditions, tuple(conclusions), because, ("common-practice",), "tradition", "toy.toml"
    )


def fact(target: str, value: str | float, subject: str = "") -> Fact:
    """The fact that `target` (kind.attribute) of a subject is a value."""
    kind, attribute = target.split(".")
    return Fact(kind, attribute, subject, value)


#: Three levels deep, with every form of condition.
RULES = (
    rule("clay-lies-wet", ["yard.soil == 'clay'"], [("yard.mood", "clay")], "Clay holds water."),
    rule("roomy", ["yard.area >= 25"], [("yard.score", 3.0)], "There is room."),
    rule("middling", ["25 <= yard.area < 35"], [("yard.score", 1.5)]),
    rule("stranger", ["yard.guests in ('elm', 'bark')"], [("yard.mood", "elm")]),
    rule("not-ash", ["yard.guests != 'ash'"], [("yard.mood", "bark")]),
    rule(
        "much-dung", ["pile.trait == 'dung'", "pile.share > 20"], [("pile.fate", "dung", "same"), ("yard.mood", "dung")]
    ),
    rule("any-mix", ["pile.share > 1", "pile.trait in ('ash', 'elm')"], [("pile.rank", 1.0, "same")]),
    rule("north-only", ["pile['north'].share > 50"], [("pile.fate", "elm", "north")]),
    rule("two-sides", ["pile['north', 'south'].trait == 'bark'", "pile.share < 90"], [("pile.rank", -1.0, "same")]),
    rule(
        "two-traits", ["pile.trait in ('ash', 'elm')", "pile.trait in ('bark', 'clay')"], [("pile.rank", 2.0, "same")]
    ),
    rule("twice", ["pile.share > 10", "pile.share < 50"], [("pile.rank", 3.0, "same")]),
    rule("doomed", ["pile.fate in ('dung', 'elm')", "yard.mood == 'clay'"], [("pile.fate", "ash", "same")]),
    rule("gloom", ["pile.fate == 'ash'", "yard.score > 1"], [("yard.score", -2.0)]),
    rule("nobody-said", ["unknown(yard.soil)", "yard.area > 5"], [("yard.mood", "ash")], "Nobody named the soil."),
    rule("nobody-smelt", ["unknown(pile.smell)", "pile.share > 5"], [("pile.fate", "bark", "same")]),
)


@cache
def engine() -> Engine:
    """The toy rules, compiled once for all tests."""
    return Engine(RULES, KINDS)


def many_rules(each: int) -> tuple[Rule, ...]:
    """Rules in three levels, so many on each: a rule base of the size of a real one, over the toy registry."""
    rules = []
    for n in range(each):
        one, two, pile = WORDS[n % 5], WORDS[(n // 5 + 1) % 5], PILES[n % 3]
        sees = [f"pile.trait == '{one}'", f"pile.share > {2 * (n % 40)}"]
        pairs = [f"pile.rank > {n % 7 - 3}", f"yard.guests == '{two}'"]
        ends = [f"pile['{pile}'].fate == '{two}'", f"yard.area > {20 * (n % 40)}"]
        rules += [
            rule(f"see-{n}", sees, [("pile.rank", float(n % 11 - 5), "same")]),
            rule(f"pair-{n}", pairs, [("pile.fate", one, "same")]),
            rule(f"end-{n}", ends, [("yard.mood", one)]),
        ]
    return tuple(rules)


@cache
def shipped() -> tuple[tuple[Rule, ...], dict[str, Kind]]:
    """The rules of rules/ that can be read, and their registry."""
    knowledge, _ = read(rules_folder())
    return knowledge.rules, dict(knowledge.kinds)
