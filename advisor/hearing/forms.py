"""The forms of acts that stand in a line, clause by clause, and what is asked."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence

from advisor.hearing.contradicting import contradicts
from advisor.hearing.cutting import Clause, Line
from advisor.hearing.deciding import decided
from advisor.hearing.english import listed
from advisor.hearing.facts import VESSELS, things_in
from advisor.hearing.finding import Finder, Hit
from advisor.hearing.guessing import guesses
from advisor.hearing.making import TOPIC_RANK
from advisor.hearing.meanings import Frame, FramePart
from advisor.hearing.questions import Asking
from advisor.hearing.referring import REPLACED, refers_to
from advisor.hearing.shapes import Fact, HeardMaterial, Question
from advisor.records import dataclass

QUESTIONS = listed(
    "ask_material ask_fact ask_how ask_why ask_ready ask_soil ask_use ask_plan ask_year ask_what_now what_if swap"
)
CORRECT = 29
WHAT_IF = 40
ASK_MATERIAL, ASK_SOIL, ASK_USE, ASK_HOW, ASK_WHY, ASK_FACT, ASK_IN_PASSING = 45, 47, 48, 50, 50, 58, 73
REFERS = 57  # a question that asks of what was named before it
GUESS = 74  # at the cause of what is told, which goes first

#: How a topic ranks among the forms of its own clause.
TOPIC = 43
TOPIC_DRAWN = 41  # drawn from several parts of the line

#: What may stand before a form that begins its clause, and behind one that is the whole of it.
_LEADS = listed(
    "so and but or well right ok okay now then please hi hello hey also just oh um er hmm sorry yes no yeah actually "
    "oops can could would will you we us i let go ahead pls kindly whoops ah nah eh whoa aw kindly actually wait nope "
    "listen look lets"
)
_TAILS = listed(
    "please now thanks thank you then lol mate love would will ta that it cheers here ok okay again me for us this all "
    "you today friend dear instead first yes haha will only just so"
)
_PARTS = frozenset({",", "-", ";"})
#: A clause that is joined by one of these is no command.
_UNDER = listed("because since while whilst although though unless until before after if when which where who whenever")
#: Questions that may be about a subject that stands in another clause: "Two inches sand, three of clay. What is it?"
_OF_A_SUBJECT = listed("ask_fact ask_how ask_soil ask_use ask_why")
_SAYS = 3  # words: a call for help that is shorter names nothing
_SHORT = 5  # words: a question as short as this that only names something asks whether it may go in


@dataclass(frozen=True, slots=True)
class Form:
    """The form of an act that stands in a clause: the act, its rank, what it asks for, and the words."""

    act: str
    rank: int
    topic: str
    start: int
    said: str
    clause: Clause
    sets: int = 1  # of ways that it was drawn from


def forms(finder: Finder, facts: Sequence[Fact], asks: Mapping[int, Asking]) -> list[Form]:
    """Every form of an act in a line; of the forms of questions in one clause, those of the lowest rank."""
    found = [*_in_clauses(finder, asks), *_in_sentences(finder, asks), *_drawn(finder, asks)]
    found += _decided(finder, asks, facts)
    guessed = guesses(finder, facts, asks)
    found = [form for form in found if form.act not in QUESTIONS or not _is_part_of_guess(finder, form, asks, guessed)]
    against = None if guessed else contradicts(finder, facts, asks)
    if against is not None:
        meant = {"help", "units"} if finder.where("con-mistake") else {"help"}  # "sorry, litres. I typed gallons"
        found = [form for form in found if form.act not in meant]  # "what are you on about, it did heat up"
        found.append(Form("correct", CORRECT, "", against.start, "", against))
    for clause in finder.line.clauses:
        if not asks[clause.start]:
            continue
        if clause.start in guessed:
            found.append(Form("ask_why", GUESS, "", clause.start, "", clause))
            continue
        supposed = _supposed(finder, clause, asks)
        if supposed:
            found.append(Form("what_if", WHAT_IF, "", clause.start, supposed, clause))
        here = [form for form in found if form.clause == clause and form.act in QUESTIONS]
        if not here:
            here = [_plain(finder, clause, asks)]
            found += here
        act = "" if any(form.topic for form in here) else refers_to(finder, clause, facts, asks)
        best = min(here, key=order)
        if act and best.act in REPLACED and (best.act != act or best.rank > REFERS):
            found = [form for form in found if form not in here]
            here = [Form(act, REFERS, "", clause.start, "", clause)]
            found += here
        if _is_of_soil(finder, clause) and min(here, key=order).act in ("ask_fact", "ask_material", "ask_why"):
            found += [] if any(form.topic for form in here) else [Form("ask_soil", 44, "", clause.start, "", clause)]
    return found


def asked(finder: Finder, found: Sequence[Form], materials: Sequence[HeardMaterial]) -> Iterator[Question]:
    """What a line asks, a question for each clause that asks, in order."""
    words = finder.line.words
    for clause in finder.line.clauses:
        here = sorted((one for one in found if one.clause == clause and one.act in QUESTIONS), key=order)
        if not here:
            continue
        topic = next((one.topic for one in here if one.topic), "")
        if not topic and here[0].act in _OF_A_SUBJECT and here[0].rank != GUESS:
            topic = subject(finder)
        elif not topic and here[0].act == "ask_material" and subject(finder).startswith("soil"):
            topic = subject(finder)  # "compacted ground, would muck help it?"
        first, last = words[clause.start].start, words[clause.end - 1].end
        compost = {words[at].start for at in finder.materials if finder.things("compost", at)}
        named = tuple(one for one in materials if first <= one.start < last and one.start not in compost)
        yield Question(here[0].act, topic, finder.line.said(clause.start, clause.end), named)


def subject(finder: Finder) -> str:
    """What a line is about, by the topics that stand for a subject; empty if none is named, in whichever clause."""
    found = []
    for index in (finder.vocabulary.frame_index, finder.vocabulary.sentence_index):
        for sentence in finder.line.sentences:
            for hit in finder.hits(index, sentence.start, sentence.end):
                frame = hit.of
                if not isinstance(frame, Frame) or not frame.topic or frame.rank <= TOPIC_RANK:
                    continue
                if _fits(frame, finder, sentence.start, sentence.end):
                    found.append((frame.rank, hit.start - hit.end, frame.topic))
    return min(found)[2] if found else ""


def order(form: Form) -> tuple[int, int, int, int]:
    """Which of several questions in one clause is asked.

    One for a named fact before a looser form; of those, the one that more parts of the line speak for; then the longer.
    """
    rank = min(form.rank, TOPIC) if form.topic and form.rank <= TOPIC_RANK else form.rank
    if form.topic and form.sets > 1:
        rank = min(rank, TOPIC_DRAWN)
    return rank, -form.sets, -len(form.said), form.start


def _in_clauses(finder: Finder, asks: Mapping[int, Asking]) -> Iterator[Form]:
    for clause in finder.line.clauses:
        for hit in finder.hits(finder.vocabulary.frame_index, clause.start, clause.end):
            frame = hit.of
            if not isinstance(frame, Frame) or (frame.asks and not asks[clause.start]):
                continue
            if frame.act == "help" and hit.end - hit.start < _SAYS and len(finder.line.clauses) > 1:
                continue  # "Beginner. Budget 40. Help": what else is said says with what
            if frame.act == "leave" and finder.line.sentences[clause.sentence].asks:
                continue  # "so that's it, is it?"
            if frame.act == "correct" and (asks[clause.start] or _goes_on(finder, hit)):
                continue  # "am I meant to rip them?", "making one from a dustbin"
            if frame.where == "start" and not _at_start(finder, clause, hit):
                continue
            if frame.where == "whole" and not _is_whole(finder, clause, hit):
                continue
            if _fits(frame, finder, clause.start, clause.end):
                yield Form(frame.act, frame.rank, frame.topic, hit.start, finder.line.said(hit.start, hit.end), clause)


def _in_sentences(finder: Finder, asks: Mapping[int, Asking]) -> Iterator[Form]:
    """Forms that may reach from one clause into the next; each counts for the clause in which it ends."""
    for sentence in finder.line.sentences:
        for hit in finder.hits(finder.vocabulary.sentence_index, sentence.start, sentence.end):
            frame = hit.of
            inside = [one for one in finder.line.clauses if one.start < hit.end and one.end > hit.start]
            if not isinstance(frame, Frame) or not inside:
                continue
            if frame.asks and not (sentence.asks or any(asks[one.start] for one in inside)):
                continue
            if frame.act == "correct" and all(asks[one.start] for one in inside):
                continue
            if _fits(frame, finder, sentence.start, sentence.end):
                asking = [one for one in inside if asks[one.start]]
                said = finder.line.said(hit.start, hit.end)
                yield Form(frame.act, frame.rank, frame.topic, hit.start, said, (asking or inside)[-1])


def _drawn(finder: Finder, asks: Mapping[int, Asking]) -> Iterator[Form]:
    """Forms drawn from the whole line: what it asks stands in one clause, and of what it asks it in another.

    Each counts for the last clause that asks, of those that say a part of it if any of them does. What is asked for by
    name is drawn from the sentence that asks and the one before it.
    """
    line = finder.line
    whole = (0, len(line.words))
    parts: dict[Frame, dict[int, list[Hit]]] = {}
    for hit in finder.hits(finder.vocabulary.drawn_index, *whole):
        if isinstance(hit.of, FramePart):
            parts.setdefault(hit.of.frame, {}).setdefault(hit.of.number, []).append(hit)
    asking = [clause for clause in line.clauses if asks[clause.start]]
    for frame, hits in parts.items():
        if len(hits) < frame.groups or (frame.asks and not (asking or any(one.asks for one in line.sentences))):
            continue
        if not _fits(frame, finder, *whole):
            continue
        chosen = _near(line, hits, asking) if frame.topic else [found[-1] for found in hits.values()]
        if not chosen:
            continue
        starts = [hit.start for hit in chosen]
        inside = [one for one in line.clauses if any(one.start <= at < one.end for at in starts)]
        clause = ([one for one in inside if one in asking] or asking or inside)[-1]
        said = " ... ".join(line.said(hit.start, hit.end) for hit in sorted(chosen, key=lambda hit: hit.start))
        yield Form(frame.act, frame.rank, frame.topic, min(starts), said, clause, frame.groups)


def _near(line: Line, hits: Mapping[int, Sequence[Hit]], asking: Sequence[Clause]) -> list[Hit]:
    """A hit of each set in the sentence of a clause that asks or in the one before it, one of them in the clause."""
    for clause in reversed(asking):
        first = line.sentences[max(0, clause.sentence - 1)].start
        last = line.sentences[clause.sentence].end
        near = [[hit for hit in found if first <= hit.start < last] for found in hits.values()]
        inside = any(clause.start <= hit.start < clause.end for found in near for hit in found)
        if all(near) and inside:
            return [found[-1] for found in near]
    return []


def _decided(finder: Finder, asks: Mapping[int, Asking], facts: Sequence[Fact]) -> Iterator[Form]:
    """What each clause that asks, or each clause of a line that asks nothing by its form, asks by the table."""
    asking = [clause for clause in finder.line.clauses if asks[clause.start]]
    for clause in asking or finder.line.clauses:
        row = decided(finder, clause, asks, facts)
        if row is not None:
            yield Form(row.act, row.rank, "", clause.start, "", clause)


def _is_part_of_guess(finder: Finder, form: Form, asks: Mapping[int, Asking], guessed: Container[int]) -> bool:
    """Whether a question stands in a guess at a cause, or only because of the question mark behind one."""
    if form.clause.start in guessed:
        return True
    near = [one for one in finder.line.clauses if one.sentence == form.clause.sentence and asks[one.start]]
    return bool(near) and not asks[form.clause.start] and all(one.start in guessed for one in near)


def _fits(frame: Frame, finder: Finder, start: int, end: int) -> bool:
    needed = not frame.needs or finder.names(frame.needs, start, end)
    return needed and not finder.stands(frame.unless, start, end)


def _at_start(finder: Finder, clause: Clause, hit: Hit) -> bool:
    """Whether nothing but what leads up to it stands before a form, back to a comma or dash."""
    for word in reversed(finder.line.words[clause.start : hit.start]):
        if word.mark and word.form in _PARTS:
            return True
        if not (word.mark or word.form in _LEADS):
            return False
    return True


def _goes_on(finder: Finder, hit: Hit) -> bool:
    """Whether what a form begins with is going on, which nobody is told to do."""
    first = finder.line.words[hit.start]
    return first.form.endswith("ing") and first.form != first.lemma


def _is_whole(finder: Finder, clause: Clause, hit: Hit) -> bool:
    words = finder.line.words
    if clause.joined in _UNDER or not _at_start(finder, clause, hit):
        return False
    said = words[hit.start : hit.end]
    if any(word.form != word.lemma and word.form.endswith("ed") and word.form not in hit.way for word in said):
        return False  # "cleared" tells, and commands nothing
    for word in words[hit.end : clause.end]:
        if word.mark or (word.form in ("and", "then") and len(said) > 2):
            return True
        if word.form not in _TAILS:
            return False
    return True


def _supposed(finder: Finder, clause: Clause, asks: Mapping[int, Asking]) -> str:
    """The condition of a question of what would be: "if I leave it out, will it freeze", "will it freeze if ..."."""
    words = finder.line.words
    forms = [word.form for word in words[clause.start : clause.end] if not word.mark]
    while forms and forms[0] in _LEADS - _WOULD - {"can", "could"}:
        forms = forms[1:]
    if len(forms) > 3 and forms[0] == "if":  # all in one: "if I leave it out will it freeze"
        would = [at for at, form in enumerate(forms[3:-1], 3) if form in _WOULD and forms[at + 1] in _IT]
        return " ".join(forms[:3]) if would else ""
    if asks[clause.start] != "whether" or not forms or not (forms[0] in _WOULD or _WOULD & set(forms[1:3])):
        return ""
    if {"can", "could", "should", "may"} & set(forms[:2]) and {"i", "we"} & set(forms[:3]):
        return ""  # "if I dry the roots, could I put them in" asks leave
    for other in finder.line.clauses:
        begins = {word.form for word in words[other.start : min(other.start + 4, other.end)]}
        joined = other.sentence == clause.sentence and other != clause and words[other.start].form in _IF
        before = [one for one in finder.line.clauses if one.sentence == other.sentence and one.end <= other.start]
        if joined and words[other.start].form == "when" and before and not asks[before[-1].start]:
            continue  # "there is fog when I stab it, is that ok" tells when
        if joined and not asks[other.start] and begins & _DOERS:
            return finder.line.said(other.start, other.end)
    return ""


def _is_of_soil(finder: Finder, clause: Clause) -> bool:
    """Whether a question that names no vessel is asked of soil, named in it or before it."""
    named = {str(hit.of) for one in finder.line.clauses for hit in things_in(finder, one)}
    stuff = any(
        not clause.start <= at < clause.end
        and not any(finder.things(name, at) for name in ("compost", "soil", "acts-earth"))
        for at in finder.materials
    )
    return "soil" in named and not named & _NO_SOIL and not stuff


_WOULD = listed("will would does do might could is must should")
_IT = listed("it the they she this that there my i we a")
_DOERS = listed("i we in")
_IF = listed("if when suppose supposing")
_NO_SOIL = VESSELS - {"trench"} | {"plants"}


def _plain(finder: Finder, clause: Clause, asking: Mapping[int, Asking]) -> Form:
    """What a question of no known form asks: why, how, of a material, of the soil, or a fact."""
    asks = asking[clause.start]
    words = [word for word in finder.line.words[clause.start : clause.end] if not word.mark]
    named = [at for at in finder.materials if clause.start <= at < clause.end and not finder.things("compost", at)]
    things = {str(hit.of) for hit in things_in(finder, clause)}
    first = finder.line.words[clause.start].form
    if asks == "why":
        act, rank = "ask_why", ASK_WHY
    elif words[0].form == "how":
        act, rank = "ask_how", ASK_HOW
    elif first in ("if", "whether") and clause.start:
        act, rank = "ask_fact", ASK_FACT
    elif named and (len(words) <= _SHORT or (asks == "whether" and not things - {"heap", "bin", "compost", "tool"})):
        act, rank = "ask_material", ASK_MATERIAL
    elif "soil" in things:
        act, rank = "ask_soil", ASK_SOIL
    else:
        act, rank = "ask_fact", ASK_FACT
    return Form(act, rank, "", clause.start, "", clause)
