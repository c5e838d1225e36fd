"""Short answers put in their place: a number, "yes", "no", "I don't know", a name where one of two was asked about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from advisor.counsel.doubts import attribute_of
from advisor.knowledge.base import Knowledge
from advisor.talk.asking import Asked
from advisor.talk.intents import Ask, AskMaterial, Have, Intent, Pick, Told, Unclear, Understood, Vague
from advisor.talk.memory import Change, Skip


@dataclass
class Resolved:
    """What a line means once the open question is taken into account.

    Attributes:
        intents: what is left of it, and what was picked.
        settled: whether it answers the open question.
        picked: whether options were picked from it.
        notes: what there is to say about picks that change nothing.
    """

    intents: list[Intent | Change] = field(default_factory=list)
    settled: bool = False
    picked: bool = False
    notes: list[str] = field(default_factory=list)


def resolved(understood: Understood, asked: Asked | None, trial: Sequence[Change], knowledge: Knowledge) -> Resolved:
    """Resolve a line.

    Args:
        asked: the question that stands open.
        trial: what was tried last and may be kept by saying yes.
    """
    found = Resolved()
    picked: list[int] = []
    for intent in understood.intents:
        number = _number(intent, asked)
        if number is not None and asked is not None and 1 <= number <= len(asked.meant):
            picked.append(number)
        elif isinstance(intent, Pick):
            many = len(asked.meant) if asked is not None else 0
            found.notes.append(f"There are {many} to pick from." if many else "There is no list to pick from just now.")
        elif isinstance(intent, Ask) and intent.request in ("yes", "no"):
            found.intents += _yes_or_no(intent, asked, trial, knowledge, found, alone=len(understood.intents) == 1)
        else:
            found.intents.append(intent)
    if picked and asked is not None:
        found.settled = found.picked = True
        found.intents = [*_picked(picked, asked, found), *found.intents]
    return found


def _number(intent: Intent, asked: Asked | None) -> int | None:
    """The option that an intent picks, if it picks one."""
    if isinstance(intent, Pick):
        return intent.number if asked is None or not asked.question.figures else None
    if asked is None:
        return None
    if isinstance(intent, Ask):
        if intent.request == "skip":
            return len(asked.meant)
        if asked.plain and intent.request in ("yes", "no"):
            return 1 if intent.request == "yes" else 2
        return None
    named = set(_named(intent)) & set(asked.settles)
    return asked.settles.index(named.pop()) + 1 if len(named) == 1 else None


def _named(intent: Intent) -> Iterator[str]:
    """The materials an intent names without an amount of its own that would say more."""
    match intent:
        case Vague(material, _, _, _, None):
            yield material
        case AskMaterial(materials, _):
            yield from materials
        case Unclear(_, readings, _, None):
            yield from readings
        case Have(holding, _, _) if holding.quantity.low < holding.quantity.high:
            yield holding.material
        case _:
            pass


def _picked(numbers: Sequence[int], asked: Asked, found: Resolved) -> list[Intent | Change]:
    chosen = numbers if asked.question.many else numbers[-1:]
    meant: list[Intent | Change] = [meaning for number in chosen for meaning in asked.meant[number - 1]]
    known: list[Intent | Change] = [meaning for meaning in meant if not isinstance(meaning, Skip)]
    if not meant:
        found.notes.append(asked.dropped)
    return known or meant


def _yes_or_no(
    intent: Ask, asked: Asked | None, trial: Sequence[Change], knowledge: Knowledge, found: Resolved, *, alone: bool
) -> list[Intent | Change]:
    attribute = asked.question.attribute if asked is not None else ""
    words = attribute_of(attribute, knowledge).words if attribute else {}
    if "yes" in words and "no" in words:
        found.settled = True
        return [Told(attribute, (intent.request,), intent.span)]
    if intent.request == "no" and "none" in words:
        found.settled = True
        return [Told(attribute, ("none",), intent.span)]
    if trial:
        if intent.request == "yes":
            return list(trial)
        if alone:
            found.notes.append("Then it stays as it was.")
    elif alone:
        word = "Good." if intent.request == "yes" else "No to what?"  # "ok" only takes note of what was said
        found.notes.append(f"{word} {'Pick one below, or say' if asked else 'Say'} it in your own words.")
    return []
