"""What an answer shifts, added up: as long as it moves no method past the first, nothing need be run.

Scores are sums of the weights of rules, so an answer adds the rules it satisfies and takes away those that held only as
long as nobody had answered. This holds where every other condition of these rules is settled by what is known; where
one is not, or where another method would come first, the answer is drawn by the engine.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from advisor.counsel.choose import Standing, Vote
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge, Rule
from advisor.knowledge.conditions import Condition, Value
from advisor.records import dataclass

#: What is known, by the full name of each attribute: every subject with its value.
Known = Mapping[str, Sequence[tuple[str, Value]]]


@dataclass(frozen=True, slots=True)
class Shift:
    """The rules that an answer brings in, and those that it silences."""

    gained: tuple[Rule, ...]
    lost: tuple[Rule, ...]


def shift_of(told: Mapping[str, Value], readers: Iterable[Rule], known: Known, knowledge: Knowledge) -> Shift | None:
    """What an answer shifts; None if that cannot be told without running the rules.

    Args:
        told: the answer and what is worked out from it, by attribute; nobody has told any of it yet.
        readers: the rules that read any of it.
        known: all else that is known.
    """
    gained: list[Rule] = []
    lost: list[Rule] = []
    for rule in readers:
        own = [condition for condition in rule.when if condition.name in told]
        holds_now = all(condition.unknown for condition in own)
        will_hold = all(not condition.unknown and meets(condition, "", told[condition.name]) for condition in own)
        if holds_now == will_hold:
            continue
        rest = settled([condition for condition in rule.when if condition.name not in told], known, knowledge)
        if rest is None:
            return None
        if rest:
            (gained if will_hold else lost).append(rule)
    return Shift(tuple(gained), tuple(lost))


def settled(conditions: Iterable[Condition], known: Known, knowledge: Knowledge) -> bool | None:
    """Whether all the conditions hold together; None if what is known does not tell."""
    open_ones = False
    of_subjects = 0
    for condition in conditions:
        if condition.unknown:
            if condition.name in known:
                return False
            continue
        met = any(meets(condition, subject, value) for subject, value in known.get(condition.name, ()))
        if not met and _may_be_concluded(condition, known, knowledge):
            open_ones = True
        elif not met:
            return False
        of_subjects += bool(knowledge.kinds[condition.kind].subjects)
    # two conditions on a material must be met by the same one, which is not looked into here
    return None if open_ones or of_subjects > 1 else True


def _may_be_concluded(condition: Condition, known: Known, knowledge: Knowledge) -> bool:
    """Whether rules, or the recipe, may yet say it."""
    if condition.name in known:
        return knowledge.kinds[condition.kind].attributes[condition.attribute].many and condition.kind not in _TOLD
    origin = knowledge.kinds[condition.kind].attributes[condition.attribute].origin
    return origin == "concluded" or condition.kind == "recipe"


#: Kinds of which all that there is is told before a rule fires.
_TOLD = frozenset({"place", "wish", "household", "stock", "plan"})


def shifted(standings: Sequence[Standing], shift: Shift, knowledge: Knowledge) -> tuple[Standing, ...]:
    """The methods with the votes that a shift adds and takes away, best first, by the order of `choose.rank`."""
    if not shift.gained and not shift.lost:
        return tuple(standings)
    silenced = {rule.id for rule in shift.lost}
    new = {method: list[Vote]() for method in knowledge.methods}
    for rule in shift.gained:
        for then in rule.then:
            if then.kind == "method":
                weight = 0.0 if then.attribute == "ruled_out" else float(then.value)
                key = Fact("method", then.attribute, then.subject, then.value).key
                new[then.subject].append(Vote(rule.id, weight, key))
    found = []
    for one in standings:
        if not new[one.method] and not any(vote.rule in silenced for vote in one.votes):
            found.append(one)
            continue
        votes = [vote for vote in one.votes if vote.rule not in silenced] + new[one.method]
        votes.sort(key=lambda vote: (vote.weight != 0, -abs(vote.weight), vote.rule))
        score = sum(vote.weight for vote in votes)
        found.append(Standing(one.method, score, any(vote.weight == 0 for vote in votes), tuple(votes)))
    order = {method: place for place, method in enumerate(knowledge.methods)}
    return tuple(sorted(found, key=lambda one: (one.ruled_out, -one.score, order[one.method])))


def meets(condition: Condition, subject: str, value: Value) -> bool:
    """Whether a fact about a subject passes every test of a condition."""
    if condition.unknown or (condition.subjects and subject not in condition.subjects):
        return False
    return all(test.holds(value) for test in condition.tests)
