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
_THEN = listed("was were had been went came blew got ran reached hit did looked gave")
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
        if (
            (fact.name, fact.value) == ("sign.progress", "stalled")
            and fact.stance == "told"
            and _heat_went(found, fact)
        ):
            continue  # "went to 60 and then died": it is the heat that died
        behind = [one for one in found if one.start > fact.start and f"{one.name}={one.value}" in _IDLE]
        hot = (fact.name, fact.value) in _HOT and fact.stance in ("told", "past")
        if hot and any(one.stance == "told" for one in behind) and (fact.stance == "past" or _is_then(finder, fact)):
            yield replace(fact, stance="past", because=fact.said)
            if not any(one.name == "sign.heat_before" and one.stance == "told" for one in found):
                yield replace(fact, name="sign.heat_before", value="was-hot", concept="was-hot", stance="told")
        else:
            yield fact


def _heat_went(found: Sequence[Fact], stalled: Fact) -> bool:
    """Whether other words than those of a halt tell that heat went."""
    return any(
        (one.name, one.value, one.stance) == ("sign.heat_before", "was-hot", "told")
        and not stalled.start <= one.start < stalled.end
        for one in found
    )


#: Of these one value is true at a time, so that what was is over once another is told.
_ONE_AT_A_TIME = frozenset({"sign.moisture", "sign.liquid", "sign.cover"})
#: What is over says nothing of these: deeds stay done, and heat that went is told by `cooled`.
_STAYS = ("deed.", "material.", "household.", "place.", "wish.", "sign.heat_before", "sign.warmth", "sign.age")


def over(finder: Finder, found: Sequence[Fact]) -> Iterator[Fact]:
    """The facts of a line, with what was and is over as past, and what is only named beside its denial as denied.

    "There were maggots, I covered it and they were gone by Sunday"; "It's not rats. I know what rats do."
    """
    words = finder.line.words
    ends = [words[at].start for at in range(len(words)) if finder.things("is-over", at)]
    denied = {(fact.name, fact.value) for fact in found if fact.stance == "denied"}
    for fact in found:
        if fact.stance == "told" and (fact.name, fact.value) in denied and fact.said.isalpha():
            yield replace(fact, stance="denied", because=fact.said)
        elif fact.stance == "told" and _is_over(fact, found, ends) and _is_then(finder, fact):
            yield replace(fact, stance="past", because=fact.said)
        else:
            yield fact


def _is_over(fact: Fact, found: Sequence[Fact], ends: Sequence[int]) -> bool:
    """Whether a later part of a line says that a sign is over, or tells another value of it."""
    if any(
        one.name == fact.name in _ONE_AT_A_TIME and one.value != fact.value and one.start > fact.end
        for one in found
        if one.stance == "told"
    ):
        return True
    return not fact.name.startswith(_STAYS) and any(start >= fact.end for start in ends)
