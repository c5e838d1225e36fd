"""A line that says who somebody is, where, and what there is to compost, before any heap stands: it asks for advice.

"Terraced house, small yard, rats in the alley, family of four, cooked leftovers": rats in the alley are no rats in a
heap, somebody who cannot turn anything has no heap that was never turned, and scraps are what there is to begin with.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from advisor.hearing.shapes import Fact, Heard, HeardAmount, HeardMaterial, Question
from advisor.talk.intents import Vague
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
#: What nobody composts, and what stands under a heap.
_NO_STUFF = frozenset(
    {"finished-compost", "unfinished-compost", "garden-soil", "clay", "glass-metal-stones", "plastic"}
)
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
    """The line without the signs that it only seems to tell, as stock and circumstance."""
    facts = tuple(fact for fact in heard.facts if not fact.name.startswith("sign."))
    dropped = _no_space(facts)
    facts = tuple(fact for fact in facts if fact not in dropped)
    spaces = {fact.value for fact in facts if fact.name == _SPACE and fact.stance == "told"}
    if heard.place and (not spaces or (heard.place != _INDOORS and (len(spaces) > 1 or spaces == {_INDOORS}))):
        facts = (*(fact for fact in facts if fact.name != _SPACE), Fact(_SPACE, heard.place, "told", heard.place))
    acts = ("stock", "circumstance") if any(to_compost(heard)) or animals_kept(heard) else ("circumstance",)
    asks = tuple(act for act in heard.acts if act == "ask_plan")
    there = {name for one in heard.amounts if one.kind == "have" for name in one.ids}
    amounts = tuple(one if there & set(one.ids) else _as_there(one) for one in heard.amounts)
    return replace(heard, facts=facts, acts=(*acts, *asks), amounts=amounts, doors=())


def _as_there(amount: HeardAmount) -> HeardAmount:
    """An amount that comes in where nothing is kept yet: "our cafe throws out 20 kg of coffee grounds a week"."""
    return replace(amount, kind="have") if amount.kind in ("less", "used") else amount


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


def animals_kept(heard: Heard) -> set[str]:
    """The animals that a line tells are kept, by the words of household.animals."""
    return {fact.value for fact in heard.told if fact.name == "household.animals"}


def guessed_stock(heard: Heard, counted: set[str]) -> Iterator[Vague]:
    """The materials of such a line of which it tells no amount, to be taken at a guess; else the animals' manure.

    Args:
        counted: the materials of which an amount was read.
    """
    animals = animals_kept(heard)
    if not any(to_compost(heard)):
        for manure in manures_of(animals):
            yield Vague(manure, "manure", (0, len(heard.text)))
    for one in to_compost(heard):
        ids = of_the_animals(one.ids, animals)
        if counted.isdisjoint(ids) and len(ids) == 1:
            counted.add(ids[0])
            yield Vague(ids[0], one.said, (one.start, one.end))
