"""What kinds of thing a line is: the one place that arbitrates.

Each form of an act has a rank; the lowest wins and is answered first: danger; an answer to the open question; commands
and corrections; questions whose form says what they ask; a trouble; other questions; a deed; stock; a circumstance.
Facts make acts too: a told bad sign is a trouble, a told good one an observation, a deed a deed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from advisor.hearing.answering import Answer
from advisor.hearing.facts import things_in
from advisor.hearing.finding import Finder
from advisor.hearing.forms import ASK_FACT, ASK_IN_PASSING, QUESTIONS, Form, asked, forms, order, subject
from advisor.hearing.holding import HELD, names_stuff, tells_stock
from advisor.hearing.meanings import Concept
from advisor.hearing.questions import Asking, asking
from advisor.hearing.shapes import Asked, Fact, HeardDanger, HeardMaterial, Question
from advisor.hearing.spoken_of import COMMANDS, about
from advisor.hearing.to_hand import asks_of_stuff, asks_verdict, is_of_stuff, only_names_stuff
from advisor.records import dataclass

DANGER = 0
ANSWER = 10
ELSEWHERE = 37  # something of another world than ours, if the line names nothing of ours
GRAVE_TROUBLE = 41
TROUBLE = 60
ASK_MARKED = 61  # a question of no topic with its mark, behind a trouble it may be about
DEED = 72
OBSERVATION = 72
STOCK = 80
CIRCUMSTANCE = 82
TOLD = 95
#: What a line may be besides, if it only names stuff and asks to be told of it.
_ASIDES = frozenset({"stock", "circumstance", "observation", "off", "ask_fact", "what_if"})
_WEATHER = ("sign.weather", "sign.degrees")
_A_STATEMENT = 3  # words
_A_WORD = 12  # characters
#: A sign of one of these, told outside a question, goes before what is asked beside it; "dry" or "cold" does not.
_GRAVE = ("sign.smell", "sign.animals", "sign.plants", "sign.liquid", "sign.bucket")
_CIRCUMSTANCES = ("place.", "wish.", "household.", "limit.", "dislike.", "body.", "rule.", "climate.", "work.", "cost.")


@dataclass(frozen=True, slots=True)
class Reading:
    """What kinds of thing a line is, in the order of answers; what it is about; what it asks; its forms."""

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
    told = list(_told_acts(finder, facts, asks, materials))
    words = finder.line.words
    ranked: dict[str, int] = {}
    places: dict[str, int] = {}
    formed = ((form.act, _rank(finder, form, asks), words[form.start].start) for form in found)
    for act, rank, place in [*formed, *told]:
        ranked[act] = min(rank, ranked.get(act, rank))
        places[act] = min(place, places.get(act, place))
    if "circumstance" in ranked and _is_of_weather(finder, facts):
        ranked.pop("observation", None)
    other = {form.clause.start for form in found if form.act == "deed" or form.act in COMMANDS}
    if not {"swap", "correct"} & ranked.keys() and (
        tells_stock(finder, facts, asks, other)
        or (is_of_stuff(finder, facts) and "deed" not in ranked)
        or (only_names_stuff(finder) and not ranked.keys() - {"circumstance", "stock"})
    ):
        ranked["stock"] = STOCK
    if (
        "stock" in ranked
        and not finder.numbers
        and any(fact.name == "wish.without" and fact.stance == "told" for fact in facts)
    ):
        ranked.pop("stock")  # "I'm vegan so no poo"
    only_stuff = all(rank >= STOCK for rank in ranked.values())
    if only_stuff and not open_question.question and asks_of_stuff(finder, facts):
        ranked = {"ask_material": ASK_MARKED}
    if not open_question.question and not ranked.keys() - _ASIDES and asks_verdict(finder, facts):
        ranked = {"ask_material": ASK_MARKED}
    if not ranked.keys() - QUESTIONS:
        ranked |= _by_form(finder, found, asks, ranked)
    if dangers:
        ranked["danger"] = DANGER
    questions = tuple(asked(finder, every, materials))
    _leave_out_asides(ranked, other=bool(facts or materials) or answer.fits)
    if answer.fits and not dangers and not COMMANDS & ranked.keys():
        ranked["answer"] = ANSWER
    if not ranked and _is_gibberish(finder):
        ranked["off"] = TOLD
    acts = _vetoed(ranked, places)
    if not questions and acts and acts[0] in QUESTIONS:
        questions = (Question(acts[0], subject(finder), finder.line.text),)
    return Reading(acts, about(finder, acts, facts, open_question), questions, tuple(found))


def _rank(finder: Finder, form: Form, asks: Mapping[int, Asking]) -> int:
    """The rank of a form; a question of no topic that follows something told asks about that, and goes behind it."""
    loose = form.act in ("ask_fact", "ask_material") and not form.topic and form.rank >= ASK_FACT
    if not loose or not _tells(finder, asks, form.clause.start):
        return form.rank
    return ASK_MARKED if finder.line.sentences[form.clause.sentence].asks else ASK_IN_PASSING


def _tells(finder: Finder, asks: Mapping[int, Asking], end: int) -> bool:
    """Whether something is told before a word: a clause that does not ask, of some words."""
    return any(
        clause.start < end and not asks[clause.start] and clause.end - clause.start >= _A_STATEMENT
        for clause in finder.line.clauses
    )


def _by_form(
    finder: Finder, found: Sequence[Form], asks: Mapping[int, Asking], ranked: Mapping[str, int]
) -> dict[str, int]:
    """What is told where no fact was heard: of the soil, a trouble if a remedy is asked for, else what is seen."""
    passing = [form for form in found if form.act in QUESTIONS and ranked.get(form.act, 0) >= ASK_IN_PASSING]
    first_asked = min((start for start, how in asks.items() if how), default=len(finder.line.words))
    if (ranked and not passing) or not _tells(finder, asks, first_asked):
        return {}
    named = [str(hit.of) for clause in finder.line.clauses for hit in things_in(finder, clause)]
    stuff = any(not finder.things("compost", at) and not finder.things("soil", at) for at in finder.materials)
    if named and named[0] == "soil" and not stuff and not set(named) & {"heap", "compost", "plants", "bin", "worm bin"}:
        return {"ask_soil": TROUBLE}
    if any(form.act == "ask_how" for form in passing):
        return {"trouble": OBSERVATION - 1}
    told = {clause.start for clause in finder.line.clauses if asks[clause.start]}
    if not ranked and names_stuff(finder, told):
        return {"stock": STOCK}
    vessel = bool(set(named) & {"bin", "tumbler", "heap", "worm bin"}) and bool(finder.numbers)
    if not ranked and vessel and not finder.where("acts-saying"):
        return {"circumstance": CIRCUMSTANCE}
    pronoun = bool(finder.where("it"))
    return {"observation": OBSERVATION} if not ranked and (named or pronoun) else {}


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


def _told_acts(
    finder: Finder, facts: Sequence[Fact], asks: Mapping[int, Asking], materials: Sequence[HeardMaterial]
) -> Iterator[tuple[str, int, int]]:
    """Each act that facts make, with its rank and where the fact stands."""
    concepts = finder.vocabulary.concepts
    words = finder.line.words
    first_asked = next((words[start].start for start, how in asks.items() if how), None)
    did = _begins_with_deed(finder, facts)
    starts = [(words[clause.start].start, asks[clause.start]) for clause in finder.line.clauses]
    for fact in facts:
        if fact.name == "sign.degrees" and fact.stance in ("told", "past"):
            yield "observation", OBSERVATION, fact.start
        concept = concepts.get(fact.concept)
        if (
            concept is None
            or fact.name.startswith("material.")
            or any(one.start <= fact.start and fact.end <= one.end for one in materials)
        ):
            continue  # "weeds" that there is a barrow of are no weeds that sprout
        held = (_is_held(fact, concept) and names_stuff(finder, set())) or (
            is_of_stuff(finder, facts) and fact.name.startswith("sign.")
        )
        if concept.deed and (fact.name, fact.value) in concept.facts:
            if fact.stance == "told":
                yield "deed", DEED, fact.start
        elif fact.name.startswith(_CIRCUMSTANCES):
            if fact.stance in ("told", "denied"):
                yield "circumstance", CIRCUMSTANCE, fact.start
        elif fact.stance == "told" and _is_bad(concept, fact):
            inside = next((how for start, how in reversed(starts) if start <= fact.start), "")
            first = not inside and (first_asked is None or fact.start < first_asked)
            if held:
                yield "trouble", STOCK + 1, fact.start
            elif did and (fact.name not in _GRAVE or _is_over(finder, fact)):
                yield "trouble", DEED + 1, fact.start
            else:
                yield "trouble", GRAVE_TROUBLE if fact.name in _GRAVE and first else TROUBLE, fact.start
        elif fact.stance == "told" or (fact.stance == "denied" and fact.name.startswith("sign.")):
            yield "observation", STOCK + 1 if held else OBSERVATION, fact.start


def _is_held(fact: Fact, concept: Concept) -> bool:
    """Whether a sign only says what there is: "mostly grass" tells of a mix only in a heap."""
    return fact.name in HELD or (fact.name == "sign.mix" and any(name in HELD for name, _ in concept.facts))


def _is_bad(concept: Concept, fact: Fact) -> bool:
    """Whether a fact tells of a trouble: a bad sign, or what the denial of a good one states ("not hot" is cold)."""
    pair = (fact.name, fact.value)
    if pair in concept.facts or not concept.facts:
        return concept.bad
    return pair in concept.lacking or not concept.bad


def _begins_with_deed(finder: Finder, facts: Sequence[Fact]) -> bool:
    """Whether a line tells first what was done, so that what was seen then is told in passing."""
    words = finder.line.words
    first = finder.line.clauses[0] if finder.line.clauses else None
    if first is None or any(
        finder.things("acts-did", at) for at in range(first.start, min(first.start + 3, first.end))
    ):
        return first is not None
    concepts = finder.vocabulary.concepts
    end = words[first.end - 1].end
    return any(
        fact.start < end and fact.stance == "told" and fact.concept in concepts and concepts[fact.concept].deed
        for fact in facts
    )


def _is_over(finder: Finder, fact: Fact) -> bool:
    """Whether a sign is told as what was then: "it smelled a bit sour", "had gone dusty"."""
    return any(
        word.form in ("was", "were", "had", "smelled", "smelt", "stank", "looked", "felt")
        for word in finder.line.words
        if fact.start - _A_WORD <= word.start < fact.end
    )


def _is_of_weather(finder: Finder, facts: Sequence[Fact]) -> bool:
    """Whether all signs of a line are of weather, and it names nothing that rots: how hot the summer is."""
    if all(fact.name == "sign.degrees" for fact in facts):
        return True
    signs = [fact for fact in facts if fact.name.startswith("sign.")]
    degrees = {(fact.start, fact.end) for fact in signs if fact.name == "sign.degrees"}
    weather = all(fact.name in _WEATHER or (fact.start, fact.end) in degrees for fact in signs)
    return weather and not any(
        str(hit.of) != "weather" for one in finder.line.clauses for hit in things_in(finder, one)
    )


def _leave_out_asides(ranked: dict[str, int], *, other: bool) -> None:
    """Take away what is only said in passing where a line tells or asks something of ours.

    A greeting, something from elsewhere, "that is all".
    """
    if "off" in ranked and ((other and ranked["off"] == ELSEWHERE) or (len(ranked) > 1 and ranked["off"] >= STOCK)):
        ranked.pop("off")
    if ranked.get("leave", 0) >= STOCK and (other or len(ranked) > 1):
        ranked.pop("leave")


def _is_gibberish(finder: Finder) -> bool:
    """Whether a line holds no word of English at all."""
    english = finder.vocabulary.english
    return not any(english.is_ordinary(word.form) for word in finder.line.words if not word.mark)


def _vetoed(ranked: Mapping[str, int], places: Mapping[str, int]) -> tuple[str, ...]:
    """The acts in order of rank, without those that a stronger one of the same kind takes the place of."""
    acts = sorted(ranked, key=lambda act: (ranked[act], places.get(act, 0), act))
    asks = [act for act in acts if act in QUESTIONS]
    if len(asks) > 1:
        acts = [act for act in acts if act not in asks or act == asks[0] or ranked[act] < ASK_IN_PASSING]
    if "trouble" in acts and "observation" in acts:
        acts.remove("observation")
    return tuple(acts)
