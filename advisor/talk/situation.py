"""A line that says who somebody is, where, and what there is to compost, before any heap stands: it asks for advice.

"Terraced house, small yard, rats in the alley, family of four, cooked leftovers": rats in the alley are no rats in a
heap, somebody who cannot turn anything has no heap that was never turned, and scraps are what there is to begin with.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from advisor.hearing.shapes import Fact, Heard, HeardAmount, HeardMaterial, Question
from advisor.talk.manures import manures_of, of_the_animals

#: Signs that such a line may seem to tell, though it tells of no heap: what is in it, the weather, the ground, wishes.
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
        "sign.age",
        "sign.origin",
        "sign.size",
    ]
)
#: Of these a line may tell that says which vessel there is: nothing is wrong with it.
_OF_A_VESSEL = frozenset({"sign.method", "sign.holds", "sign.age"})
#: Told of a wish, by the name of a season, or of the ground.
_NO_SIGNS = frozenset({("sign.smell", "none"), ("sign.weather", "mild"), ("sign.liquid", "standing")})
_HOUSEHOLD = ("place.", "wish.", "household.")
_TELLING = frozenset(
    {"answer", "trouble", "observation", "stock", "circumstance", "ask_plan", "ask_material", "leave", "help"}
)
#: A line of no other kind lists what there is.
_LISTED = frozenset({"stock", "circumstance", "ask_plan"})
_VESSELS = frozenset({"heap", "bin", "tumbler", "worm bin", "fermented bucket", "leaf heap", "trench"})
_SPACE = "place.space"
_INDOORS = "flat"
#: So many circumstances, or things to compost, tell of a situation; or one of each.
_FEW = 2
#: What nobody composts, what comes out of a heap, and the ground under it.
NO_STUFF = frozenset({"finished-compost", "unfinished-compost", "garden-soil", "clay", "glass-metal-stones", "plastic"})
_NAMED = ("told", "asked", "supposed")


def is_situation(heard: Heard) -> bool:
    """Whether a line tells somebody's situation, and of nothing that was done or went wrong."""
    if heard.dangers or heard.feared or not heard.acts or not set(heard.acts) <= _TELLING:
        return False
    if any(fact.name.startswith("deed.") for fact in heard.told) or any(not door.request for door in heard.doors):
        return False
    signs = {fact.name for fact in heard.told if _is_sign(fact)}
    named = {piece.about for piece in heard.pieces}
    if named & _VESSELS or ("compost" in named and "sign.animals" in signs):
        has_one = any(fact.name == "place.container" for fact in heard.told)
        if signs and not (has_one and signs <= _OF_A_VESSEL):
            return False  # "the worm bin is out in the frost": it stands, and something is told of it
    elif not signs <= _SEEMING:
        return False
    if "trouble" in heard.acts and not signs:
        return False  # something is wrong, though not a word of it was understood
    if any(question.topic or (question.materials and not _only_has(question)) for question in heard.asked):
        return False
    circumstances = {fact.name for fact in heard.told if fact.name.startswith(_HOUSEHOLD)}
    if "sign.animals" in signs:
        circumstances.discard("place.pests")  # the same rats: by themselves they are a trouble
    told = len(circumstances) + bool(heard.sizes) + bool(heard.place) + ("ask_plan" in heard.acts)
    acts = {act for act in heard.acts if act != "answer"}
    if heard.acts[0] == "observation" and told < _FEW:
        return False
    if acts == {"circumstance"}:
        return told > 0
    listed = acts <= _LISTED
    return (told > 0 or listed) and told + sum(1 for _ in to_compost(heard)) >= _FEW


def _is_sign(fact: Fact) -> bool:
    return fact.name.startswith("sign.") and (fact.name, fact.value) not in _NO_SIGNS


def _only_has(question: Question) -> bool:
    """Whether what seems a question only leaves out who has it: "have grass, straw"."""
    return question.said.casefold().startswith(("have ", "got ")) and "?" not in question.said


def as_situation(heard: Heard) -> Heard:
    """The line as stock and circumstance: without the signs that it only seems to tell, and with all stuff as there.

    What it names without an amount gets an amount of no size, to be taken at a guess; where it names nothing but
    animals, that is their manure.
    """
    told = tuple(fact for fact in heard.facts if not fact.name.startswith("sign."))
    stuff = list(to_compost(heard))
    animals = animals_kept(heard)
    counted = {name for one in heard.amounts if one.kind == "have" for name in one.ids}
    amounts = [
        one if counted & set(one.ids) else _as_there(one)
        for one in heard.amounts
        if one.quantity is not None or not NO_STUFF & set(one.ids)  # "clay soil" is no stuff to build with
    ]
    counted |= {name for one in amounts for name in one.ids}
    for one in stuff:
        ids = of_the_animals(one.ids, animals)
        if len(ids) == 1 and counted.isdisjoint((*one.ids, *ids)):
            counted |= {*one.ids, *ids}
            amounts.append(HeardAmount(ids, one.said, one.said, "told", one.start, one.end))
    for manure in manures_of(animals) if not stuff else ():
        amounts.append(HeardAmount((manure,), "manure", heard.text, "told", 0, len(heard.text)))
    acts = ("stock", "circumstance") if stuff or animals else ("circumstance",)
    asks = tuple(act for act in heard.acts if act == "ask_plan")
    return replace(
        heard,
        acts=(*acts, *asks),
        facts=_with_the_place(told, heard.place),
        materials=tuple(replace(one, stance="told") if one in stuff else one for one in heard.materials),
        amounts=tuple(sorted(amounts, key=lambda one: one.start)),
        doors=(),
    )


def _as_there(amount: HeardAmount) -> HeardAmount:
    """An amount that comes in where nothing is kept yet: "our cafe throws out 20 kg of coffee grounds a week"."""
    return replace(amount, kind="have") if amount.kind in ("less", "used") else amount


def _with_the_place(facts: Sequence[Fact], in_passing: str) -> tuple[Fact, ...]:
    """Facts with one kind of place, if any is told: a flat gives way to its balcony, "no garden" to a flat.

    Args:
        in_passing: the kind of place that shows in passing; empty if none does.
    """
    spaces = [fact for fact in facts if fact.name == _SPACE and fact.stance == "told"]
    concepts = [fact.concept for fact in spaces]
    sharp = [fact for fact in spaces if concepts.count(fact.concept) == 1]
    kept = [fact for fact in sharp if fact.value != _INDOORS] or sharp or spaces
    values = {fact.value for fact in kept}
    if in_passing and (not values or (in_passing != _INDOORS and (len(values) > 1 or values == {_INDOORS}))):
        kept = [Fact(_SPACE, in_passing, "told", in_passing)]
    return (*(fact for fact in facts if fact not in spaces), *kept)


def to_compost(heard: Heard) -> Iterator[HeardMaterial]:
    """What such a line names that may be composted."""
    for one in heard.materials:
        if one.stance in _NAMED and not one.likened and not NO_STUFF & set(one.ids):
            yield one


def animals_kept(heard: Heard) -> set[str]:
    """The animals that a line tells are kept, by the words of household.animals."""
    return {fact.value for fact in heard.told if fact.name == "household.animals"}
