"""Rules speak where their sources say, and conclude the figures that these print.

`test_every_rule.py` takes bounds from the rules themselves, so it cannot tell whether one stands in the right place.
Here the figures come from printed.toml.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from cases import KNOWLEDGE, PARTS, at_value, both, witness

from advisor.inference.evaluate import Rulebook, State
from advisor.knowledge.base import Rule

PRINTED: dict[str, dict[str, Any]] = tomllib.loads((Path(__file__).parent / "printed.toml").read_text("utf-8"))
RULES = {rule.id: rule for rule in KNOWLEDGE.rules}
#: By how much a figure is missed, as a share of it; what is counted whole is missed by one.
BESIDE = 0.01


def rulebook_of(rule: Rule) -> Rulebook:
    return next(both(part)[1] for part in PARTS if rule in part(KNOWLEDGE)[0])


def sides(entry: dict[str, Any]) -> Iterator[tuple[str, float, bool]]:
    """For each printed bound: the attribute, a figure on either side of it, and whether the rule speaks there."""
    for name, bound in entry.items():
        if name == "months":
            first, last = bound
            outside = [month for month in (first - 1, last + 1) if month <= 12]
            yield from (("record.month", month, True) for month in (first, last))
            yield from (("record.month", month, False) for month in outside)
        elif isinstance(bound, dict) and name != "gives":
            for word, figure in bound.items():
                beside = BESIDE * figure
                speaks, silent = {
                    "over": (figure + beside, figure - beside),
                    "under": (figure - beside, figure + beside),
                    "reached": (figure, figure - 1),
                    "up_to": (figure, figure + 1),
                }[word]
                yield name, speaks, True
                yield name, silent, False


@pytest.mark.parametrize("rule_id", PRINTED)
def test_a_rule_speaks_where_its_source_says(rule_id: str) -> None:
    rule, entry = RULES[rule_id], PRINTED[rule_id]
    assert entry["source"] in rule.source
    rulebook = rulebook_of(rule)
    tried = list(sides(entry))
    for name, figure, speaks in tried:
        told = at_value(rule, KNOWLEDGE, name, figure)
        assert told is not None, name
        state = State(rulebook)
        state.tell(told)
        state.close_answers()
        assert (rule_id in {firing.rule for firing in state.firings}) == speaks, (name, figure, entry["printed"])
    assert tried or "gives" in entry


@pytest.mark.parametrize("rule_id", [rule_id for rule_id, entry in PRINTED.items() if "gives" in entry])
def test_a_rule_concludes_what_its_source_prints(rule_id: str) -> None:
    rule, entry = RULES[rule_id], PRINTED[rule_id]
    assert witness(rule, KNOWLEDGE) is not None
    for name, figure in entry["gives"].items():
        concluded = {then.value for then in rule.then if f"{then.kind}.{then.attribute}" == name}
        assert concluded >= {figure}, (name, entry["printed"])


#: From here on an amount is a lump, and a rule may speak of lumps alone: about a wheelbarrow half full.
LUMP_L = 50.0
#: A tablespoon and more, in litres.
SPOONFUL_L = 0.05
OF_AN_AMOUNT = [
    (rule.id, condition.name)
    for rule in KNOWLEDGE.rules
    for condition in rule.when
    if condition.name in ("adding.litres", "holding.litres")
    and all(isinstance(test.values[0], float) and test.values[0] < LUMP_L for test in condition.tests)
]


@pytest.mark.parametrize(("rule_id", "name"), OF_AN_AMOUNT)
def test_a_spoonful_is_an_amount_and_nothing_is_none(rule_id: str, name: str) -> None:
    """What is by the handful, and what harms, is spoken of however little there is; nothing is said of none."""
    rule = RULES[rule_id]
    for litres, speaks in ((SPOONFUL_L, True), (0.0, False)):
        told = at_value(rule, KNOWLEDGE, name, litres)
        assert told is not None
        state = State(rulebook_of(rule))
        state.tell(told)
        state.close_answers()
        assert (rule_id in {firing.rule for firing in state.firings}) == speaks, litres
