"""Of intents that were read from the same words, those that count."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from advisor.talk.intents import (
    Ask,
    AskMaterial,
    AskWhy,
    Enter,
    Have,
    HaveNot,
    Intent,
    Swap,
    Told,
    Unclear,
    Vague,
    WhatIf,
)


def without_rivals(found: Sequence[Intent]) -> list[Intent]:
    """Without what other intents say better by the same words, and one of those that say the same."""
    doors = [one for one in found if isinstance(one, Enter)]
    named = [one for one in found if isinstance(one, Vague | Unclear) and any(_within(one, door) for door in doors)]
    said = [one for one in found if not isinstance(one, Ask | Enter) and one not in named]
    swaps = [one for one in found if isinstance(one, Swap)]
    supposes = any(isinstance(one, WhatIf) for one in found)
    asked = [one for one in found if isinstance(one, AskWhy | AskMaterial)]
    kept: list[Intent] = []
    for one in found:
        if isinstance(one, Ask) and one.request in ("yes", "no") and len(found) > 1:
            continue
        if isinstance(one, Enter) and any(_within(one, other) for other in said if not isinstance(other, HaveNot)):
            continue
        if isinstance(one, Ask) and (supposes or any(_overlap(one, other) for other in said)):
            continue
        if isinstance(one, AskMaterial) and (supposes or doors):
            continue
        if isinstance(one, Told | Vague | Unclear | HaveNot) and any(_overlap(one, other) for other in asked):
            continue
        if one in named:
            continue
        if isinstance(one, Have | Vague | Unclear | HaveNot) and any(_overlap(one, swap) for swap in swaps):
            continue
        if not any(_same(one, other) for other in kept):
            kept.append(one)
    return kept


def _overlap(one: Intent, other: Intent) -> bool:
    return one.span[0] < other.span[1] and other.span[0] < one.span[1]


def _within(one: Intent, other: Intent) -> bool:
    return other.span[0] <= one.span[0] and one.span[1] <= other.span[1]


def _same(one: Intent, other: Intent) -> bool:
    return type(one) is type(other) and replace(one, span=other.span) == other
