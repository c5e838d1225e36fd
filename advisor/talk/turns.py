"""What a line that was heard does in the talk: which intents it brings, in the order in which they are answered.

Amounts, names and answers about the household are still read by talk/understand.py; what kind of thing the line is
decides which of them count, so that nothing that is asked, feared or denied becomes a fact.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from advisor.hearing.shapes import Fact, Heard
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
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

#: The kinds of compost by the thing that a line is about.
METHOD_OF: Mapping[str, str] = {
    "heap": "open-heap",
    "bin": "bin",
    "tumbler": "tumbler",
    "worm bin": "worm-bin",
    "fermented bucket": "fermented-bucket",
    "leaf heap": "leaf-heap",
    "trench": "trench",
}
#: "The heap" and "the bin" are what anybody calls anything: they take no other vessel's place.
_GENERAL = frozenset({"open-heap", "bin"})

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
#: A line that tells of one of these first supposes nothing and opens no guided interview.
_TELLING = frozenset({"trouble", "danger", "observation", "deed"})
_REQUESTS: Mapping[str, Request] = {
    "undo": "back",
    "save": "save",
    "help": "help",
    "start_over": "again",
    "leave": "leave",
}
#: Of the signs of one kind that cannot both hold, these count before all others.
GRAVEST: Mapping[str, tuple[str, ...]] = {
    "warmth": ("burning", "smoking", "too-hot", "frozen"),
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
    signs = tuple(signs_told(heard, knowledge, method))
    telling = {sign.attribute for sign in signs} - {"sign.method"}
    ails = bool(telling) and ("trouble" in heard.acts or "ask_why" in heard.acts or in_trouble)
    brought = [
        one
        for one in (*_requests(heard, read), *_brought(heard, read))
        if not (isinstance(one, Told) and one.attribute in telling)
    ]
    if ails:
        brought = [one for one in brought if not isinstance(one, Enter | AskWhy)]
    return Turn(tuple(brought), signs, ails)


def signs_told(heard: Heard, knowledge: Knowledge, method: str = "") -> Iterator[Told]:
    """The signs that a line tells, one for each attribute of `sign`; of values that cannot both hold, the gravest."""
    declared = knowledge.kinds["sign"].attributes
    values: dict[str, list[Value]] = {}
    for fact in heard.told:
        kind, _, name = fact.name.partition(".")
        if kind != "sign" or name not in declared or name == "method":
            continue
        value = _value(fact, declared[name].number is not None)
        if value is not None and (declared[name].number is not None or value in declared[name].words):
            values.setdefault(name, []).append(value)
    named = METHOD_OF.get(heard.about, "")
    if named and any(piece.about == heard.about for piece in heard.pieces) and not (named in _GENERAL and method):
        values.setdefault("method", []).append(named)
    for name, found in values.items():
        once = tuple(dict.fromkeys(found))
        yield Told(f"sign.{name}", once if declared[name].many else (_gravest(name, once),), NOWHERE)


def gone(heard: Heard) -> Iterator[tuple[str, str]]:
    """Signs that a line denies or says are past: attribute of `sign` and value."""
    for fact in heard.facts:
        kind, _, name = fact.name.partition(".")
        if kind == "sign" and fact.stance in ("denied", "past"):
            yield name, fact.value


def _value(fact: Fact, is_number: bool) -> Value | None:
    if not is_number:
        return fact.value
    try:
        return float(fact.value)
    except ValueError:
        return None


def _gravest(name: str, values: Sequence[Value]) -> Value:
    """The value that counts of several that cannot both hold: the gravest, else the one that was said last."""
    return next((grave for grave in GRAVEST.get(name, ()) if grave in values), values[-1])


def _requests(heard: Heard, read: Sequence[Intent]) -> Iterator[Intent]:
    """What the line asks of the talk itself: by its form, or because nothing else can be read of it."""
    for act in heard.acts:
        if act in _REQUESTS:
            yield Ask(_REQUESTS[act], NOWHERE)
        elif act == "load":
            yield Enter("carry-on", NOWHERE)
    if _REQUESTS.keys() & set(heard.acts):
        return
    if read and all(isinstance(one, Ask | AskWhy | Enter | Pick) for one in read) and not _TELLING & set(heard.acts):
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
