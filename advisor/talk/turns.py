"""What a line that was heard does in the talk: which intents it brings, in the order in which they are answered.

Amounts, names and answers about the household are still read by talk/understand.py; what kind of thing the line is
decides which of them count, so that nothing that is asked, feared or denied becomes a fact.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from advisor.counsel.one_fact import stays_out
from advisor.diagnosis.signs import as_signs, signs_told
from advisor.hearing.shapes import Heard
from advisor.knowledge.base import Knowledge
from advisor.talk.intents import (
    Ask,
    AskMaterial,
    AskWhy,
    Enter,
    Have,
    HaveNot,
    Intent,
    Less,
    Pick,
    Request,
    Swap,
    TellMeasure,
    TellRoom,
    Told,
    Unclear,
    Vague,
    WhatIf,
    Which,
)

NOWHERE = (0, 0)

_STOCK = (Have, HaveNot, Less, Vague, Unclear, TellMeasure)
_CIRCUMSTANCE = (Told, TellRoom, TellMeasure, Which)
#: What each kind of thing may bring of what was read as amounts, names, answers and requests.
_BRINGS: Mapping[str, tuple[type, ...]] = {
    "stock": (*_STOCK, Enter),
    "circumstance": (*_CIRCUMSTANCE, HaveNot),
    "correct": (*_STOCK, *_CIRCUMSTANCE),
    "answer": (*_STOCK, *_CIRCUMSTANCE, Pick, Ask),
    "swap": (Swap, WhatIf, HaveNot),
    "what_if": (WhatIf, Swap),
    "ask_material": (AskMaterial,),
    "ask_plan": (*_STOCK, *_CIRCUMSTANCE, Enter),
    "ask_why": (AskWhy,),
}
#: A line that is one of these first is about what there is and where, whatever else it mentions.
_OF_A_PLAN = frozenset({"stock", "circumstance", "swap", "correct"})
#: A line that tells of one of these first supposes nothing and opens no guided interview.
_TELLING = frozenset({"trouble", "danger", "observation", "deed"})
_REQUESTS: Mapping[str, Request] = {
    "undo": "back",
    "save": "save",
    "help": "help",
    "start_over": "again",
    "leave": "leave",
}


@dataclass(frozen=True, slots=True)
class Turn:
    """What a line does: the intents it brings, the signs it tells, and whether it is about a heap in trouble."""

    intents: tuple[Intent, ...]
    signs: tuple[Told, ...]
    ails: bool


def turn(heard: Heard, read: Sequence[Intent], knowledge: Knowledge, *, in_trouble: bool, method: str = "") -> Turn:
    """What a line does.

    Args:
        heard: how the line was heard.
        read: the amounts, names, answers and requests that were read from it.
        in_trouble: whether the talk is about a heap in trouble.
        method: the kind of compost that is spoken of already, by the words of sign.method; empty if none.
    """
    signs = tuple(
        Told(f"sign.{name}", values, NOWHERE) for name, values in as_signs(signs_told(heard, knowledge, method)).items()
    )
    telling = {sign.attribute for sign in signs} - {"sign.method"}
    first = heard.acts[0] if heard.acts else ""
    troubled = "trouble" in heard.acts and first not in _OF_A_PLAN
    ails = bool(telling) and (troubled or "ask_why" in heard.acts or (in_trouble and first not in _OF_A_PLAN))
    brought = [
        one
        for one in (*_requests(heard, read), *_brought(heard, read))
        if not (isinstance(one, Told) and one.attribute in telling)
    ]
    kept_out = {name for one in heard.materials if one.qualifiers for name in one.ids}
    if kept_out:
        brought = [one for one in brought if not _bare(one, heard, kept_out)]
    if ails:
        brought = [one for one in brought if not isinstance(one, Enter | AskWhy)]
    return Turn(tuple(brought), signs, ails)


def _bare(intent: Intent, heard: Heard, qualified: set[str]) -> bool:
    """Whether an intent takes or asks about the bare material where the line tells of it in another condition."""
    match intent:
        case AskMaterial(materials, _) | HaveNot(materials, _):
            return isinstance(intent, AskMaterial) and bool(set(materials) & qualified)
        case Have(holding, _, _):
            return holding.material in qualified and _stays_out(heard, holding.material)
        case Vague(material, _, _, _, _):
            return material in qualified and _stays_out(heard, material)
        case Unclear(_, readings, _, _):
            return any(name in qualified and _stays_out(heard, name) for name in readings)
        case _:
            return False


def _stays_out(heard: Heard, material: str) -> bool:
    return any(stays_out(one.qualifiers) for one in heard.materials if material in one.ids)


def _requests(heard: Heard, read: Sequence[Intent]) -> Iterator[Intent]:
    """What the line asks of the talk itself: by its form, or because nothing else can be read of it."""
    for act in heard.acts:
        if act in _REQUESTS:
            yield Ask(_REQUESTS[act], NOWHERE)
        elif act == "load":
            yield Enter("carry-on", NOWHERE)
    if _REQUESTS.keys() & set(heard.acts):
        return
    # a question that stands alone is answered; one beside what was seen is gone into
    answered = any(question.topic for question in heard.asked) and "observation" not in heard.acts
    only_asks = all(isinstance(one, Ask | AskWhy | Enter | Pick) for one in read)
    if read and only_asks and not answered and not _TELLING & set(heard.acts[:1]):
        yield from read


def _brought(heard: Heard, read: Iterable[Intent]) -> Iterator[Intent]:
    allowed = tuple({kind for act in heard.acts for kind in _BRINGS.get(act, ())})
    if not _TELLING & set(heard.acts[:1]):
        allowed = (*allowed, WhatIf, Swap, Enter)
    requests = all(isinstance(one, Ask | AskWhy | Enter | Pick) for one in read)
    for one in read:
        if requests and isinstance(one, Ask | AskWhy | Enter | Pick):
            continue  # told by _requests
        if isinstance(one, Told) and one.attribute.startswith("sign."):
            if "answer" in heard.acts:
                yield one
            continue
        if isinstance(one, allowed):
            yield one
