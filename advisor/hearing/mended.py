"""What a deed of the same line put right: "gave her three cans, she was parched" tells of no dry heap now."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from advisor.hearing.english import listed
from advisor.hearing.finding import Finder
from advisor.hearing.shapes import Fact

#: By the deed: the signs that it puts right.
_MENDS = {
    "deed.watered": frozenset({("sign.moisture", "dry"), ("sign.moisture", "dry-core"), ("sign.dust", "yes")}),
    "deed.covered": frozenset({("sign.cover", "open")}),
}
_THEN = listed("was were had been went came blew got wasn weren")
_NEAR = 3  # words before a sign that may say that it was then


def mended(finder: Finder, found: Sequence[Fact]) -> Iterator[Fact]:
    """The facts of a line, with signs past that are told as they were before a deed put them right."""
    done = {fact.name for fact in found if fact.name in _MENDS and fact.stance == "told"}
    cured = {pair for name in done for pair in _MENDS[name]}
    for fact in found:
        over = (fact.name, fact.value) in cured and fact.stance == "told" and _is_then(finder, fact)
        yield replace(fact, stance="past", because=fact.said) if over else fact


def _is_then(finder: Finder, fact: Fact) -> bool:
    """Whether a sign is told in the past tense."""
    words = finder.line.words
    inside = [at for at, word in enumerate(words) if word.start >= fact.start and word.end <= fact.end]
    first = inside[0] if inside else 0
    clause = finder.line.clause_of(first)
    before = range(max(clause.start, first - _NEAR), first)
    return any(words[at].form in _THEN for at in [*before, *inside])
