"""What kinds of thing a line is, and what it is about: the one place that arbitrates.

Each form of an act has a rank; the lowest wins and is answered first. Facts make acts too: a told bad sign is a trouble,
a told good one an observation, a deed a deed, a material with an amount is stock.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.hearing.cutting import Clause
from advisor.hearing.facts import things_in
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.questions import Asking, asking
from advisor.hearing.shapes import Asked, Fact, HeardDanger, HeardMaterial
from advisor.hearing.vocabulary import Frame

Forms = dict[int, list[str]]

DANGER = 0
ANSWER = 10
ASK_MATERIAL = 45
TROUBLE = 60
ASK_FACT = 66
STOCK = 80
DEED = 74
OBSERVATION = 76
CIRCUMSTANCE = 90

_COMMANDS = frozenset({"undo", "redo", "save", "load", "units", "help", "start_over", "leave", "off"})
#: What is about nothing of the trade unless a thing is named.
_ABOUT_NOTHING = _COMMANDS | {"correct"}
_VESSELS = ("worm bin", "fermented bucket", "tumbler", "leaf heap", "trench", "bin")


def acts_of(
    finder: Finder,
    facts: Sequence[Fact],
    materials: Sequence[HeardMaterial],
    dangers: Sequence[HeardDanger],
    options: Sequence[int],
    asked: Asked,
) -> tuple[tuple[str, ...], str, Forms]:
    """The acts of a line in the order in which they are answered, what it is about, and the forms found by clause."""
    ranked: dict[str, int] = {}
    forms: Forms = {}

    def note(act: str, rank: int) -> None:
        ranked[act] = min(rank, ranked.get(act, rank))

    asks: dict[int, Asking] = {clause.start: asking(finder.line, clause) for clause in finder.line.clauses}
    for clause in finder.line.clauses:
        for frame, said in _frames(finder, clause, asks[clause.start], facts):
            note(frame.act, frame.rank)
            forms.setdefault(clause.start, []).append(f"{frame.act} {frame.rank}: {said}")
        if asks[clause.start] and not any(one.split()[0] in _QUESTIONS for one in forms.get(clause.start, ())):
            act, rank = _plain_question(finder, clause, asks[clause.start], materials)
            note(act, rank)
            forms.setdefault(clause.start, []).append(f"{act} {rank}")
    _by_facts(finder, facts, materials, asks, note)
    if dangers:
        note("danger", DANGER)
    question = any(act in _QUESTIONS and rank < ASK_FACT for act, rank in ranked.items())
    if (
        (asked.question or asked.options)
        and not dangers
        and (options or not question)
        and not _COMMANDS & ranked.keys()
    ):
        note("answer", ANSWER)
    acts = _vetoed(ranked)
    return acts, _about(finder, acts, facts, asked), forms


_QUESTIONS = frozenset(
    [
        "ask_material",
        "ask_fact",
        "ask_how",
        "ask_why",
        "ask_ready",
        "ask_soil",
        "ask_use",
        "ask_plan",
        "ask_year",
        "ask_what_now",
        "what_if",
        "swap",
    ]
)


def _frames(finder: Finder, clause: Clause, asks: Asking, facts: Sequence[Fact]) -> list[tuple[Frame, str]]:
    found: list[tuple[Frame, str]] = []
    whole = len({one.sentence for one in finder.line.clauses}) == 1 and len(finder.line.clauses) == 1
    for hit in finder.hits(finder.vocabulary.frame_index, clause.start, clause.end):
        frame = hit.of
        if not isinstance(frame, Frame) or (frame.asks and not asks):
            continue
        if frame.where == "start" and not _at_start(finder, clause, hit):
            continue
        if frame.where == "whole" and not (whole and _at_start(finder, clause, hit) and hit.end >= clause.end - 1):
            continue
        if frame.unless and finder.stands(frame.unless, clause.start, clause.end):
            continue
        if not _has(frame.needs, finder, clause, facts):
            continue
        found.append((frame, finder.line.said(hit.start, hit.end)))
    return found


_LEADS = frozenset(
    [
        "so",
        "and",
        "but",
        "or",
        "well",
        "right",
        "ok",
        "okay",
        "now",
        "then",
        "please",
        "hi",
        "hello",
        "hey",
        "also",
        "just",
        "oh",
        "um",
        "er",
        "hmm",
        "sorry",
        "yes",
        "no",
        "yeah",
        "no,",
        "actually",
        "can",
        "could",
        "would",
        "you",
        "we",
        "us",
        "i",
        "let",
    ]
)


def _at_start(finder: Finder, clause: Clause, hit: Hit) -> bool:
    return all(word.mark or word.form in _LEADS for word in finder.line.words[clause.start : hit.start])


def _has(needs: str, finder: Finder, clause: Clause, facts: Sequence[Fact]) -> bool:
    if not needs:
        return True
    if needs == "material":
        return any(clause.start <= at < clause.end for at in finder.materials)
    if needs == "number":
        return any(clause.start <= at < clause.end for at in finder.numbers)
    if needs == "sign":
        words = finder.line.words
        return any(words[clause.start].start <= fact.start <= words[clause.end - 1].end for fact in facts)
    return any(finder.things(needs, at) for at in range(clause.start, clause.end))


def _plain_question(
    finder: Finder, clause: Clause, asks: Asking, materials: Sequence[HeardMaterial]
) -> tuple[str, int]:
    """What a question of no known form asks: of a material, why, how, or a fact."""
    forms = [word.form for word in finder.line.words[clause.start : clause.end] if not word.mark]
    named = any(clause.start <= at < clause.end for at in finder.materials)
    if asks == "why":
        return "ask_why", ASK_FACT
    if named and len(forms) <= 4:
        return "ask_material", ASK_MATERIAL
    return "ask_fact", ASK_FACT


def _by_facts(
    finder: Finder,
    facts: Sequence[Fact],
    materials: Sequence[HeardMaterial],
    asks: Mapping[int, Asking],
    note: object,
) -> None:
    assert callable(note)
    concepts = finder.vocabulary.concepts
    for fact in facts:
        concept = concepts.get(fact.concept)
        if fact.name == "sign.degrees" and fact.stance in ("told", "past"):
            note("observation", OBSERVATION)
        if concept is None:
            continue
        if concept.deed:
            if fact.stance == "told":
                note("deed", DEED)
        elif fact.name.startswith(("place.", "wish.", "household.", "limit.", "body.")):
            if fact.stance in ("told", "denied"):
                note("circumstance", CIRCUMSTANCE)
        elif fact.stance == "told" and concept.bad:
            note("trouble", TROUBLE)
        elif fact.stance == "told" or (fact.stance == "denied" and fact.name.startswith("sign.")):
            note("observation", OBSERVATION)
    told = [one for one in materials if one.stance == "told"]
    questions = [start for start, how in asks.items() if how]
    if told and len(questions) < len(asks):
        amounts = any(finder.things("amount", at) for at in range(len(finder.line.words)))
        having = any(finder.things("having", at) for at in range(len(finder.line.words)))
        if amounts or having or len(told) > 1:
            note("stock", STOCK)


def _vetoed(ranked: Mapping[str, int]) -> tuple[str, ...]:
    """The acts in order of rank, without those that a stronger one of the same kind takes the place of."""
    acts = sorted(ranked, key=lambda act: (ranked[act], act))
    specific = [act for act in acts if act in _QUESTIONS and act != "ask_fact"]
    if specific and ranked.get("ask_fact", 0) >= ASK_FACT:
        acts = [act for act in acts if act != "ask_fact"]
    if "trouble" in acts and "observation" in acts:
        acts.remove("observation")
    return tuple(acts)


def _about(finder: Finder, acts: Sequence[str], facts: Sequence[Fact], asked: Asked) -> str:
    """Which thing a line is about: the vessel that ails before one that is told in passing."""
    first = acts[0] if acts else ""
    named: list[str] = []
    for clause in finder.line.clauses:
        named += [str(hit.of) for hit in things_in(finder, clause)]
    known = set(named)
    if first in _COMMANDS:
        return next((vessel for vessel in (*_VESSELS, "heap") if vessel in known), "none")
    if first == "ask_soil" and "soil" in known:
        return "soil"
    if first in ("ask_use", "ask_ready") and not known & {"worm bin", "fermented bucket"}:
        return "soil" if "soil" in known and first == "ask_use" and "compost" not in known else "compost"
    for vessel in _VESSELS:
        if vessel in known:
            return vessel
    for thing in ("heap", "compost", "soil", "plants", "animals"):
        if thing in known:
            return thing
    if asked.about:
        return asked.about
    if first in ("ask_soil",):
        return "soil"
    if first in ("circumstance",):
        return "household"
    if first in _ABOUT_NOTHING or not acts:
        return "none"
    return "heap"
