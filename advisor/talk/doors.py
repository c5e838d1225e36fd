"""The doors of the first screen: what people come for, in plain words, and where each leads."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.counsel.wording import joined
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.talk.asking import NOWHERE, UNKNOWN, Asked, Meaning
from advisor.talk.intents import Door, Enter
from advisor.talk.memory import Load
from advisor.talk.replies import Option, Question, Reply

GREETING = (
    "Good day. Tell me what you have to compost, in your own words, and I work out a way, a mix and a plan, each with "
    "its reasons. Ask “help” for what else you can say."
)

DOORS: dict[Door, str] = {
    "start": "Start a heap",
    "trouble": "Something is wrong with my heap",
    "no-manure": "I have no manure",
    "soil": "Look after the soil",
    "carry-on": "Carry on with a heap",
}


def doors_asked() -> Asked:
    """What brings the person here."""
    options = [Option(label, label) for label in DOORS.values()]
    meant: list[Meaning] = [(Enter(door, NOWHERE),) for door in DOORS]
    question = Question(
        "",
        "What brings you here? Pick one, or just say what you have.",
        "It settles where we begin.",
        (*options, Option(UNKNOWN, UNKNOWN)),
    )
    return Asked(question, (*meant, (Enter("start", NOWHERE),)))


def behind(door: Door, knowledge: Knowledge) -> Reply:
    """What there is to say when a door is taken. Behind those of troubles and of kept heaps others speak."""
    match door:
        case "start" | "carry-on" | "trouble":
            return Reply("answer", "A heap, then. Say what there is; a rough count will do, and I ask the rest.")
        case "no-manure":
            return _no_manure(knowledge)
        case "soil":
            return Reply(
                "answer",
                "The soil has commands of its own, outside this talk: “heapwright soil” for checks of it, “heapwright "
                "spread” for how much compost goes where, “heapwright seasons” for rebuilding a spent one. Here I can "
                "tell how much compost your stuff will give, when, and what to mind before it goes near food. So tell "
                "me what there is to compost.",
            )


def _no_manure(knowledge: Knowledge) -> Reply:
    names = [
        material.name
        for material in knowledge.materials.values()
        if material.fetch and material.role == "green" and not {"farm-manure", "bedding"} & set(material.traits)
    ]
    return Reply(
        "answer",
        "No heap needs manure: it is one source of nitrogen among many. Others that are commonly to be had are "
        f"{joined(names)}. Tell me what you have, and if nitrogen is short I say what to fetch. "
        "“heapwright substitutes” sets them against so much manure, measure for measure.",
    )


def kept_asked(heaps: Iterable[Household]) -> Asked:
    """Which of the kept heaps to carry on with."""
    listed = list(heaps)
    options = [Option(heap.name, heap.name) for heap in listed]
    meant: list[Meaning] = [(Load(heap),) for heap in listed]
    question = Question(
        "",
        "Which heap?",
        "Each was kept with all you had said.",
        (*options, Option(UNKNOWN, UNKNOWN)),
    )
    return Asked(question, (*meant, ()))
