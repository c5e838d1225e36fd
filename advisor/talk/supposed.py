"""What a question asks after or supposes of materials: those it names, and changes of what is on hand."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from advisor.hearing.shapes import Heard
from advisor.household.shapes import Household
from advisor.talk.asking import NOWHERE
from advisor.talk.intents import AskMaterial, Have, Swap, WhatIf


def asked_materials(heard: Heard) -> Iterator[AskMaterial]:
    """The materials that a line with a question names, at most two: the first is what most lines ask about."""
    stuff = [one for one in heard.materials if not set(one.ids) & _NO_STUFF]
    for ids in list(dict.fromkeys(one.ids for one in stuff))[:2]:
        yield AskMaterial(ids, NOWHERE)


#: What comes out of a heap, or stands under it: "can leaves go in the compost" does not ask after compost.
_NO_STUFF = frozenset({"finished-compost", "garden-soil"})


def supposed_changes(heard: Heard, household: Household) -> tuple[WhatIf | Swap, ...]:
    """What a question supposes of what is on hand: "what if I double the leaves", "straw instead of leaves"."""
    words = re.findall(r"[a-z]+", heard.text.lower())
    factor = next((_TIMES[word] for word in words if word in _TIMES), None)
    named = {name for one in heard.materials for name in one.ids}
    held = [one for one in household.holdings if one.material in named]
    others = [one.ids[0] for one in heard.materials if not set(one.ids) & {each.material for each in held}]
    if len(held) == 1 and len(others) == 1 and {"than", "instead", "swap", "replace"} & set(words):
        return (Swap(held[0].material, others[0], NOWHERE),)
    if factor is None or not held:
        return ()
    made = []
    for one in held:
        was = one.quantity
        times = replace(was, count=was.count * factor, low=was.low * factor, high=was.high * factor)
        made.append(Have(replace(one, quantity=times), NOWHERE))
    return (WhatIf(tuple(made), NOWHERE),)


#: How many times as much a word supposes. "More" and "less" by themselves: our estimate.
_TIMES = {"double": 2.0, "twice": 2.0, "triple": 3.0, "half": 0.5, "halve": 0.5, "more": 1.5, "less": 0.5, "fewer": 0.5}
