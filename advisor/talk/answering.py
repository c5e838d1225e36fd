"""What the talk says to a line beyond what it changes: warnings, straight answers, deeds noted, what was not followed."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.counsel.danger import danger_reply, feared_reply
from advisor.counsel.one_fact import answer_lines, qualifier_lines, seen_lines
from advisor.counsel.plan import Plan
from advisor.counsel.wording import joined
from advisor.diagnosis.signs import METHOD_OF
from advisor.hearing.shapes import Heard
from advisor.hearing.times import day_text
from advisor.knowledge.answers import shipped_answers
from advisor.knowledge.base import Knowledge
from advisor.talk.memory import State
from advisor.talk.replies import Reply
from advisor.units import Units, temperature_text

_LOST = "I didn't follow that. Tell me what you have to compost, or what is wrong, in your own words."
#: The topic that answers a question of a kind when its form names no closer one.
_USUAL_TOPIC = {
    "ask_ready": "ready",
    "ask_year": "year",
    "ask_what_now": "next-step",
    "ask_use": "spread-how-much",
    "ask_soil": "soil-test",
}
_QUESTIONS = frozenset({"ask_fact", "ask_how", "ask_why", "ask_plan", *_USUAL_TOPIC})


def warnings(heard: Heard, knowledge: Knowledge, units: Units) -> Iterator[Reply]:
    """What must be said before all else, because somebody or something is in danger now: of the gravest danger."""
    for danger in heard.dangers[:1]:
        yield Reply("caution", "\n".join(danger_reply(danger, knowledge.danger_answers, units)))


def feared(heard: Heard, knowledge: Knowledge, units: Units) -> Iterator[Reply]:
    """The straight answer to a danger that is feared or asked about."""
    for danger in heard.feared[:1]:
        yield Reply("answer", "\n".join(feared_reply(danger, knowledge.danger_answers, units)))


def answered(heard: Heard, plan: Plan | None, state: State, knowledge: Knowledge, units: Units) -> Iterator[Reply]:
    """Answers to what a line asks of the trade, one for each matter; a line that names what cannot be answered yet."""
    vessel = METHOD_OF.get(heard.about, heard.about)
    season = str(next(iter(state.household.answers.get("place.season", ())), ""))
    topics = [question.topic or _USUAL_TOPIC.get(question.act, "") for question in heard.asked]
    named = dict.fromkeys(topic for topic in topics if topic in shipped_answers())
    for topic in named:
        lines = answer_lines(shipped_answers()[topic], plan, units, vessel=vessel, season=season)
        yield Reply("answer", "\n".join(lines))


def qualified(heard: Heard, units: Units) -> Iterator[Reply]:
    """What the condition of a material means, where a line tells or asks of one: sprayed grass is not grass."""
    named = [name for material in heard.materials for name in material.qualifiers]
    if "ask_material" in heard.acts or "ask_fact" in heard.acts:
        named += [fact.name.partition(".")[2] for fact in heard.facts if fact.name.startswith("material.")]
    lines = qualifier_lines(named, units, vessel=METHOD_OF.get(heard.about, ""))
    if lines:
        yield Reply("answer", "\n".join(lines))


def noted(heard: Heard, units: Units) -> Iterator[Reply]:
    """Deeds and readings said back with the day they were done, and the next step that follows."""
    done = [fact for fact in heard.told if fact.name.startswith("deed.")]
    read = [fact for fact in heard.told if fact.name == "sign.degrees"]
    if not (done or read) or not {"deed", "observation"} & set(heard.acts):
        return
    names = list(dict.fromkeys(_DEEDS.get(fact.name, fact.name.partition(".")[2].replace("-", " ")) for fact in done))
    names += list(dict.fromkeys(f"{temperature_text(float(fact.value), units)} in the middle" for fact in read))
    yield Reply("heard", f"Noted: {joined(names)}{_on(heard)}.")


def _on(heard: Heard) -> str:
    """The day it was, if it is one day."""
    days = [when for when in heard.times if when.first == when.last]
    return f", {day_text(days[0].first)}" if days else ""


_DEEDS = {"deed.built": "started", "deed.fed": "fed", "deed.mixed": "mixed in"}


def observed(heard: Heard, units: Units) -> list[Reply]:
    """What there is to say of what was seen or done and tells of no trouble."""
    vessel = METHOD_OF.get(heard.about, "")
    lines = seen_lines([(fact.name, fact.value) for fact in heard.told], units, vessel=vessel)
    return [Reply("answer", "\n".join(lines))] if lines else []


def lost(heard: Heard) -> Reply:
    """That a line was not followed, naming the words that carry meaning and were not used."""
    if heard.unread:
        return Reply("lost", f"I don't know {joined([f'“{word}”' for word in heard.unread[:3]], 'or')}. {_LOST}")
    return Reply("lost", _LOST)
