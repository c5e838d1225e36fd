"""What is said of the middle and of the outside of a heap, put together: warm within, cold without: a warm core."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from advisor.hearing.finding import Finder
from advisor.hearing.shapes import Fact

#: By the name of a fact: what is said of the inside, what of the outside, and what the two come to.
_TOGETHER = {
    "sign.warmth": (frozenset({"warm", "hot", "lukewarm"}), frozenset({"cold"}), "warm-core"),
    "sign.moisture": (frozenset({"dry"}), frozenset({"wet", "right"}), "dry-core"),
}
#: "Warm but not hot" is warm: that it is not hot does not make it cold.
_WARM = frozenset({"warm", "lukewarm"})


def zoned(finder: Finder, found: Sequence[Fact]) -> Iterator[Fact]:
    """The facts of a line, with two of one kind that are told of the middle and of the outside made one."""
    dropped: set[int] = set()
    made: list[Fact] = []
    for name, (within, without, value) in _TOGETHER.items():
        told = [fact for fact in found if fact.name == name and fact.stance == "told"]
        if len(told) < 2:
            continue
        inner = next((fact for fact in told if fact.value in within and _names(finder, fact, "sign-core")), None)
        outer = next((fact for fact in told if fact.value in without and not _names(finder, fact, "sign-core")), None)
        if inner and outer and (_names(finder, outer, "sign-outer") or outer.start > inner.start):
            dropped |= {id(inner), id(outer)}
            made.append(replace(inner, value=value))
    if any(fact.name == "sign.warmth" and fact.value in _WARM and fact.stance == "told" for fact in found):
        dropped |= {id(fact) for fact in found if fact.stance == "told" and _is_not_hot(fact)}
    yield from (fact for fact in found if id(fact) not in dropped)
    yield from made


def _names(finder: Finder, fact: Fact, zone: str) -> bool:
    """Whether the clause of a fact names a part of the heap."""
    words = finder.line.words
    clause = next(one for one in finder.line.clauses if words[one.start].start <= fact.start < words[one.end - 1].end)
    return finder.names(zone, clause.start, clause.end)


def _is_not_hot(fact: Fact) -> bool:
    """Whether a fact is that something is cold or never heats, made of a denial that it is hot."""
    return fact.concept in ("hot", "heats", "cold") and fact.value in ("cold", "never-hot") and "hot" in fact.said
