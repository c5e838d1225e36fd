"""What a deed of the same line put right: "gave her three cans, she was parched" tells of no dry heap now."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from advisor.hearing.english import listed
from advisor.hearing.finding import Finder
from advisor.hearing.shapes import Fact

#: By the deed, or by what it is now: the signs that it puts right.
_MENDS = {
    "deed.watered": frozenset({("sign.moisture", "dry"), ("sign.moisture", "dry-core"), ("sign.dust", "yes")}),
    "deed.covered": frozenset({("sign.cover", "open")}),
    "sign.cover=covered": frozenset({("sign.cover", "open")}),
}
_THEN = listed("was were had been went came blew got ran reached hit")
_NEAR = 3  # words before a sign that may say that it was then


def mended(finder: Finder, found: Sequence[Fact]) -> Iterator[Fact]:
    """The facts of a line, with signs past that are told as they were before a deed put them right."""
    told = [fact for fact in found if fact.stance == "told"]
    done = {name for fact in told for name in (fact.name, f"{fact.name}={fact.value}") if name in _MENDS}
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


_HOT = frozenset({("sign.warmth", "hot"), ("sign.warmth", "too-hot"), ("sign.warmth", "warm"), ("sign.steam", "yes")})
_IDLE = frozenset({"sign.progress=stalled", "sign.progress=nothing", "sign.warmth=cold", "sign.heat_before=was-hot"})


def cooled(finder: Finder, found: Sequence[Fact]) -> Iterator[Fact]:
    """The facts of a line, with heat that is told as it was before something idle: "was roasting, now it sulks"."""
    for fact in found:
        behind = [one for one in found if one.start > fact.start and f"{one.name}={one.value}" in _IDLE]
        hot = (fact.name, fact.value) in _HOT and fact.stance in ("told", "past")
        if hot and any(one.stance == "told" for one in behind) and (fact.stance == "past" or _is_then(finder, fact)):
            yield replace(fact, stance="past", because=fact.said)
            if not any(one.name == "sign.heat_before" and one.stance == "told" for one in found):
                yield replace(fact, name="sign.heat_before", value="was-hot", concept="was-hot", stance="told")
        else:
            yield fact
