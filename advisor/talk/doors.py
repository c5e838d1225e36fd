"""The doors of the first screen: what people come for, in plain words, and where each leads."""

from __future__ import annotations

from advisor.counsel.wording import joined
from advisor.knowledge.base import Knowledge
from advisor.talk.asking import NOWHERE, UNKNOWN, Asked, Meaning
from advisor.talk.intents import Door, Enter
from advisor.talk.memory import Load
from advisor.talk.replies import Option, Question, Reply
from advisor.talk.shelf import Shelf

GREETING = (
    "Good day. Tell me what you have to compost, in your own words, and I work out a way, a mix and a plan, each with "
    "its reasons. Ask “help” for what else you can say."
)

DOORS: dict[Door, str] = {
    "start": "Start a heap",
    "trouble": "Something is wrong with my heap",
    "no-manure": "I have no manure",
    "animals": "I keep animals, and bed them",
    "soil": "Look after the soil",
    "more": "Something else",
    "carry-on": "Carry on with a heap",
}


def doors_asked(ask: str = "What brings you here? Pick one, or just say what you have.") -> Asked:
    """What brings the person here."""
    options = [Option(label, label) for label in DOORS.values()]
    meant: list[Meaning] = [(Enter(door, NOWHERE),) for door in DOORS]
    question = Question(
        "",
        ask,
        "It settles where we begin.",
        (*options, Option(UNKNOWN, UNKNOWN)),
    )
    return Asked(question, (*meant, (Enter("start", NOWHERE),)))


_BEHIND: dict[Door, str] = {
    "animals": "Animals and their bedding, then.",
    "soil": "The soil, then: compost is the means, living soil is the end.",
    "more": "There is more that I can work out.",
    "instead": "Then let us see what brings as much nitrogen.",
    "handfuls": "By the handful, then: herbs, starters and minerals.",
    "year": "A year, then: what keeps is put by, and fed out against what comes in each week.",
    "paces": "A quick heap beside a slow one, then.",
    "kitchen": "What a kitchen gives in a year, then.",
    "ready": "Whether it is ready, then. Look at it and smell it.",
    "spread": "How much goes where, then: bed by bed.",
    "check": "A check of the soil, then.",
    "trends": "How the checks in your diary go, then.",
    "seasons": "Rebuilding a soil, then, season by season.",
}

#: Doors with a sheet of questions behind them.
SHEETS = frozenset(_BEHIND)

#: How to get about on a sheet.
ABOUT_SHEETS = "“I don't know” will do for any question, “go back” returns to the last, and “never mind” leaves them."


def behind(door: Door, knowledge: Knowledge, *, first: bool = False) -> Reply:
    """What there is to say when a door is taken. Behind those of troubles and of kept heaps others speak.

    Args:
        first: whether it is the first door of this talk that has a sheet behind it.
    """
    match door:
        case "no-manure":
            return _no_manure(knowledge)
        case _ if door in _BEHIND:
            return Reply("answer", f"{_BEHIND[door]} {ABOUT_SHEETS}" if first else _BEHIND[door])
        case _:
            return Reply("answer", "A heap, then. Say what there is; a rough count will do, and I ask the rest.")


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
        "“What can I use instead of 2 barrows of horse manure” sets them against so much of it, measure for measure.",
    )


def farewell(*, unkept: bool) -> Reply:
    """The last words, with a warning if something told is not kept."""
    text = " What you told me is not kept; another time say “save” before you go." if unkept else ""
    return Reply("farewell", f"Good-bye, and good compost.{text}")


def kept_asked(shelf: Shelf) -> tuple[Asked | None, tuple[Reply, ...]]:
    """Which of the kept heaps to carry on with, if there is any; and what there is to say of the others."""
    found = shelf.read()
    said: list[Reply] = []
    if found.amiss:
        files = "\n".join(f"  {line}" for line in found.amiss)
        said.append(Reply("lost", f"Kept, but I cannot open it; I leave it as it is:\n{files}"))
    listed = [heap for heap, _ in found.heaps.values()]
    if not listed and not found.amiss:
        said.append(Reply("answer", f"No heap is kept yet. “save” keeps one, in {shelf.folder}."))
    if not listed:
        return None, tuple(said)
    options = [Option(heap.name, heap.name) for heap in listed]
    meant: list[Meaning] = [(Load(heap),) for heap in listed]
    question = Question(
        "",
        "Which heap?",
        "Each was kept with all you had said.",
        (*options, Option(UNKNOWN, UNKNOWN)),
    )
    return Asked(question, (*meant, ())), tuple(said)
