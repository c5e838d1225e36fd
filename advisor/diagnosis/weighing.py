"""Weighing causes: the rules speak for and against, one plain step here adds up, ranks, and says how it stands.

A rule says how strongly a sign speaks, in levels: 1 a hint, 2 a good sign, 3 strong, 4 very strong, 5 as good as proof.
The score of a cause adds up what those levels are worth, each rule counted once however many signs it fired on.
Nothing here depends on the order of signs or rules; equal scores go to the cause with the strongest single sign, then
stay in the order of the rule files, and are told as equal.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from advisor.counsel.choose import Vote, standing
from advisor.diagnosis.shapes import Verdict
from advisor.inference.engine import Consultation
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Cause
from advisor.records import dataclass

#: What each level of evidence is worth. Each is worth more than the level below it and a hint together, so that a
#: stronger sign is never outranked by a weaker one with a hint. Our estimate.
POINTS = {0: 0.0, 1: 1.0, 2: 2.0, 3: 4.0, 4: 6.0, 5: 9.0}
#: A cause stands from here on: one sign that speaks strongly, two good ones, or several hints.
STANDS_FROM = POINTS[3]
#: What stands is kept to so many, or the cure would bury the gardener.
STANDING_AT_MOST = 4
#: States of a heap that need an explanation, whatever harmless things are seen beside them.
TROUBLED = frozenset(
    {
        "wet",
        "dry",
        "rotting-airless",
        "cool",
        "too-hot",
        "unrotted",
        "raided",
        "harmful",
        "bad-bucket",
        "worms-unwell",
        "hurt",
    }
)
#: What is seen, smelt and felt. The other attributes of a sign are circumstances, which need no explanation.
OBSERVED = frozenset(
    {
        *("smell", "warmth", "degrees", "moisture", "moisture_pct", "texture"),
        *("looks", "liquid", "animals", "plants", "progress", "effects", "danger"),
    }
)


@dataclass(frozen=True, slots=True)
class Thresholds:
    """Where a verdict turns, from rules/figures.toml.

    Attributes:
        second_share: a cause that stands beside a likelier one has at least this share of its points.
        tie_within: two causes that exclude each other are tied when their points differ by less.
        harmless_yields: beside a trouble that stands, a harmless find is ranked as if it had so many points less.
        explain_from: a thing seen that speaks at this level or above for a trouble needs an explanation.
    """

    second_share: float
    tie_within: float
    harmless_yields: float
    explain_from: float

    @classmethod
    def of(cls, knowledge: Knowledge) -> Thresholds:
        """The thresholds of a rule base."""
        share, tie, yields, explain = (
            knowledge.figures[name].typical
            for name in (
                "second-cause-share-pct",
                "causes-tied-within-points",
                "harmless-yields-points",
                "needs-explaining-from-level",
            )
        )
        return cls(share / 100, tie, yields, explain)


def points(level: float) -> float:
    """What a level of evidence is worth; negative where it speaks against. Levels run from -5 to 5."""
    return math.copysign(POINTS[round(abs(level))], level)


@dataclass(frozen=True, slots=True)
class Weighed:
    """A cause and what was said of it; the strongest voices first."""

    cause: str
    score: float
    ruled_out: bool
    voices: tuple[Vote, ...]

    @property
    def supporters(self) -> frozenset[str]:
        """The rules that spoke for it."""
        return frozenset(voice.rule for voice in self.voices if voice.weight > 0)

    @property
    def strongest(self) -> float:
        """The level of the strongest sign for it."""
        return max((voice.weight for voice in self.voices), default=0.0)

    @property
    def accounts_for(self) -> frozenset[str]:
        """The signs that speak for it."""
        return frozenset(sign for voice in self.voices if voice.weight > 0 for sign in voice.signs)


@dataclass(frozen=True, slots=True)
class Standing:
    """How the causes stand together."""

    verdict: Verdict
    ranked: tuple[Weighed, ...]  # suspicions only: something speaks for each, and nothing rules it out
    stands: tuple[str, ...]  # to act on; several when they come together
    rivals: tuple[str, ...]  # those that are as likely and exclude each other, if tied
    unexplained: frozenset[str] = frozenset()  # signs of trouble that nothing which stands accounts for

    @property
    def undecided(self) -> bool:
        """Whether no cause stands out."""
        return self.verdict in ("tied", "unsettled")


def causes_of(knowledge: Knowledge) -> Mapping[str, Cause]:
    """Every cause by name, in the order of the rule files."""
    return {name: notice for name, notice in knowledge.notices["cause"].items() if isinstance(notice, Cause)}


def weigh(talk: Consultation, knowledge: Knowledge) -> Standing:
    """Rank the causes by what the rules said of them."""
    causes = causes_of(knowledge)
    weighed = [_weighed(name, talk) for name in causes]
    troubled = [Fact("state", "found", "", value).key for value in talk.values("state", "found") if value in TROUBLED]
    return stand(
        weighed,
        causes,
        Thresholds.of(knowledge),
        frozenset(sign for key in troubled for sign in _signs_behind(key, talk)),
    )


def _weighed(cause: str, talk: Consultation) -> Weighed:
    found = standing("cause", cause, talk)
    voices = tuple(replace(vote, signs=_signs_of(vote, talk)) for vote in found.votes)
    score = sum(points(voice.weight) for voice in voices if voice.weight)
    return Weighed(cause, score, found.ruled_out, voices)


def _signs_of(vote: Vote, talk: Consultation) -> frozenset[str]:
    """Return the things seen, smelt and felt that a rule spoke on; nothing for a rule that ruled a cause out."""
    firings = (firing for firing in talk.concluding(vote.key) if vote.weight and firing.rule == vote.rule)
    return frozenset(sign for firing in firings for key in firing.matched for sign in _signs_behind(key, talk))


def _signs_behind(key: str, talk: Consultation) -> frozenset[str]:
    """The things seen, smelt and felt that a sign or a state rests on."""
    if talk.known[key].kind == "sign":
        return frozenset({key}) if talk.known[key].attribute in OBSERVED else frozenset()
    return frozenset(
        sign for firing in talk.concluding(key) for each in firing.matched for sign in _signs_behind(each, talk)
    )


def stand(
    weighed: Sequence[Weighed],
    causes: Mapping[str, Cause],
    thresholds: Thresholds,
    troubled: frozenset[str] = frozenset(),
) -> Standing:
    """The verdict: causes that often come together stand together; two that explain one sign are rivals.

    Nothing is wrong only where what stands is harmless and accounts for every sign that needs an explanation: those of
    `troubled`, and those that speak clearly for a trouble.
    """
    order = {name: place for place, name in enumerate(causes)}
    suspects = [one for one in weighed if not one.ruled_out and one.supporters and one.score > 0]
    yields = thresholds.harmless_yields if any(_is_strong_trouble(one, causes) for one in suspects) else 0.0

    def place(one: Weighed) -> tuple[float, float, int]:
        return (yields if causes[one.cause].find else 0.0) - one.score, -one.strongest, order[one.cause]

    ranked = tuple(sorted(suspects, key=place))
    strong = [one for one in ranked if one.score >= STANDS_FROM]
    finds = [one for one in strong if causes[one.cause].find]
    strong = [one for one in strong if not causes[one.cause].find]
    stands = strong[:1]
    if strong:
        best = strong[0]
        rivals = [
            one for one in strong[1:] if best.score - one.score < thresholds.tie_within and _exclude(best, one, causes)
        ]
        if rivals:
            return Standing("tied", ranked, (), (best.cause, *(one.cause for one in rivals)), troubled)
        for one in strong[1:]:
            if one.score >= thresholds.second_share * best.score and not any(
                _exclude(one, other, causes) for other in stands
            ):
                stands.append(one)
    kept = sorted([*stands, *finds], key=place)
    unexplained = (troubled | _clear_signs(suspects, causes, thresholds.explain_from)).difference(
        *(one.accounts_for for one in kept)
    )
    if kept and all(causes[one.cause].normal for one in kept):
        if not unexplained:
            return Standing("normal", ranked, _named(kept), ())
        return Standing("unsettled", ranked, _named(finds), (), unexplained)
    return Standing("settled" if kept else "unsettled", ranked, _named(kept), (), unexplained)


def best_guess(standing: Standing, causes: Mapping[str, Cause]) -> Standing:
    """The same where no more is asked: what ranks first is acted on, though it is no more than a guess.

    Where signs are unexplained, a trouble is guessed rather than something harmless that does not explain them.
    """
    likely = [one.cause for one in standing.ranked]
    amiss = [cause for cause in likely if not causes[cause].normal] if standing.unexplained else []
    if not standing.undecided or not likely:
        return standing
    return Standing("guessed", standing.ranked, ((amiss or likely)[0],), (), standing.unexplained)


def _clear_signs(suspects: Iterable[Weighed], causes: Mapping[str, Cause], level: float) -> frozenset[str]:
    """The signs that speak clearly for a trouble which is not ruled out."""
    return frozenset(
        sign
        for one in suspects
        if not causes[one.cause].normal
        for voice in one.voices
        if voice.weight >= level
        for sign in voice.signs
    )


def _is_strong_trouble(one: Weighed, causes: Mapping[str, Cause]) -> bool:
    return one.score >= STANDS_FROM and not causes[one.cause].normal


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


def odds(score: float) -> float:
    """How much likelier a score makes a cause, or an answer: by `ODDS_A_LEVEL` for each level it is worth."""
    return float(ODDS_A_LEVEL ** _levels(score))


def _levels(score: float) -> float:
    """A score in levels of evidence: what one sign of so many levels would be worth."""
    size = abs(score)
    below = max(level for level, worth in POINTS.items() if worth <= size)
    ends = POINTS.get(below + 1, POINTS[below] + 3)
    return math.copysign(below + (size - POINTS[below]) / (ends - POINTS[below]), score)


def beliefs(scores: Mapping[str, float]) -> dict[str, float]:
    """Scores of all causes that are not ruled out, as shares of belief that add up to 1.

    Causes of which nothing speaks are kept in, faintly, for what nobody has mentioned may still be so. Used to choose a
    question and to say how sure a verdict is, never to choose a cause.
    """
    weights = {cause: odds(score) * (1.0 if score > 0 else UNMENTIONED) for cause, score in scores.items()}
    total = sum(weights.values())
    return {cause: weight / total for cause, weight in weights.items()}


#: How much likelier a level of evidence makes a cause. Our estimate: a strong sign, of three levels, makes it about
#: fifteen times as likely.
ODDS_A_LEVEL = 2.5
#: A cause that nothing speaks of, against one that has no score but is suspected. Our estimate.
UNMENTIONED = 0.04
