"""The next question: the one whose answers would settle most, weighed against how easy it is to answer.

For each open question the rules are run ahead with every answer it may get. From what each answer would add to each
cause follows how likely a person with that cause is to give it, and from that how much uncertainty over the causes an
answer takes away on average (the mutual information of cause and answer, in bits). That is divided by what the question
costs: a smell costs less than a squeezed handful, and that less than a thermometer or a laboratory.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping

from advisor.diagnosis.foresight import Foresight, Seen
from advisor.diagnosis.signs import GENERAL
from advisor.diagnosis.weighing import beliefs
from advisor.diagnosis.weighing import odds as odds_of
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Condition, Value
from advisor.knowledge.shapes import Attribute, Question
from advisor.records import dataclass

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
    signs: Mapping[str, tuple[Value, ...]],
    seen: Seen,
    belief: Mapping[str, float],
    foresight: Foresight,
    knowledge: Knowledge,
    *,
    passing_over: Collection[str] = (),
) -> tuple[Prospect, ...]:
    """The open questions worth asking, the best first. Equal ones keep the order of rules/sign-questions.toml.

    Args:
        passing_over: attributes of `sign` that are not to be asked.
    """
    found = []
    for question, conditions in foresight.questions:
        attribute = question.attribute.partition(".")[2]
        if attribute in passing_over or not is_open(attribute, signs) or not _fits(conditions, signs):
            continue
        declared = knowledge.kinds["sign"].attributes[attribute]
        bits = _bits(attribute, declared, belief, seen, foresight)
        if bits >= LEAST_BITS:
            found.append(Prospect(question, bits))
    return tuple(sorted(found, key=lambda prospect: -prospect.worth))


def is_open(attribute: str, signs: Mapping[str, tuple[Value, ...]]) -> bool:
    """Whether there is something to ask: nothing is told, or only in general ("it stinks")."""
    return attribute not in signs or (attribute in GENERAL and signs[attribute] == (GENERAL[attribute][0],))


def belief_in(seen: Seen, causes: Iterable[str]) -> dict[str, float]:
    """How likely each of the causes is; those that are ruled out are left out."""
    return beliefs({cause: seen.favour.get(cause, 0.0) for cause in causes if cause not in seen.ruled_out})


def _fits(conditions: tuple[Condition, ...], signs: Mapping[str, tuple[Value, ...]]) -> bool:
    """Whether a question is worth asking of this kind of compost; unless told otherwise it is an open heap."""
    told = {"method": ("open-heap",), **signs}
    return all(condition.met_by(told.get(condition.attribute, ())) for condition in conditions)


def _bits(attribute: str, declared: Attribute, belief: Mapping[str, float], seen: Seen, foresight: Foresight) -> float:
    answers: tuple[Value, ...] = tuple(declared.words) or READINGS
    added = [foresight.further(seen, attribute, answer).favour for answer in answers]
    touched = {cause for each in added for cause in each if cause in belief}
    even = 1 / len(answers)
    # Causes that no answer touches answer alike, so they count as one.
    shares = [(1 - sum(belief[cause] for cause in touched), [even] * len(answers))]
    for cause in sorted(touched):
        odds = [odds_of(each.get(cause, 0.0)) for each in added]
        total = sum(odds)
        given = [(1 - _OFF_THE_MARK) * one / total + _OFF_THE_MARK * even for one in odds]
        shares.append((belief[cause], given))
    bits = 0.0
    for place in range(len(answers)):
        overall = sum(share * given[place] for share, given in shares)
        bits += sum(share * given[place] * math.log2(given[place] / overall) for share, given in shares)
    return max(0.0, bits)
