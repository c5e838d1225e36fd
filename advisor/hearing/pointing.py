"""Whether what is asked is asked of something that is there: "are those rats", and not "do rats like compost"."""

from __future__ import annotations

from advisor.hearing.shapes import Fact

_POINTERS = frozenset({"it", "that", "they", "those", "these", "this", "the", "my", "our"})


def points(fact: Fact) -> bool:
    """Whether the words that make a fact asked about point at something somebody sees."""
    return fact.stance == "asked" and not _POINTERS.isdisjoint(fact.because.casefold().split())
