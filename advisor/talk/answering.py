"""What the talk says to a line beyond what it changes: warnings, straight answers, deeds, what was not followed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from advisor.counsel.danger import danger_reply, feared_reply
from advisor.counsel.one_fact import answer_lines, heeded_lines, qualifier_lines, ready_told, seen_lines, stays_out
from advisor.counsel.plan import Plan
from advisor.counsel.wording import joined
from advisor.diagnosis.signs import GENERAL_METHODS, METHOD_OF
from advisor.hearing.shapes import Fact, Heard, HeardDanger
from advisor.hearing.times import day_text
from advisor.knowledge.answers import shipped_answers
from advisor.knowledge.base import Knowledge
from advisor.talk.memory import State
from advisor.talk.replies import Reply
from advisor.units import Units, fill, temperature_text

_LOST = "I didn't follow that. Tell me what you have to compost, or what is wrong, in your own words."
_OFF = "I only know about compost and soil. Tell me what you have to compost, or what is wrong with your heap."
_COURTESIES = {
    "thanks": "You're welcome. Tell me how it goes, or ask on.",
    "greeting": "Good day. Tell me what you have to compost, or what is wrong with your heap.",
}
#: What is said to a line of a kind that tells something of which no fact was heard.
_HEARD_NO_FACT = {
    "deed": "Noted as you said it. Next: look at it again in 3 days. Is it moist, warm and sweet-smelling?",
    "observation": "Noted. I can't tell from it if anything is wrong. Does it stink, drip, stay cold or draw flies?",
    "circumstance": "I hear you, but I can't use that in the plan yet. Tell me what you have to compost, and I begin.",
    "trouble": "Something is wrong, but I can't tell what yet. How does it smell, and does a squeezed handful drip?",
    "what_if": "I can't work that out yet. Say it as “what if I had no leaves” or “swap the straw for paper”.",
    "swap": "Tell me what to swap for what: “swap the straw for shredded paper”. Then I work it out.",
    "correct": "I couldn't find what to put right. Say it as “no, 4 sacks of leaves”.",
    "redo": "Tell me again what you had said, and I put it back.",
}
#: The topic that answers a question of a kind when its form names no closer one.
_USUAL_TOPIC = {
    "ask_ready": "ready",
    "ask_year": "year",
    "ask_what_now": "next-step",
    "ask_use": "spread-how-much",
    "ask_soil": "soil-test",
    "ask_plan": "which-way",
}


def warnings(heard: Heard, knowledge: Knowledge, units: Units) -> Iterator[Reply]:
    """What must be said before all else, because somebody or something is in danger now: of the gravest danger."""
    for danger in heard.dangers[:1]:
        yield Reply("caution", "\n".join(danger_reply(danger, knowledge.danger_answers, units)))


class Besides:
    """What there is to say to one line beyond what it changes. Every list is in the order in which it is said."""

    def __init__(
        self,
        heard: Heard,
        plan: Plan | None,
        state: State,
        knowledge: Knowledge,
        units: Units,
        circumstances: Sequence[tuple[str, str]],
    ) -> None:
        """Begin.

        Args:
            circumstances: what the line was taken to tell of the household, each a name and a value.

        Afterwards `planning` says whether there is something to plan with.
        """
        self.heard, self.plan, self.knowledge, self.units = heard, plan, knowledge, units
        told = [fact.value for fact in heard.told if fact.name == "place.season"]
        self._season = str(next(iter((*told, *state.household.answers.get("place.season", ()))), ""))
        self._vessel = METHOD_OF.get(heard.about, heard.about)
        self._circumstances = circumstances
        self.planning = bool(state.household.holdings)
        self._sources: list[str] = []

    def questions(self, *, usual: bool = True) -> list[Reply]:
        """Answers to what a line asks of the trade, one for each matter.

        Args:
            usual: whether a question of no closer topic gets the usual answer to its kind.
        """
        topics = [
            question.topic or (_USUAL_TOPIC.get(question.act, "") if usual else "") for question in self.heard.asked
        ]
        replies = []
        for topic in dict.fromkeys(topic for topic in topics if topic in shipped_answers()):
            answer = shipped_answers()[topic]
            self._rests_on(answer.source)
            lines = answer_lines(answer, self.plan, self.units, vessel=self._vessel, season=self._season)
            replies.append(Reply("answer", "\n".join(lines)))
        return replies

    def signs_asked(self, of: Sequence[str] = ()) -> list[Reply]:
        """What there is to say to signs that a line asks about, fears or supposes.

        Args:
            of: names of facts; all of them if empty.
        """
        stances = ("asked", "supposed", "denied") if self.heard.asked else ("asked", "supposed")
        named = [
            (fact.name, fact.value)
            for fact in self.heard.facts
            if fact.stance in stances and (fact.name in of if of else fact.name.startswith("sign."))
        ]
        return self._seen(named)

    def ready(self) -> list[Reply]:
        """Whether compost is ready by the signs that are told with the question."""
        told = [(fact.name, fact.value) for fact in self.heard.told]
        found = ready_told(told, self._vessel)
        if found is None:
            return []
        self._rests_on(found.source)
        return [Reply("answer", "\n".join(fill(line, {}, self.units) for line in found.say))]

    def feared(self) -> list[Reply]:
        """The straight answer to a danger that is feared or asked about."""
        return [
            Reply("answer", "\n".join(feared_reply(danger, self.knowledge.danger_answers, self.units)))
            for danger in self._feared()[:1]
        ]

    def _feared(self) -> list[HeardDanger]:
        """The dangers that are feared, without those named by words of a question that has an answer of its own."""
        answered = [question.said for question in self.heard.asked if question.topic in shipped_answers()]
        return [danger for danger in self.heard.feared if not any(danger.said in said for said in answered)]

    def conditions(self, *, outright: bool) -> list[Reply]:
        """What the condition of a material means, where a line tells or asks of one: sprayed grass is not grass.

        Args:
            outright: only conditions that keep a material out.
        """
        heard = self.heard
        named = [name for material in heard.materials for name in material.qualifiers]
        if "ask_material" in heard.acts or "ask_fact" in heard.acts:
            named += [fact.name.partition(".")[2] for fact in heard.facts if fact.name.startswith("material.")]
        named = [name for name in named if not outright or stays_out([name])]
        lines = qualifier_lines(named, self.units, vessel=METHOD_OF.get(heard.about, ""))
        return [Reply("answer", "\n".join(lines))] if lines else []

    @property
    def put_in_with_a_condition(self) -> bool:
        """Whether something in a condition of its own went in: what that means comes before any next step."""
        put_in = any(fact.name == "deed.added" for fact in self.heard.told)
        return put_in and any(one.stance == "told" and one.qualifiers for one in self.heard.materials)

    def noted(self) -> list[Reply]:
        """Deeds and readings said back with the day they were done."""
        heard = self.heard
        done = [fact for fact in heard.told if fact.name.startswith("deed.")]
        read = [fact for fact in heard.told if fact.name == "sign.degrees"]
        if not (done or read) or not {"deed", "observation"} & set(heard.acts):
            return []
        deeds = list(dict.fromkeys(_deed(fact, heard) for fact in done))
        readings = list(
            dict.fromkeys(f"{temperature_text(float(fact.value), self.units)} in the middle" for fact in read)
        )
        day = _on(heard)
        at = heard.text.find(heard.times[0].said) if day else -1
        before = [fact for fact in (*done, *read) if fact.start < at]
        if deeds and readings and before:
            # "turned it on Sunday, 58 C": the day is of what it follows, and the other is of today
            of_reading = max(before, key=lambda fact: fact.start) in read
            said = f"{joined(deeds)}{'' if of_reading else day}; {joined(readings)}{day if of_reading else ''}"
        else:
            said = f"{joined([*deeds, *readings])}{day}"
        return [Reply("heard", f"Noted: {said}.")]

    def next_steps(self) -> list[Reply]:
        """What follows from deeds that are told."""
        return self._seen([(fact.name, fact.value) for fact in self.heard.told if fact.name.startswith("deed.")])

    def seen(self) -> list[Reply]:
        """What there is to say of what was seen and tells of no trouble."""
        told = [(fact.name, fact.value) for fact in self.heard.told if not fact.name.startswith("deed.")]
        stances = ("denied", "supposed") if "deed" in self.heard.acts[:1] else ("denied",)
        denied = [(f"no.{fact.name}", fact.value) for fact in self.heard.facts if fact.stance in stances]
        return self._seen([*told, *denied])

    def heeded(self) -> list[Reply]:
        """What follows from circumstances that are told."""
        told = [*self._circumstances, *((fact.name, fact.value) for fact in self.heard.told)]
        lines = heeded_lines(told, self.units)
        return [Reply("answer", "\n".join(lines))] if lines else []

    def sources(self) -> tuple[str, ...]:
        """Where the answers that were given come from."""
        return tuple(dict.fromkeys(self._sources))

    def _seen(self, facts: list[tuple[str, str]]) -> list[Reply]:
        lines = seen_lines(facts, self.units, vessel=METHOD_OF.get(self.heard.about, ""))
        return [Reply("answer", "\n".join(lines))] if lines else []

    def _rests_on(self, sources: Iterable[str]) -> None:
        for name in sources:
            found = self.knowledge.sources[name]
            self._sources.append(", ".join(str(part) for part in (found.title, found.publisher, found.year) if part))


def vessel_meant(heard: Heard, plan: Plan | None) -> str:
    """The way of composting that a line means: the vessel it names, else that of the plan; empty if there is none."""
    named = METHOD_OF.get(heard.about, "")
    said = any(piece.about == heard.about for piece in heard.pieces)
    if named and (named not in GENERAL_METHODS or (said and plan is None)):
        return named
    if plan is not None and plan.choice.method != "collection":
        return plan.choice.method
    return named if said else ""


def asks_what_to_do(heard: Heard) -> bool:
    """Whether a line asks what to do, and of nothing in particular."""
    return heard.acts[:1] in (("ask_what_now",), ("ask_how",)) and not any(
        one.topic and one.topic != _USUAL_TOPIC["ask_what_now"] for one in heard.asked
    )


def _deed(fact: Fact, heard: Heard) -> str:
    """A deed in words; of what was added, the names."""
    added = [one.said for one in heard.materials if one.stance == "told"]
    if fact.name in ("deed.added", "deed.mixed-in", "deed.fed") and added:
        return f"{_DEEDS.get(fact.name, 'added')} {joined(added[:_MOST_NAMED])}"
    return _DEEDS.get(fact.name, fact.name.partition(".")[2].replace("-", " "))


def _on(heard: Heard) -> str:
    """The day it was, if it is one day."""
    days = {when.first for when in heard.times if when.first == when.last}
    return f", {day_text(next(iter(days)))}" if len(days) == 1 and len(heard.times) == 1 else ""


_MOST_NAMED = 3
_DEEDS = {"deed.built": "started", "deed.fed": "fed", "deed.mixed-in": "mixed in", "deed.took-temperature": "measured"}


#: What can be asked near a thing that a line speaks of.
_NEARBY = {
    "worm bin": "how much to feed the worms, what they must not have, or how to take out the castings",
    "bucket": "how much bran it needs, how long it stays closed, or what to do with the liquid",
    "soil": "how to check your soil, how much compost to spread, or which green manure to sow",
    "leaf heap": "how long leaf mould takes, how wet it should be, or what to use it for",
}
_NEAR_A_HEAP = "how long it takes, how wet it should be, or how often to turn it"


def _nearby(heard: Heard) -> str:
    """What can be asked of what a question speaks of: of a material it names, else of the vessel or the soil."""
    if heard.materials:
        name = heard.materials[0].said
        return f"You can ask me: may {name} go in, how do I prepare {name}, or what goes with {name}?"
    return f"You can ask me, for instance: {_NEARBY.get(heard.about, _NEAR_A_HEAP)}."


def lost(heard: Heard) -> Reply:
    """That a line was not followed: what it asked, if it asked; else the words that carry meaning and were not used."""
    first = heard.acts[0] if heard.acts else ""
    if first == "off":
        return Reply("answer", _COURTESIES.get(heard.courtesy, _OFF))
    if heard.asked and first not in _HEARD_NO_FACT:
        return Reply("lost", f"You asked “{heard.asked[0].said}”. I can't answer that here yet.\n{_nearby(heard)}")
    if first in _HEARD_NO_FACT:
        return Reply("lost", _HEARD_NO_FACT[first])
    if heard.unread:
        return Reply("lost", f"I don't know {joined([f'“{word}”' for word in heard.unread[:3]], 'or')}. {_LOST}")
    return Reply("lost", _LOST)
