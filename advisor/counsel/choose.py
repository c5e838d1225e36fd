"""Choosing a method: the rules favour and rule out, one plain step here ranks what is left.

A score is the sum of the weights of the rules that spoke, each rule counted once however many facts it fired on. What
any rule ruled out is out, whatever its score. A dead heat goes to the method named first in rules/methods.toml.
"""

from __future__ import annotations

from advisor.inference.engine import Consultation
from advisor.inference.evaluate import State
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass


@dataclass(frozen=True, slots=True)
class Vote:
    """A rule that spoke about a method, a pace or a cause; `weight` is 0 when it ruled it out."""

    rule: str
    weight: float
    key: str  # the fact it concluded
    signs: frozenset[str] = frozenset()  # of a cause: the things seen, smelt and felt that it rests on


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a method stands, or whatever else is weighed like one."""

    method: str
    score: float
    ruled_out: bool
    votes: tuple[Vote, ...]  # strongest first; what rules it out before everything

    @property
    def weights(self) -> dict[str, float]:
        """The weight of each rule that spoke."""
        return {vote.rule: vote.weight for vote in self.votes}


def rank(talk: Consultation | State, knowledge: Knowledge) -> tuple[Standing, ...]:
    """Every method, the best first and what is ruled out last."""
    standings = [standing("method", method, talk) for method in knowledge.methods]
    order = {method: place for place, method in enumerate(knowledge.methods)}
    return tuple(sorted(standings, key=lambda one: (one.ruled_out, -one.score, order[one.method])))


def standing(kind: str, subject: str, talk: Consultation | State) -> Standing:
    """Where one subject of a kind stands that rules favour and rule out: a method, a pace, or a cause."""
    votes: dict[tuple[str, float], Vote] = {}
    for value in talk.values(kind, "favour", subject):
        key = Fact(kind, "favour", subject, value).key
        for firing in talk.concluding(key):
            weight = float(value)
            votes.setdefault((firing.rule, weight), Vote(firing.rule, weight, key))
    score = sum(vote.weight for vote in votes.values())
    out = Fact(kind, "ruled_out", subject, "yes").key
    bans = {firing.rule: Vote(firing.rule, 0.0, out) for firing in talk.concluding(out)}
    in_order = [bans[name] for name in sorted(bans)]
    by_weight = sorted(votes.values(), key=lambda vote: (-abs(vote.weight), vote.rule))
    return Standing(subject, score, bool(bans), (*in_order, *by_weight))
