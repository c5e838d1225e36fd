"""Every rule fires on its own facts, every bound is where it is written, and every weight decides something."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Sequence

import pytest
from cases import KNOWLEDGE, PARTS, Part, Surroundings, both, bounds, witness

from advisor.counsel.choose import rank
from advisor.counsel.measures import share_cap
from advisor.diagnosis.weighing import points
from advisor.inference.evaluate import Rulebook, State
from advisor.inference.facts import Fact
from advisor.knowledge.base import Rule
from advisor.knowledge.parts import replacing, troubles

#: How many cases are drawn for a rule until it decides in one.
TRIES = 300
#: Rules that decide in none of these cases, and with other seeds in fewer than one of a hundred.
SELDOM_DECIDE = {
    "little-stuff-makes-no-row",
    "bucket-plenty-of-bran",
    "no-way-in",
    "worms-have-bedding",
}


def silent(speaking: Sequence[Rule]) -> set[str]:
    """Those of some rules that are known to decide in none of the cases drawn."""
    return SELDOM_DECIDE & {rule.id for rule in speaking}


def fired(rulebook: Rulebook, told: Iterable[Fact]) -> set[str]:
    state = State(rulebook)
    state.tell(told)
    state.close_answers()
    return {firing.rule for firing in state.firings}


@pytest.mark.parametrize("part", PARTS)
def test_every_rule_fires_on_its_own_facts(part: Part) -> None:
    _, rulebook = both(part)
    for rule in part(KNOWLEDGE)[0]:
        told = witness(rule, KNOWLEDGE)
        assert told is not None, rule.id
        assert rule.id in fired(rulebook, told), rule.id


@pytest.mark.parametrize("part", PARTS)
def test_every_bound_is_where_it_is_written(part: Part) -> None:
    """By the engine and by the evaluator: the rule fires just within, and not just beyond."""
    engine, rulebook = both(part)
    tried = 0
    for rule in part(KNOWLEDGE)[0]:
        for bound in bounds(rule, KNOWLEDGE):
            tried += 1
            for told, fires in ((bound.within, True), (bound.beyond, False)):
                assert (rule.id in fired(rulebook, told)) == fires, (rule.id, bound.condition.text)
                with engine.consultation() as talk:
                    talk.tell(told, "told")
                    talk.close_answers()
                assert (rule.id in {firing.rule for firing in talk.firings}) == fires, (rule.id, bound.condition.text)
    assert tried


def deciding(rules: Sequence[Rule], winner: Callable[[list[Fact], str], tuple[object, object]]) -> set[str]:
    """The rules that decide in one of some cases: without the rule, another wins.

    Args:
        winner: who wins on some facts, with a rule and without it.
    """
    surroundings = Surroundings(rules, KNOWLEDGE)
    found = set()
    for rule in rules:
        for told in surroundings.of(rule, TRIES, random.Random(rule.id)):
            with_it, without = winner(told, rule.id)
            if with_it != without:
                found.add(rule.id)
                break
    return found


def test_every_weight_of_a_method_decides_a_choice() -> None:
    rules, kinds = replacing(KNOWLEDGE)
    speaking = [rule for rule in rules if any(then.kind == "method" for then in rule.then)]
    rulebook = Rulebook([rule for rule in rules if rule.stratum in ("situation", "method")], kinds)
    order = {method: place for place, method in enumerate(KNOWLEDGE.methods)}

    def winner(told: list[Fact], without: str) -> tuple[object, object]:
        state = State(rulebook)
        state.tell(told)
        state.close_answers()
        ranked = rank(state, KNOWLEDGE)
        left = {one.method: [vote for vote in one.votes if vote.rule != without] for one in ranked}
        best = min(
            left,
            key=lambda method: (
                any(vote.weight == 0 for vote in left[method]),
                -sum(vote.weight for vote in left[method]),
                order[method],
            ),
        )
        return ranked[0].method, best

    assert {rule.id for rule in speaking} - deciding(speaking, winner) == silent(speaking)


def test_every_weight_of_a_cause_decides_what_is_suspected_first() -> None:
    rules = [rule for rule in KNOWLEDGE.rules if rule.stratum in ("signs", "causes")]
    speaking = [rule for rule in rules if any(then.kind == "cause" for then in rule.then)]
    by_id = {rule.id: rule for rule in rules}
    rulebook = Rulebook(rules, troubles(KNOWLEDGE)[1])

    def first(names: Iterable[str]) -> object:
        scores: dict[str, float] = {}
        out: set[str] = set()
        for name in sorted(names):
            for then in by_id[name].then:
                if then.attribute == "favour" and isinstance(then.value, float):
                    scores[then.subject] = scores.get(then.subject, 0.0) + points(then.value)
                elif then.attribute == "ruled_out":
                    out.add(then.subject)
        left = {cause: score for cause, score in scores.items() if cause not in out and score > 0}
        return min(left, key=lambda cause: (-left[cause], cause), default=None)

    def winner(told: list[Fact], without: str) -> tuple[object, object]:
        spoken = fired(rulebook, told)
        return first(spoken), first(spoken - {without})

    assert {rule.id for rule in speaking} - deciding(speaking, winner) == silent(speaking)


def test_rules_that_decide_nothing_are_rules() -> None:
    assert {rule.id for rule in KNOWLEDGE.rules} >= SELDOM_DECIDE


CAPPING = [rule for rule in KNOWLEDGE.rules if any(then.attribute == "share_cap" for then in rule.then)]


@pytest.mark.parametrize("rule", CAPPING, ids=lambda rule: rule.id)
def test_every_cap_holds_until_another_is_stricter(rule: Rule) -> None:
    told = witness(rule, KNOWLEDGE) or ()
    rulebook = both(replacing)[1]
    alone = State(rulebook)
    alone.tell(told)
    alone.close_answers()
    capped = {
        subject: min(float(value) for value in values)
        for subject, values in alone.about("holding", "share_cap").items()
    }
    own = {then.value for then in rule.then if then.attribute == "share_cap"}
    assert own & set(capped.values())
    for material, percent in capped.items():
        assert share_cap(alone, material) == pytest.approx(percent / 100, abs=1e-5)
        for other, holds in ((percent + 10, percent), (percent / 2, percent / 2)):
            together = alone.layer()
            together.tell([Fact("holding", "share_cap", material, other)])
            assert share_cap(together, material) == pytest.approx(holds / 100, abs=1e-5)
