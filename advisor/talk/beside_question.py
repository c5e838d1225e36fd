"""How a line is read while a question is open, and what of it answers that question."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from advisor.diagnosis.signs import METHOD_OF
from advisor.hearing.hear import hear
from advisor.hearing.shapes import Asked as Put
from advisor.hearing.shapes import Heard
from advisor.knowledge.base import Knowledge
from advisor.talk.asking import FIRST, NOWHERE, Asked
from advisor.talk.intents import Ask, Lost, Pick, Understood
from advisor.talk.memory import State
from advisor.talk.situation import as_situation, is_situation
from advisor.talk.turns import asked_of_all, tells_of_the_household, told_as_stock


def method_spoken_of(state: State) -> str:
    """The kind of compost that is spoken of, by the words of sign.method; empty if none was told."""
    return str(next(iter(state.signs.get("method", ())), ""))


def heard_beside(text: str, asked: Asked | None, state: State, knowledge: Knowledge, today: date | None) -> Heard:
    """How a line is read beside the open question, if there is one, and what was spoken of last."""
    put = asked.put if asked is not None else Put()
    about = next((thing for thing, name in METHOD_OF.items() if name == method_spoken_of(state)), "")
    begun = bool(put.attribute or state.household.holdings)
    heard = hear(text, knowledge, replace(put, about=about, begun=begun), today)
    if _only_touches(heard, asked):
        heard = replace(heard, options=(), acts=tuple(act for act in heard.acts if act != "answer"))
    wanted = asked is not None and asked.key == "materials"
    if (wanted or state.household.holdings or tells_of_the_household(heard)) and not state.in_trouble:
        heard = told_as_stock(heard)
    if not state.in_trouble:
        heard = asked_of_all(as_situation(heard) if _may_be_situation(heard, asked) and is_situation(heard) else heard)
    others = tuple(act for act in heard.acts if act != "answer")
    if not others or heard.options:
        asks = any(act.startswith("ask_") for act in others)
        return replace(heard, acts=others) if asks else heard
    # a line that picks no option tells something else before it answers, and one that asks is no answer
    asks = any(act.startswith("ask_") for act in others)
    answers = () if asks or "answer" not in heard.acts else ("answer",)
    return replace(heard, acts=(*others, *answers))


def _may_be_situation(heard: Heard, asked: Asked | None) -> bool:
    """Whether a line is no answer to a question of its own: to where to begin, or what there is, a situation is one."""
    at_large = asked is None or asked.key in ("", FIRST, "materials")
    return "answer" not in heard.acts or (at_large and not heard.named)


def _only_touches(heard: Heard, asked: Asked | None) -> bool:
    """Whether a line only shares a word with a way to go on that the talk offers, and is about something else."""
    offers = asked is not None and asked.key in ("", FIRST) and not asked.plain
    if not offers or not heard.options or heard.named:
        return False
    tells = any(fact.name.startswith(("sign.", "deed.")) for fact in heard.facts)
    return tells or not heard.sure


def with_answer(heard: Heard, understood: Understood, asked: Asked | None) -> Understood:
    """What was understood, with what the line answers to the open question where nothing else was read of it."""
    if asked is None or heard.acts[:1] != ("answer",) or _tells_another_sign(heard, asked.question.attribute):
        return understood
    if heard.unknown and not heard.told and not heard.materials:
        return Understood(understood.text, (Ask("skip", NOWHERE),))
    told = any(not isinstance(intent, Lost | Ask | Pick) for intent in understood.intents)
    if told or not heard.options or (len(heard.options) > 1 and not asked.question.many):
        return understood
    return Understood(understood.text, tuple(Pick(number, NOWHERE) for number in heard.options))


def _tells_another_sign(heard: Heard, attribute: str) -> bool:
    """Whether a line tells signs, and none of them is what is asked: "the top is wet" says nothing of the middle."""
    told = {fact.name for fact in heard.told if fact.name.startswith("sign.")}
    return attribute.startswith("sign.") and bool(told) and attribute not in told
