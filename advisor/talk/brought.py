"""Which of the amounts, names, answers and requests that were read from a line count, by what kind of thing it is."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from advisor.hearing.shapes import Heard
from advisor.talk.asking import NOWHERE
from advisor.talk.intents import (
    Ask,
    AskMaterial,
    AskWhy,
    Enter,
    Have,
    HaveNot,
    Intent,
    Less,
    Lost,
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
from advisor.talk.stock_named import asks_to_begin

_STOCK = (Have, HaveNot, Less, Vague, Unclear, TellMeasure)
_CIRCUMSTANCE = (Told, TellRoom, TellMeasure, Which)
#: What each kind of thing may bring of what was read as amounts, names, answers and requests.
_BRINGS: Mapping[str, tuple[type, ...]] = {
    "stock": (*_STOCK, Enter, Lost),
    "circumstance": (*_CIRCUMSTANCE, HaveNot),
    "correct": (*_STOCK, *_CIRCUMSTANCE, Lost),
    "answer": (*_STOCK, *_CIRCUMSTANCE, Pick, Ask, Lost),
    "swap": (Swap, WhatIf, HaveNot),
    "what_if": (WhatIf, Swap),
    "ask_material": (AskMaterial,),
    "ask_plan": (*_STOCK, *_CIRCUMSTANCE, Enter, Lost),
    "ask_why": (AskWhy,),
}
#: Questions in which amounts and names are those of what is asked about.
TELLS_NO_STOCK = frozenset({"ask_soil", "ask_use", "ask_ready", "ask_material", "ask_why"})
#: Questions that change nothing of the mix: "how do I make a worm bin" does not try one out.
_SUPPOSES_NOTHING = frozenset({"ask_material", "ask_how", "ask_why", "ask_ready", "ask_use", "ask_soil"})
#: A line that tells of one of these first supposes nothing and opens no guided interview.
_TELLING = frozenset({"trouble", "danger", "observation", "deed"})
_REQUESTS: Mapping[str, Request] = {
    "undo": "back",
    "redo": "redo",
    "save": "save",
    "paper": "paper",
    "calendar": "calendar",
    "help": "help",
    "start_over": "again",
    "leave": "leave",
}


def requested(heard: Heard, read: Sequence[Intent]) -> Iterator[Intent]:
    """What the line asks of the talk itself: by its form, or because nothing else can be read of it."""
    for act in heard.acts:
        if act == "undo" and "start_over" in heard.acts:
            continue
        amounts = any(isinstance(one, _STOCK) for one in read)
        if act in ("units", "correct") and not amounts and (units := _units(heard)):
            yield Ask(units, NOWHERE)
        elif act in _REQUESTS:
            yield Ask(_REQUESTS[act], NOWHERE)
        elif act == "load":
            yield Enter("carry-on", NOWHERE)
    if (_REQUESTS.keys() | {"units"}) & set(heard.acts):
        return
    if any(question.topic == _WHAT_IS_KNOWN for question in heard.asked):
        yield Ask("list", NOWHERE)
        return
    # a question that stands alone is answered; one beside what was seen is gone into
    answered = any(question.topic for question in heard.asked) and "observation" not in heard.acts
    only_asks = all(isinstance(one, Ask | AskWhy | Enter | Pick) for one in read)
    if read and only_asks and not answered and not _TELLING & set(heard.acts[:1]):
        yield from read


#: The topic of a question for what was told so far.
_WHAT_IS_KNOWN = "how-much-have"


def _units(heard: Heard) -> Request | None:
    """The units a line asks for: of those it names, the last that it does not deny."""
    words = re.findall(r"[a-z]+", heard.text.lower())
    named: Request | None = None
    for at, word in enumerate(words):
        for units, names in _UNITS.items():
            if word in names and words[at - 1 : at] != ["not"]:
                named = units
    return named


_UNITS: Mapping[Request, frozenset[str]] = {
    "us": frozenset(
        [
            "fahrenheit",
            "imperial",
            "us",
            "american",
            "pounds",
            "lbs",
            "gallons",
            "feet",
            "inches",
            "yards",
            "ounces",
            "quarts",
            "f",
        ]
    ),
    "metric": frozenset(
        [
            "celsius",
            "centigrade",
            "metric",
            "litres",
            "liters",
            "kilos",
            "kg",
            "metres",
            "meters",
            "cm",
            "centimetres",
            "grams",
            "c",
        ]
    ),
}


def brought_by(heard: Heard, read: Sequence[Intent], open_attribute: str) -> Iterator[Intent]:
    """What counts of what was read from a line, by the kinds of thing that it is.

    Args:
        read: the amounts, names, answers and requests that were read from it.
        open_attribute: what the open question asks for; empty if none is open.
    """
    allowed = tuple({kind for act in heard.acts for kind in _BRINGS.get(act, ())})
    if not _TELLING & set(heard.acts[:1]):
        allowed = (*allowed, WhatIf, Swap, Enter)
    first = heard.acts[0] if heard.acts else ""
    firm = first in _TELLING or (first.startswith("ask_") and first != "ask_plan")
    firm = firm and not ("stock" in heard.acts and asks_to_begin(heard))
    told = {open_attribute, *(fact.name for fact in heard.told)}
    if not heard.asked and all(isinstance(one, Told) for one in read):
        told |= {one.attribute for one in read if isinstance(one, Told)}  # the whole line tells of the household
    requests = all(isinstance(one, Ask | AskWhy | Enter | Pick) for one in read)
    corrects = heard.correcting and any(isinstance(one, _STOCK) for one in read)
    for one in read:
        if corrects and isinstance(one, Ask) and one.request == "back":
            continue  # "no wait, the straw is 2 bales" puts one amount right and takes nothing back
        of_a_list = isinstance(one, Vague | Unclear) and one.holding is not None and "stock" in heard.acts
        if firm and isinstance(one, Vague | Unclear | Which | Enter) and not of_a_list:
            continue  # nothing is guessed from what is said in passing, but "a heap of straw" is an amount
        if firm and isinstance(one, Told) and one.attribute not in told:
            continue
        if first in _SUPPOSES_NOTHING and isinstance(one, WhatIf | Swap):
            continue
        if first in TELLS_NO_STOCK and isinstance(one, Have | HaveNot | Less):
            continue
        if isinstance(one, Which) and one.attribute in told and _is_told_sharply(one, heard):
            continue
        if requests and isinstance(one, Ask | AskWhy | Enter | Pick):
            continue  # told by `requested`
        if isinstance(one, Told) and one.attribute.startswith("sign."):
            if "answer" in heard.acts and not any(name.startswith("sign.") for name in told - {open_attribute}):
                yield one
            continue
        if isinstance(one, allowed):
            yield one


def _is_told_sharply(which: Which, heard: Heard) -> bool:
    """Whether a line tells which of several values it is; "a bin" alone leaves open which bin."""
    values = [fact.value for fact in heard.told if fact.name == which.attribute]
    return not values or not set(values) <= set(which.values) or len(set(values)) == 1
