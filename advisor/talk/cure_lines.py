"""A diagnosis as a short answer: what it is, what to do today, what to see and by when, what not to do.

Other causes, further remedies and reasons are kept back for "more" and "why".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.counsel.plan import Line
from advisor.counsel.wording import joined
from advisor.diagnosis.shapes import Cure, Diagnosis, Suspect
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.talk.saying import lower, upper

#: Of so many causes that may be meant each is named while none stands out.
_NAMED = 3
_DEEDS = 2
#: Remedies up to this order look after people, or are the safe first step where nothing is settled.
_SAFE_FIRST = 5
#: A cause is named beside the first if so large a part of its weight speaks for it. Our estimate.
_NEAR = 0.6


@dataclass(frozen=True, slots=True)
class CureLines:
    """A diagnosis in lines: the first answers; `shown` go below it; `kept` are told when more is asked for.

    `look` is of those shown what to look for and when, once the deeds are done.
    """

    first: str
    shown: tuple[Line, ...]
    kept: tuple[Line, ...]
    reasons: tuple[Line, ...]
    look: Line | None = None


def cure_lines(found: Diagnosis, knowledge: Knowledge) -> CureLines:
    """The lines of a diagnosis that has causes: first the deeds against the cause that is named first."""
    first = found.standing[0].cause if found.standing else ""
    cures = sorted(found.remedies, key=lambda cure: _later(cure, first, knowledge))
    deeds = _chosen(cures)
    others = [cure for cure in cures if cure not in deeds]
    look = _look(deeds)
    shown = [*_deeds(deeds), *([look] if look is not None else ()), *found.avoid[:1]]
    kept = [*(suspect.line for suspect in _others(found)), *_further(others), *found.avoid[1:], *_tells(found)]
    reasons = [suspect.line for suspect in (found.standing or _likely(found))]
    return CureLines(_first(found), tuple(shown), tuple(kept), tuple(reasons), look)


def _chosen(cures: Sequence[Cure]) -> list[Cure]:
    """The deeds that are told: the first, and the next; one with an amount, if the first has none."""
    first, rest = list(cures[:1]), list(cures[1:])
    if first and first[0].dose is None and first[0].look_again_days:
        rest.sort(key=lambda cure: cure.dose is None)
    return [*first, *rest[: _DEEDS - 1]]


def _later(cure: Cure, cause: str, knowledge: Knowledge) -> bool:
    """Whether a remedy comes after those against the first cause; what keeps somebody safe never does."""
    return knowledge.notices["remedy"][cure.remedy].order > _SAFE_FIRST and cause not in _treats(cure, knowledge)


def _treats(cure: Cure, knowledge: Knowledge) -> set[str]:
    """The causes for which the rules advise a remedy."""
    rules = [knowledge.rule(because.rule) for because in cure.line.why if because.rule]
    return {
        cause
        for rule in rules
        for condition in rule.when
        if (condition.kind, condition.attribute) == ("cause", "stands")
        for cause in condition.subjects
    }


def _first(found: Diagnosis) -> str:
    """What it is, in a sentence or two; two causes that may be meant are named as such."""
    standing = found.standing
    if found.verdict in ("tied", "unsettled") or not standing:
        named = [suspect.name for suspect in _likely(found)]
        return f"It may be {joined(named, 'or')}. {'Start with this.' if found.remedies else 'Tell me a little more.'}"
    said = upper(_said(standing[0]))
    if found.verdict == "normal":
        return f"Nothing is wrong. {said}"
    also = [suspect.name for suspect in standing[1:_NAMED]] if found.verdict == "settled" else []
    guess = "My best guess: " if found.verdict == "guessed" else ""
    return f"{guess}{lower(said) if guess else said}{f' Also: {joined(also)}.' if also else ''}"


def _said(suspect: Suspect) -> str:
    return f"{suspect.name}: {lower(suspect.line.text.removeprefix(f'{suspect.name}: '))}"


def _likely(found: Diagnosis) -> list[Suspect]:
    """Causes that may be meant: the first, and those that hardly less speaks for."""
    least = _NEAR * found.causes[0].score if found.causes else 0.0
    return [suspect for suspect in found.causes[:_NAMED] if suspect.score >= least]


def _others(found: Diagnosis) -> Iterator[Suspect]:
    yield from found.standing[1:]
    if found.verdict not in ("settled", "normal", "guessed"):
        yield from (suspect for suspect in _likely(found) if not suspect.stands)


def _deeds(cures: Sequence[Cure]) -> Iterator[Line]:
    """What to do today, and then."""
    for number, cure in enumerate(cures):
        provisos = "".join(f" {line.text}" for line in cure.provisos)
        lead = "Today" if not number else "Then"
        yield cure.line.model_copy(update={"text": f"{lead}: {cure.line.text}{provisos}"})


def _look(cures: Sequence[Cure]) -> Line | None:
    """What to see and by when, once for all the deeds."""
    if not cures or not cures[0].look_again_days:
        return None
    return Line(id="", text=f"{_when(cures[0])}: {cures[0].expect} If not: {cures[0].otherwise}", why=())


def _tells(found: Diagnosis) -> Iterator[Line]:
    """How to tell what is meant from its neighbours."""
    for suspect in (found.standing or _likely(found))[:_NAMED]:
        yield Line(id="", text=f"How to tell that it is {suspect.name}: {suspect.tell}", why=())


def _further(cures: Sequence[Cure]) -> Iterator[Line]:
    for cure in cures:
        provisos = "".join(f" {line.text}" for line in cure.provisos)
        yield cure.line.model_copy(update={"text": f"Also: {cure.line.text}{provisos} {_when(cure)}: {cure.expect}"})


def _when(cure: Cure) -> str:
    return "Tomorrow" if cure.look_again_days == 1 else f"In {cure.look_again_days} days"
