"""Many local rules: they are spread over messages of their own, and what follows is as if they were not."""

from __future__ import annotations

import pytest
import toy_garden as toy

from advisor.errors import InferenceFault
from advisor.inference.compile import compiled
from advisor.inference.engine import Engine
from advisor.inference.facts import Fact
from advisor.inference.spread import spread
from advisor.knowledge.base import Conclusion, Rule
from advisor.knowledge.conditions import parse

MANY = 500
SUBJECTS = {"pile": frozenset(toy.PILES), "yard": frozenset[str](), "stuff": frozenset(toy.STUFF)}


def rule(name: str, when: str, kind: str, attribute: str, value: str | float, folder: str) -> Rule:
    condition = parse(
        when, toy.KINDS, {"pile": frozenset(toy.PILES), "yard": frozenset(), "stuff": frozenset(toy.STUFF)}
    )
    then = Conclusion(kind, attribute, "", kind == "pile", value)
    return Rule(
        name, "toy", "build", (condition,), (then,), "It is made up.", ("nobody",), "guidance", "a.toml", folder
    )


def thresholds(number: int, folder: str) -> list[Rule]:
    """Rules that one fact passes all at once: each asks for a little more of the same share."""
    words = [f"above-{place}" for place in range(number)]
    return [
        rule(words[place], f"pile.share > {100 * place / number:.4f}", "pile", "rank", place % 5, folder)
        for place in range(number)
    ]


def fired(engine: Engine, facts: list[Fact]) -> set[str]:
    with engine.consultation() as talk:
        talk.tell(facts, "made up")
    return {firing.rule for firing in talk.firings}


def test_the_engine_alone_does_not_bear_them() -> None:
    engine = Engine(thresholds(MANY, "rules"), toy.KINDS)  # all shipped, so that none is spread
    with pytest.raises(InferenceFault):
        fired(engine, [Fact("pile", "share", "north", 99.9)])


@pytest.mark.parametrize("share", [0.0, 1.0, 49.95, 99.9])
def test_five_hundred_local_rules_fire_as_they_should(share: float) -> None:
    engine = Engine(thresholds(MANY, "testby"), toy.KINDS)
    found = fired(engine, [Fact("pile", "share", "north", share)])
    assert found == {f"above-{place}" for place in range(MANY) if share > round(100 * place / MANY, 4)}


def test_few_local_rules_share_the_tree_of_the_shipped_ones() -> None:
    few = [compiled(one) for one in (*thresholds(10, "rules"), *(
        rule(f"local-{place}", f"pile.share > {place}.5", "pile", "rank", 1, "testby") for place in range(5)
    ))]  # fmt: skip
    assert set(spread(few).values()) == {0}
    many = [compiled(one) for one in thresholds(MANY, "testby")]
    assert len(set(spread(many).values())) > MANY / 64


def test_what_a_local_rule_concludes_a_shipped_one_sees_and_the_other_way_round() -> None:
    chain = [
        rule("shipped-first", "yard.soil == 'ash'", "yard", "mood", "bark", "rules"),
        rule("local-second", "yard.mood == 'bark'", "yard", "mood", "clay", "testby"),
        rule("shipped-third", "yard.mood == 'clay'", "yard", "mood", "dung", "rules"),
        rule("local-fourth", "yard.mood == 'dung'", "yard", "mood", "elm", "testby"),
    ]
    engine = Engine([*chain, *thresholds(MANY, "testby")], toy.KINDS)
    assert fired(engine, [Fact("yard", "soil", "", "ash")]) == {one.id for one in chain}
    with engine.consultation() as talk:
        talk.tell([Fact("yard", "soil", "", "ash")], "made up")
        assert talk.values("yard", "mood") == ("bark", "clay", "dung", "elm")
