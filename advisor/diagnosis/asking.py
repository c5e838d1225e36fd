"""The next question: the one whose answers would settle most, weighed against how easy it is to answer.

For each open question the rules are run ahead with every answer it may get. From what each answer would add to each
cause follows how likely a person with that cause is to give it, and from that how much uncertainty over the causes an
answer takes away on average (the mutual information of cause and answer, in bits). That is divided by what the question
costs: a smell costs less than a squeezed handful, and that less than a thermometer or a laboratory.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from advisor.diagnosis.foresight import Foresight, Seen
from advisor.diagnosis.weighing import ODDS_A_POINT, likelihoods
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Condition, Value, parse
from advisor.knowledge.shapes import Attribute, Question

#: What a question costs by its ease, 1 (seen or smelt at once) to 5 (needs measuring). Our estimate.
COST = {1: 1.0, 2: 1.15, 3: 1.5, 4: 2.0, 5: 3.0}
#: Readings tried for a question that is answered with a number, in °C.
READINGS = (15.0, 50.0, 75.0)
#: Questions that would settle less than this, in bits, are not worth a person's time.
LEAST_BITS = 0.02
#: Of those with a cause, this share answer a question as if they had none.
_OFF_THE_MARK = 0.15


@dataclass(frozen=True, slots=True)
class Prospect:
    """An open question and what it is worth."""

    question: Question
    bits: float

    @property
    def worth(self) -> float:
        """Bits for what it costs to answer."""
        return self.bits / COST[self.question.ease]


def prospects(
    signs: Mapping[str, tuple[Value, ...]], seen: Seen, foresight: Foresight, knowledge: Knowledge
) -> tuple[Prospect, ...]:
    """The open questions worth asking, the best first. Equal ones keep the order of rules/sign-questions.toml."""
    belief = _belief(seen, knowledge)
    found = []
    for question in knowledge.sign_questions:
        attribute = question.attribute.partition(".")[2]
        if attribute in signs or not _fits(question, signs, knowledge):
            continue
        declared = knowledge.kinds["sign"].attributes[attribute]
        bits = _bits(attribute, declared, belief, seen, foresight)
        if bits >= LEAST_BITS:
            found.append(Prospect(question, bits))
    return tuple(sorted(found, key=lambda prospect: -prospect.worth))


def _belief(seen: Seen, knowledge: Knowledge) -> dict[str, float]:
    """How likely each cause is; when nothing is suspected, every cause that is not ruled out is as likely."""
    open_causes = [cause for cause in knowledge.notices["cause"] if cause not in seen.ruled_out]
    suspected = [(cause, seen.favour[cause]) for cause in open_causes if seen.favour.get(cause, 0.0) > 0]
    return likelihoods(suspected or [(cause, 0.0) for cause in open_causes])


def _fits(question: Question, signs: Mapping[str, tuple[Value, ...]], knowledge: Knowledge) -> bool:
    """Whether a question is worth asking of this kind of compost; unless told otherwise it is an open heap."""
    told = {"method": ("open-heap",), **signs}
    return all(_met(condition, told) for condition in _conditions(question, knowledge))


def _conditions(question: Question, knowledge: Knowledge) -> Iterator[Condition]:
    for text in question.when:
        yield parse(text, knowledge.kinds, {})


def _met(condition: Condition, signs: Mapping[str, tuple[Value, ...]]) -> bool:
    return any(all(test.holds(value) for test in condition.tests) for value in signs.get(condition.attribute, ()))


def _bits(attribute: str, declared: Attribute, belief: Mapping[str, float], seen: Seen, foresight: Foresight) -> float:
    answers: tuple[Value, ...] = tuple(declared.words) or READINGS
    if len(belief) < 2 or len(answers) < 2:
        return 0.0
    added = [foresight.further(seen, attribute, answer)[0] for answer in answers]
    given: list[dict[str, float]] = [{} for _ in answers]
    even = 1 / len(answers)
    for cause in belief:
        odds = [ODDS_A_POINT ** each.get(cause, 0.0) for each in added]
        total = sum(odds)
        for place, one in enumerate(odds):
            given[place][cause] = (1 - _OFF_THE_MARK) * one / total + _OFF_THE_MARK * even
    bits = 0.0
    for shares in given:
        overall = sum(belief[cause] * share for cause, share in shares.items())
        bits += sum(belief[cause] * share * math.log2(share / overall) for cause, share in shares.items())
    return max(0.0, bits)
