"""A line that says who somebody is, where, and what there is to compost, before any heap stands: it asks for advice.

"Terraced house, small yard, rats in the alley, family of four, cooked leftovers": rats in the alley are no rats in a
heap, somebody who cannot turn anything has no heap that was never turned, and scraps are what there is to begin with.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from advisor.hearing.shapes import Fact, Heard, HeardMaterial
from advisor.talk.intents import Vague
from advisor.talk.manures import of_the_animals

#: Signs that such a line may seem to tell, though it tells of no heap: what is in it, the weather, the ground.
_SEEMING = frozenset(
    [
        "sign.holds",
        "sign.mix",
        "sign.method",
        "sign.weather",
        "sign.animals",
        "sign.turned",
        "sign.progress",
        "sign.plants",
        "sign.place",
        "sign.cover",
        "sign.stage",
        "sign.degrees",
        "sign.speed",
    ]
)
_HOUSEHOLD = ("place.", "wish.", "household.")
#: What tells that a heap or a vessel stands.
_STANDS = frozenset({"place.container", "sign.method", "sign.age", "sign.built", "sign.smell", "sign.liquid"})
_TELLING = frozenset(
    {"answer", "trouble", "observation", "stock", "circumstance", "ask_plan", "ask_material", "leave", "deed"}
)
_SPACE = "place.space"
#: Who has a flat and a balcony, or a share in a courtyard, composts there.
_INDOORS = "flat"
#: So many circumstances tell of a situation; one, where something to compost is named beside it.
_FEW = 2
#: What nobody composts, and what stands under a heap.
_NO_STUFF = frozenset(
    {"finished-compost", "unfinished-compost", "garden-soil", "clay", "glass-metal-stones", "plastic"}
)
_NAMED = ("told", "asked", "supposed")


def is_situation(heard: Heard) -> bool:
    """Whether a line tells somebody's situation, and of nothing that stands, was done or went wrong."""
    if heard.dangers or heard.feared or not heard.acts or not set(heard.acts) <= _TELLING:
        return False
    told = {fact.name for fact in heard.told}
    if told & _STANDS or any(name.startswith("deed.") for name in told):
        return False
    if any(name.startswith("sign.") and name not in _SEEMING for name in told):
        return False
    if any(question.topic for question in heard.asked) or any(_is_vessel(piece.about) for piece in heard.pieces):
        return False
    circumstances = {fact.name for fact in heard.told if fact.name.startswith(_HOUSEHOLD)}
    stuff = list(to_compost(heard))
    return len(circumstances) + bool(heard.sizes) >= (1 if stuff else _FEW)


def _is_vessel(about: str) -> bool:
    return about in ("heap", "bin", "tumbler", "worm bin", "fermented bucket", "leaf heap", "trench")


def as_situation(heard: Heard) -> Heard:
    """The line without the signs that it only seems to tell, as stock and circumstance."""
    facts = tuple(fact for fact in heard.facts if not fact.name.startswith("sign."))
    facts = tuple(fact for fact in facts if fact not in _no_space(facts))
    acts = ("stock", "circumstance") if any(to_compost(heard)) else ("circumstance",)
    asks = tuple(act for act in heard.acts if act == "ask_plan")
    return replace(heard, facts=facts, acts=(*acts, *asks))


def _no_space(facts: Sequence[Fact]) -> list[Fact]:
    """What seems to tell the kind of place and gives way: a flat to its balcony, "no garden" to a flat."""
    spaces = [fact for fact in facts if fact.name == _SPACE and fact.stance == "told"]
    concepts = [fact.concept for fact in spaces]
    sharp = [fact for fact in spaces if concepts.count(fact.concept) == 1]
    outdoors = [fact for fact in sharp if fact.value != _INDOORS]
    kept = outdoors or sharp or spaces
    return [fact for fact in spaces if fact not in kept]


def to_compost(heard: Heard) -> Iterator[HeardMaterial]:
    """What such a line names that may be composted."""
    for one in heard.materials:
        if one.stance in _NAMED and not one.likened and not _NO_STUFF & set(one.ids):
            yield one


def guessed_stock(heard: Heard, counted: set[str]) -> Iterator[Vague]:
    """The materials of such a line of which it tells no amount, to be taken at a guess.

    Args:
        counted: the materials of which an amount was read.
    """
    animals = {fact.value for fact in heard.told if fact.name == "household.animals"}
    for one in to_compost(heard):
        ids = of_the_animals(one.ids, animals)
        if counted.isdisjoint(ids) and len(ids) == 1:
            counted.add(ids[0])
            yield Vague(ids[0], one.said, (one.start, one.end))
