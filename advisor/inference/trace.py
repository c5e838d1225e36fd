"""Why a fact holds: the rules that concluded it, the facts they saw, and so on down to what was told."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from advisor.errors import InferenceFault
from advisor.inference.engine import Consultation, Firing
from advisor.inference.facts import ABSENCE, nearest
from advisor.knowledge.shapes import Evidence
from advisor.records import dataclass

#: `told` by the person, `computed` by the arithmetic, `unanswered` by anyone, or concluded by a `rule`.
Origin = Literal["told", "computed", "unanswered", "rule"]

_STEP = 2
_NARROWEST = 24


@dataclass(frozen=True, slots=True)
class Reason:
    """A fact and one reason for it.

    Attributes:
        statement: the key of the fact.
        origin: how it came to be known.
        said: the words it was told with ("you said: 3 sacks"); empty for a rule's conclusion.
        rule, because, source, evidence: of the rule that concluded it; empty for what was told.
        children: a reason for each fact the rule saw, in the order of its conditions.
        also: further reasons for the same statement.
        again: the statement was explained before in this tree, and is not explained twice.
    """

    statement: str
    origin: Origin
    said: str = ""
    rule: str = ""
    because: str = ""
    source: tuple[str, ...] = ()
    evidence: Evidence | None = None
    children: tuple[Reason, ...] = ()
    also: tuple[Reason, ...] = ()
    again: bool = False


def tree(consultation: Consultation, key: str) -> Reason:
    """Why the fact of that key holds, during the consultation or after it.

    Every branch ends in something told: a rule that holds only on its own conclusion is no reason for it.

    Raises:
        InferenceFault: no such fact is known.
    """
    if key not in consultation.known:
        raise InferenceFault(f"'{key}' is not known", hint=nearest(key, consultation.known))
    return _Explainer(consultation).reason(key, frozenset())


class _Explainer:
    def __init__(self, talk: Consultation) -> None:
        self.talk = talk
        self.explained: set[str] = set()

    def reason(self, key: str, above: frozenset[str]) -> Reason:
        said = self.talk.said(key)
        grounds = self.grounds(key, above | {key})
        if grounds and key in self.explained:
            return Reason(key, self.origin(key) if said else "rule", said, again=True)
        self.explained.add(key)
        concluded = [self.concluded(key, firing, above | {key}) for firing in grounds]
        if said:
            return Reason(key, self.origin(key), said, also=tuple(concluded))
        first, *rest = concluded
        return replace(first, also=tuple(rest))

    def concluded(self, key: str, firing: Firing, above: frozenset[str]) -> Reason:
        rule = self.talk.rules[firing.rule]
        children = tuple(self.reason(each, above) for each in firing.matched)
        return Reason(key, "rule", "", rule.id, rule.because, rule.source, rule.evidence, children)

    def grounds(self, key: str, without: frozenset[str]) -> list[Firing]:
        """The firings that conclude it and hold on other grounds than the facts being explained."""
        firings = self.talk.concluding(key)
        if not firings or not self.talk.circular:
            return list(firings)
        holds = {each for each in self.talk.known if self.talk.said(each)} - without
        waiting = list(self.talk.firings)
        while True:
            ready = [firing for firing in waiting if holds.issuperset(firing.matched)]
            if not ready:
                return [firing for firing in firings if holds.issuperset(firing.matched)]
            waiting = [firing for firing in waiting if not holds.issuperset(firing.matched)]
            holds.update(each for firing in ready for each in firing.concluded if each not in without)

    def origin(self, key: str) -> Origin:
        fact = self.talk.known[key]
        if fact.kind == ABSENCE:
            return "unanswered"
        declared = self.talk.kinds[fact.kind].attributes[fact.attribute].origin
        return "computed" if declared == "computed" else "told"


def render(reason: Reason, *, width: int = 80) -> str:
    """The tree as indented plain text, no line wider than `width` where words allow it."""
    return "\n".join(_lines(reason, "", 0, width))


def _lines(reason: Reason, lead: str, depth: int, width: int) -> Iterator[str]:
    note = f" ({reason.said})" if reason.said else " (as above)" if reason.again else ""
    yield from _wrapped(f"{lead}{reason.statement}{note}", depth, width)
    if reason.again:
        return
    if reason.rule:
        yield from _grounds(reason, "because", depth + 1, width)
    shown = {reason.rule}
    for other in reason.also:
        if other.rule in shown:
            yield from _seen(other, "or since", depth + 1, width)
        else:
            yield from _grounds(other, "also because" if reason.rule else "besides, because", depth + 1, width)
        shown.add(other.rule)


def _grounds(reason: Reason, lead: str, depth: int, width: int) -> Iterator[str]:
    yield from _wrapped(f"{lead} {reason.because}", depth, width)
    yield from _wrapped(f"[{reason.rule}: {reason.evidence}, {', '.join(reason.source)}]", depth, width)
    yield from _seen(reason, "since", depth, width)


def _seen(reason: Reason, lead: str, depth: int, width: int) -> Iterator[str]:
    for place, child in enumerate(reason.children):
        yield from _lines(child, f"{lead} " if place == 0 else "and ", depth, width)


def _wrapped(text: str, depth: int, width: int) -> list[str]:
    indent = " " * (depth * _STEP)
    room = max(width, len(indent) + _NARROWEST)
    return textwrap.wrap(
        text,
        room,
        initial_indent=indent,
        subsequent_indent=indent + " " * _STEP,
        break_long_words=False,
        break_on_hyphens=False,
    )
