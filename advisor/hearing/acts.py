"""What kinds of thing a line is: the one place that arbitrates.

Each form of an act has a rank; the lowest wins and is answered first: danger; an answer to the open question; commands and
corrections; questions whose form says what they ask; a trouble; other questions; a deed; stock; a circumstance.
Facts make acts too: a told bad sign is a trouble, a told good one an observation, a deed a deed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from advisor.hearing.answering import Answer
from advisor.hearing.finding import Finder
from advisor.hearing.forms import ASK_IN_PASSING, QUESTIONS, Form, asked, forms, order
from advisor.hearing.holding import tells_stock
from advisor.hearing.questions import Asking, asking
from advisor.hearing.shapes import Asked, Fact, HeardDanger, HeardMaterial, Question
from advisor.hearing.spoken_of import COMMANDS, about

DANGER = 0
ANSWER = 10
GRAVE_TROUBLE = 41
TROUBLE = 60
DEED = 72
OBSERVATION = 72
STOCK = 80
CIRCUMSTANCE = 82
TOLD = 95
#: A sign of one of these, told outside a question, goes before what is asked beside it; a bare "dry" or "cold" does not.
_GRAVE = ("sign.smell", "sign.animals", "sign.plants", "sign.liquid", "sign.bucket")
_CIRCUMSTANCES = ("place.", "wish.", "household.", "limit.", "dislike.", "body.", "rule.", "climate.", "work.", "cost.")


@dataclass(frozen=True, slots=True)
class Reading:
    """What kinds of thing a line is, in the order in which they are answered; what it is about; what it asks; its forms."""

    acts: tuple[str, ...]
    about: str
    questions: tuple[Question, ...]
    forms: tuple[Form, ...]


def acts_of(
    finder: Finder,
    facts: Sequence[Fact],
    materials: Sequence[HeardMaterial],
    dangers: Sequence[HeardDanger],
    answer: Answer,
    open_question: Asked,
) -> Reading:
    """The acts of a line."""
    asks = {clause.start: asking(finder.line, clause) for clause in finder.line.clauses}
    every = forms(finder, facts, asks)
    found = _arbitrated(every)
    told = list(_told_acts(finder, facts, asks))
    ranked: dict[str, int] = {}
    for act, rank in [*((form.act, form.rank) for form in found), *told]:
        ranked[act] = min(rank, ranked.get(act, rank))
    other = {form.clause.start for form in found if form.act == "deed" or form.act in COMMANDS}
    if not {"swap", "correct"} & ranked.keys() and tells_stock(finder, facts, asks, other):
        ranked["stock"] = STOCK
    if dangers:
        ranked["danger"] = DANGER
    questions = tuple(asked(finder, every, materials))
    if answer.fits and not dangers and not COMMANDS & ranked.keys():
        ranked["answer"] = ANSWER
    acts = _vetoed(ranked)
    if not acts and any(finder.things("heap", at) or finder.things("it", at) for at in range(len(finder.line.words))):
        acts = ("observation",)
    return Reading(acts, about(finder, acts, open_question), questions, tuple(found))


def _arbitrated(found: Sequence[Form]) -> list[Form]:
    """The forms that count: of the questions of one clause, the first in order."""
    kept: list[Form] = []
    for form in found:
        if form.act in QUESTIONS:
            rivals = [one for one in found if one.clause == form.clause and one.act in QUESTIONS]
            if form is not min(rivals, key=order):
                continue
        kept.append(form)
    return kept


def _told_acts(finder: Finder, facts: Sequence[Fact], asks: Mapping[int, Asking]) -> Iterator[tuple[str, int]]:
    concepts = finder.vocabulary.concepts
    starts = [(finder.line.words[clause.start].start, asks[clause.start]) for clause in finder.line.clauses]
    for fact in facts:
        if fact.name == "sign.degrees" and fact.stance in ("told", "past"):
            yield "observation", OBSERVATION
        concept = concepts.get(fact.concept)
        if concept is None:
            continue
        if concept.deed:
            if fact.stance == "told":
                yield "deed", DEED
        elif fact.name.startswith(_CIRCUMSTANCES):
            if fact.stance in ("told", "denied"):
                yield "circumstance", CIRCUMSTANCE
        elif fact.stance == "told" and concept.bad:
            inside = next((how for start, how in reversed(starts) if start <= fact.start), "")
            yield "trouble", GRAVE_TROUBLE if fact.name in _GRAVE and not inside else TROUBLE
        elif fact.stance == "told" or (fact.stance == "denied" and fact.name.startswith("sign.")):
            yield "observation", OBSERVATION


def _vetoed(ranked: dict[str, int]) -> tuple[str, ...]:
    """The acts in order of rank, without those that a stronger one of the same kind takes the place of."""
    acts = sorted(ranked, key=lambda act: (ranked[act], act))
    asks = [act for act in acts if act in QUESTIONS]
    if len(asks) > 1:
        acts = [act for act in acts if act not in asks or act == asks[0] or ranked[act] < ASK_IN_PASSING]
    if "trouble" in acts and "observation" in acts:
        acts.remove("observation")
    return tuple(acts)
