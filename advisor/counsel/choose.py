"""Choosing a method: the rules favour and rule out, one plain step here ranks what is left.

A score is the sum of the weights of the rules that spoke, each rule counted once however many facts it fired on. What
any rule ruled out is out, whatever its score. A dead heat goes to the method named first in rules/methods.toml.
"""

from __future__ import annotations

from dataclasses import dataclass

from advisor.inference.engine import Consultation
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge


@dataclass(frozen=True, slots=True)
class Vote:
    """A rule that spoke about a method; `weight` is 0 when it ruled it out."""

    rule: str
    weight: float
    key: str  # the fact it concluded


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a method stands."""

    method: str
    score: float
    ruled_out: bool
    votes: tuple[Vote, ...]  # strongest first; what rules it out before everything

    @property
    def weights(self) -> dict[str, float]:
        """The weight of each rule that spoke."""
        return {vote.rule: vote.weight for vote in self.votes}


def rank(talk: Consultation, knowledge: Knowledge) -> tuple[Standing, ...]:
    """Every method, the best first and what is ruled out last."""
    standings = [_standing(method, talk) for method in knowledge.methods]
    order = {method: place for place, method in enumerate(knowledge.methods)}
    return tuple(sorted(standings, key=lambda one: (one.ruled_out, -one.score, order[one.method])))


def _standing(method: str, talk: Consultation) -> Standing:
    votes: dict[tuple[str, float], Vote] = {}
    for value in talk.values("method", "favour", method):
        key = Fact("method", "favour", method, value).key
        for firing in talk.concluding(key):
            weight = float(value)
            votes.setdefault((firing.rule, weight), Vote(firing.rule, weight, key))
    score = sum(vote.weight for vote in votes.values())
    out = Fact("method", "ruled_out", method, "yes").key
    bans = {firing.rule: Vote(firing.rule, 0.0, out) for firing in talk.concluding(out)}
    by_weight = sorted(votes.values(), key=lambda vote: (-abs(vote.weight), vote.rule))
    return Standing(method, score, bool(bans), (*bans.values(), *by_weight))
