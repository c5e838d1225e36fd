"""The doors of the first screen: what people come for, in plain words, and where each leads."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from pathlib import Path

from advisor.counsel.wording import joined
from advisor.diary.talks import TalkKept
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.services.table import DOORS as SERVICES
from advisor.talk.asking import FIRST, NOWHERE, UNKNOWN, Asked, Meaning
from advisor.talk.intents import CarryOn, Door, Enter
from advisor.talk.keeping import called
from advisor.talk.memory import Load, State
from advisor.talk.recap import about_what, day_text
from advisor.talk.replies import Option, Question, Reply
from advisor.talk.saying import upper
from advisor.talk.shelf import OnShelf, Shelved
from advisor.text_files import place_of

_FEWEST_TO_CHOOSE = 2
SAME_TIME = timedelta(minutes=1)  # a heap that is saved is in the diary as well, a moment sooner or later

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
    "carry-on": "Carry on with another heap",
}


def doors_asked(kept: Kept, ask: str = "What brings you here? Pick one, or just say what you have or did.") -> Asked:
    """What brings the person here, with the heap that was seen last before all else."""
    options: list[Option] = []
    meant: list[Meaning] = []
    for heap in kept.heaps[:1]:
        options.append(Option(label := f"Carry on with {heap.called} (last seen {heap.seen})", label))
        meant.append(heap.meant)
    for door, label in DOORS.items():
        if door == "carry-on" and len(kept.heaps) < _FEWEST_TO_CHOOSE:
            continue
        options.append(Option(label, label))
        meant.append((Enter(door, NOWHERE),))
    question = Question(
        "",
        ask,
        "It settles where we begin.",
        (*options, Option(UNKNOWN, UNKNOWN)),
    )
    return Asked(question, (*meant, (Enter("start", NOWHERE),)), FIRST)


_BEHIND: dict[str, str] = {
    "soil": "The soil, then: compost is the means, living soil is the end.",
    "more": "There is more that I can work out.",
    **{door: service.opening for door, service in SERVICES.items()},
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


#: The key of a question whether to go through a sheet.
OFFER = "offer"


def offer_asked(door: Door) -> Asked:
    """Whether to go through the sheet behind a door, after a straight answer to what it is about."""
    question = Question(
        "",
        "Shall I go through it with you for yours, question by question?",
        "What I said holds in general; with your own figures it is nearer.",
        (Option("Yes", "yes"), Option("No", "no"), Option(UNKNOWN, UNKNOWN)),
    )
    return Asked(question, ((Enter(door, NOWHERE),), (), ()), OFFER, plain=True, dropped="Very well.")


def farewell(*, kept: bool, unkept: bool) -> Reply:
    """The last words: what is kept is here another day; a warning if something told is not kept."""
    text = " All you told me is kept: next time, carry on with it." if kept else ""
    if unkept:
        text = " What you told me is not kept; another time say “save” before you go."
    return Reply("farewell", f"Good-bye, and good compost.{text}")


@dataclass(frozen=True, slots=True)
class HeapKept:
    """A heap to carry on with: its name if it has one, what it is about, when it was seen last, and what does it."""

    name: str
    called: str
    seen: str
    meant: Meaning


@dataclass(frozen=True, slots=True)
class Kept:
    """All that can be carried on with, the latest first. `amiss` names, a line each, what cannot be read."""

    heaps: tuple[HeapKept, ...] = ()
    amiss: tuple[str, ...] = ()


def not_in_the_diary(shelved: Shelved, talks: Sequence[TalkKept]) -> tuple[OnShelf, ...]:
    """The heaps on the shelf that no talk of the diary is about, or that were written after it was held."""
    named = {talk.name.casefold(): talk for talk in reversed(talks) if talk.name}
    return tuple(
        heap
        for heap in shelved.heaps
        if (talk := named.get(heap.household.name.casefold())) is None or heap.written > talk.seen + SAME_TIME
    )


def kept_heaps(
    talks: Sequence[TalkKept], shelved: Sequence[OnShelf], amiss: Sequence[str], knowledge: Knowledge, today: date
) -> Kept:
    """The talks of the diary, and the heaps on the shelf that it does not hold."""
    found: list[tuple[datetime, str, str, Meaning]] = [
        (talk.seen, talk.name, called(talk), (CarryOn(talk.number, NOWHERE),)) for talk in talks
    ]
    for heap in shelved:
        about = about_what(State(heap.household), None, knowledge) or "a heap to plan"
        name = heap.household.name
        found.append((heap.written, name, f"“{name}”: {about}", (Load(heap.household),)))
    found.sort(key=lambda one: one[0], reverse=True)
    heaps = (HeapKept(name, about, day_text(seen.date(), today), meant) for seen, name, about, meant in found)
    return Kept(tuple(heaps), tuple(amiss))


def amiss_told(kept: Kept) -> tuple[Reply, ...]:
    """What there is to say of what cannot be read, if there is anything of that kind."""
    if not kept.amiss:
        return ()
    lines = "\n".join(f"  {line}" for line in kept.amiss)
    return (Reply("lost", f"This cannot be read, and stays as it is:\n{lines}"),)


def kept_asked(kept: Kept, folder: Path) -> tuple[Asked | None, tuple[Reply, ...]]:
    """Which of the kept heaps to carry on with, if there is any; and what there is to say of the others."""
    said = amiss_told(kept)
    if not kept.heaps:
        none = Reply("answer", f"No heap is kept yet. Whatever you tell me will be, in {place_of(folder)}.")
        return None, said or (none,)
    options = []
    for heap in kept.heaps:
        label = f"{upper(heap.called)} (last seen {heap.seen})"
        options.append(Option(label, heap.name or label))
    question = Question(
        "",
        "Which heap?",
        "Each was kept with all you had said.",
        (*options, Option(UNKNOWN, UNKNOWN)),
    )
    return Asked(question, (*(heap.meant for heap in kept.heaps), ())), said
