"""Why a line of a diagnosis stands: the rules that fired, on which signs, from which source."""

from __future__ import annotations

from advisor.counsel.choose import Vote
from advisor.counsel.plan import Because
from advisor.counsel.why import reasons
from advisor.diagnosis.weighing import Weighed
from advisor.inference.engine import Consultation
from advisor.inference.facts import ABSENCE, Fact, written
from advisor.knowledge.base import Knowledge
from advisor.knowledge.shapes import Cause

_STRENGTH = {1: "a hint", 2: "a good sign", 3: "strong", 4: "very strong", 5: "as good as proof"}


def because_of(talk: Consultation, key: str, knowledge: Knowledge) -> tuple[Because, ...]:
    """Why a fact holds: one entry for each rule that concluded it, with the facts it saw."""
    return reasons(talk, key, knowledge, words=lambda fact, knows, _said: plainly(fact, knows))


def voice_text(voice: Vote, talk: Consultation, knowledge: Knowledge) -> str:
    """What a rule said of a cause, and on which signs: "strong: water runs out (a handful...)"."""
    rule = talk.rules[voice.rule]
    seen = "; ".join(dict.fromkeys(plainly(talk.known[key], knowledge) for key in _matched(voice, talk)))
    strength = _STRENGTH[min(5, max(1, round(abs(voice.weight))))] if voice.weight else "rules it out"
    return f"{seen} ({strength}). {rule.because}"


def voice_because(voice: Vote, talk: Consultation, knowledge: Knowledge) -> tuple[Because, ...]:
    """The reason behind what a rule said."""
    return tuple(each for each in because_of(talk, voice.key, knowledge) if each.rule == voice.rule)


def weighed_because(weighed: Weighed, talk: Consultation, knowledge: Knowledge) -> tuple[Because, ...]:
    """All that was said for and against a cause."""
    return tuple(each for voice in weighed.voices for each in voice_because(voice, talk, knowledge))


def _matched(voice: Vote, talk: Consultation) -> tuple[str, ...]:
    return tuple(key for firing in talk.concluding(voice.key) if firing.rule == voice.rule for key in firing.matched)


def plainly(fact: Fact, knowledge: Knowledge) -> str:
    """A fact of a diagnosis in words."""
    if fact.kind == ABSENCE:
        kind, _, name = fact.subject.partition(".")
        return f"{knowledge.kinds[kind].attributes[name].about}: not told"
    declared = knowledge.kinds[fact.kind].attributes[fact.attribute]
    value = declared.words.get(str(fact.value), f"{written(fact.value)} {declared.unit}".strip())
    if fact.kind == "state":
        return value
    if fact.kind == "cause":
        notice = knowledge.notices["cause"][fact.subject]
        name = notice.name if isinstance(notice, Cause) else fact.subject
        return f"{name}: {value}"
    if fact.subject:
        return f"{fact.subject.replace('-', ' ')}: {value}"
    return f"{declared.about}: {value}"
