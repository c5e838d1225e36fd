"""Weighing causes: the rules speak for and against, one plain step here adds up, ranks, and says how it stands.

A score is the sum of the weights of the rules that spoke, each rule counted once however many signs it fired on.
Nothing here depends on the order of signs or rules; equal scores stay in the order of the rule files, and are told as
equal, never picked from.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from advisor.diagnosis.shapes import Verdict
from advisor.inference.engine import Consultation
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Cause

#: A cause stands from here on: one sign that speaks strongly, or several hints.
STANDS_FROM = 3.0
#: A cause that stands beside a likelier one has at least this share of its score.
SHARE_OF_BEST = 0.4
#: Two causes that exclude each other are tied when their scores differ by less.
TIE_WITHIN = 1.0
#: What stands is kept to so many, or the cure would bury the gardener.
STANDING_AT_MOST = 4


#: States of a heap that want an explanation, whatever harmless things are seen beside them.
TROUBLED = frozenset(
    {"wet", "dry", "rotting-airless", "cool", "too-hot", "unrotted", "raided", "harmful", "bad-bucket"}
)
#: Beside a trouble that stands, a harmless find is ranked as if it had so much less.
HARMLESS_YIELDS = 1.5
#: A cause is suspected in earnest from here on.
SUSPECTED_FROM = 2.0


@dataclass(frozen=True, slots=True)
class Voice:
    """A rule that spoke about a cause; `weight` is 0 when it ruled it out."""

    rule: str
    weight: float
    key: str  # the fact it concluded


@dataclass(frozen=True, slots=True)
class Weighed:
    """A cause and what was said of it; the strongest voices first."""

    cause: str
    score: float
    ruled_out: bool
    voices: tuple[Voice, ...]

    @property
    def supporters(self) -> frozenset[str]:
        """The rules that spoke for it."""
        return frozenset(voice.rule for voice in self.voices if voice.weight > 0)


@dataclass(frozen=True, slots=True)
class Standing:
    """How the causes stand together."""

    verdict: Verdict
    ranked: tuple[Weighed, ...]  # suspicions only: something speaks for each, and nothing rules it out
    stands: tuple[str, ...]  # to act on; several when they come together
    rivals: tuple[str, ...]  # those that are as likely and exclude each other, if tied
    troubled: bool  # something is amiss that a harmless find would not explain


def causes_of(knowledge: Knowledge) -> Mapping[str, Cause]:
    """Every cause by name, in the order of the rule files."""
    return {name: notice for name, notice in knowledge.notices["cause"].items() if isinstance(notice, Cause)}


def weigh(talk: Consultation, knowledge: Knowledge) -> Standing:
    """Rank the causes by what the rules said of them."""
    causes = causes_of(knowledge)
    weighed = [_weighed(name, talk) for name in causes]
    return stand(weighed, causes, frozenset(str(value) for value in talk.values("state", "found")))


def _weighed(cause: str, talk: Consultation) -> Weighed:
    voices: dict[tuple[str, float], Voice] = {}
    for value in talk.values("cause", "favour", cause):
        key = Fact("cause", "favour", cause, value).key
        for firing in talk.concluding(key):
            voices.setdefault((firing.rule, float(value)), Voice(firing.rule, float(value), key))
    out = Fact("cause", "ruled_out", cause, "yes").key
    bans = {firing.rule: Voice(firing.rule, 0.0, out) for firing in talk.concluding(out)}
    by_weight = sorted(voices.values(), key=lambda voice: (-abs(voice.weight), voice.rule))
    score = sum(voice.weight for voice in by_weight)
    return Weighed(cause, score, bool(bans), (*bans.values(), *by_weight))


def stand(weighed: Sequence[Weighed], causes: Mapping[str, Cause], states: frozenset[str]) -> Standing:
    """The verdict: causes that often come together stand together; two that explain one sign are rivals.

    A harmless find (threads, small animals) stands beside whatever else is found, and settles nothing while there is a
    trouble that it does not explain.
    """
    order = {name: place for place, name in enumerate(causes)}
    suspects = [one for one in weighed if not one.ruled_out and one.supporters and one.score > 0]
    yields = HARMLESS_YIELDS if any(_is_strong_trouble(one, causes) for one in suspects) else 0.0

    def place(one: Weighed) -> tuple[float, int]:
        return (yields if causes[one.cause].find else 0.0) - one.score, order[one.cause]

    ranked = tuple(sorted(suspects, key=place))
    strong = [one for one in ranked if one.score >= STANDS_FROM]
    finds = [one for one in strong if causes[one.cause].find]
    strong = [one for one in strong if not causes[one.cause].find]
    troubled = is_troubled(states, {one.cause: one.score for one in ranked}, causes)
    if not strong:
        verdict: Verdict = "normal" if finds and not troubled else "unsettled"
        return Standing(verdict, ranked, _named(finds), (), troubled)
    best = strong[0]
    rivals = [one for one in strong[1:] if best.score - one.score < TIE_WITHIN and _exclude(best, one, causes)]
    if rivals:
        return Standing("tied", ranked, (), (best.cause, *(one.cause for one in rivals)), troubled)
    stands = [best]
    for one in strong[1:]:
        if one.score >= SHARE_OF_BEST * best.score and not any(_exclude(one, other, causes) for other in stands):
            stands.append(one)
    kept = sorted([*stands, *finds], key=place)
    verdict = "normal" if all(causes[one.cause].normal for one in kept) else "settled"
    return Standing(verdict, ranked, _named(kept), (), troubled)


def _is_strong_trouble(one: Weighed, causes: Mapping[str, Cause]) -> bool:
    return one.score >= STANDS_FROM and not causes[one.cause].find


def is_troubled(states: frozenset[str], scores: Mapping[str, float], causes: Mapping[str, Cause]) -> bool:
    """Whether there is a trouble that a harmless find would not explain."""
    suspected = any(score >= SUSPECTED_FROM and not causes[cause].find for cause, score in scores.items())
    return suspected or bool(TROUBLED & states)


def _named(weighed: Sequence[Weighed]) -> tuple[str, ...]:
    return tuple(one.cause for one in weighed[:STANDING_AT_MOST])


def _exclude(one: Weighed, other: Weighed, causes: Mapping[str, Cause]) -> bool:
    """Whether two causes explain the same sign, and do not often come together."""
    if together(one.cause, other.cause, causes):
        return False
    return bool(one.supporters & other.supporters)


def together(one: str, other: str, causes: Mapping[str, Cause]) -> bool:
    """Whether two causes often come together, as the rule files say of either."""
    return other in causes[one].beside or one in causes[other].beside


def beliefs(scores: Mapping[str, float]) -> dict[str, float]:
    """Scores of all causes that are not ruled out, as shares of belief that add up to 1.

    Causes of which nothing speaks are kept in, faintly, for what nobody has mentioned may still be so. Used to choose a
    question and to say how sure a verdict is, never to choose a cause.
    """
    weights = {
        cause: float(ODDS_A_POINT**score) * (1.0 if score > 0 else UNMENTIONED) for cause, score in scores.items()
    }
    total = sum(weights.values())
    return {cause: weight / total for cause, weight in weights.items()}


#: How much likelier a point of score makes a cause. Our estimate: three points, which speak strongly, make it about
#: fifteen times as likely.
ODDS_A_POINT = 2.5
#: A cause that nothing speaks of, against one that has no score but is suspected. Our estimate.
UNMENTIONED = 0.05
#: A verdict is sure when the causes that stand hold this share of belief. Our estimate.
SURE_FROM = 0.75
