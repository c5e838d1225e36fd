"""A line that told or asked of something wrong without opening a trouble, and the lines that tell more of it.

Whoever asks "are they snakes" and then tells how long they are goes on about what is wrong: it is neither a list for a
plan nor a matter of its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from advisor.counsel.doubts import attribute_of
from advisor.hearing.hear import hear
from advisor.hearing.pointing import points
from advisor.hearing.shapes import Asked as Put
from advisor.hearing.shapes import Fact, Heard
from advisor.knowledge.base import Knowledge
from advisor.talk.asking import NOWHERE
from advisor.talk.intents import Have, Intent, Told, Unclear, Vague
from advisor.talk.turns import GROUND

#: Signs that somebody has seen who asks whether they are these: "are they snakes", "is that mould".
_SEEN_IF_ASKED = frozenset({"sign.animals", "sign.looks", "sign.effects", "sign.liquid"})
#: What a line may be that tells more of what the one before it opened.
_GOES_ON = frozenset({"trouble", "observation", "deed", "stock", "circumstance"})
#: A bare word for how wet it is counts where it can mean nothing else.
_HOW_WET = "sign.moisture"
_BARE = frozenset({"dry", "wet"})


def asked_of(heard: Heard) -> tuple[Told, ...]:
    """Signs that a line asks about while it points at them: whatever they are, they are there."""
    asked = [fact for fact in heard.facts if fact.name in _SEEN_IF_ASKED and points(fact)]
    return tuple(Told(fact.name, (fact.value,), NOWHERE) for fact in asked)


def opens(heard: Heard) -> bool:
    """Whether a line tells or asks of something wrong."""
    signs = any(fact.name.startswith("sign.") and fact.name not in GROUND for fact in heard.told)
    ill = any(fact.name == "material.diseased" and points(fact) for fact in heard.facts)
    return bool(heard.dangers or asked_of(heard) or ("trouble" in heard.acts and signs) or ill)


def _measures_out(heard: Heard) -> bool:
    return any(one.quantity is not None and one.measured and one.stance == "told" for one in heard.amounts)


def without_stock(heard: Heard, intents: Sequence[Intent]) -> tuple[Intent, ...]:
    """What a line brings, without stuff that is only named beside the question what it is: "grey wool, is it mould"."""
    if not asked_of(heard) or _measures_out(heard):
        return tuple(intents)
    return tuple(one for one in intents if not isinstance(one, Have | Vague | Unclear))


def goes_on(heard: Heard) -> bool:
    """Whether a line only tells, and measures nothing out that a plan could be made of."""
    picks_nothing = heard.acts == ("answer",) and not heard.named
    tells = not heard.acts or heard.acts[0] in _GOES_ON or picks_nothing
    tells = tells or (heard.acts[0] == "off" and not heard.courtesy)
    return tells and not heard.asked and not _measures_out(heard)


def with_how_wet(heard: Heard, knowledge: Knowledge) -> Heard:
    """A line with how wet it is, where it says so in a bare word and tells nothing else of it: "papery and dry"."""
    told = {fact.name for fact in heard.told}
    free = heard.acts[:1] in ((), ("observation",)) and not heard.asked and not heard.materials
    denied = any(fact.stance == "denied" for fact in heard.facts)
    if not free or denied or told - {"sign.texture"}:
        return heard
    words = attribute_of(_HOW_WET, knowledge).words
    values = list(words)
    also = tuple((text, value.replace("-", " ")) for value, text in words.items())
    ask = next(one.ask for one in knowledge.sign_questions if one.attribute == _HOW_WET)
    beside = hear(heard.text, knowledge, Put(ask, tuple(words.values()), "", also, many=False, attribute=_HOW_WET))
    found = [values[number - 1] for number in beside.options if number <= len(values)]
    if len(found) != 1 or found[0] not in _BARE:
        return heard
    fact = Fact(_HOW_WET, found[0], "told", heard.text, about=heard.about, end=len(heard.text))
    return replace(heard, facts=(*heard.facts, fact))


def as_told(heard: Heard) -> Heard:
    """A line that only names the ground, as what it is where something is wrong: told, and no question of soil."""
    if heard.acts[:1] != ("ask_soil",) or any(one.topic for one in heard.asked) or any(p.asks for p in heard.pieces):
        return heard
    others = tuple(act for act in heard.acts if act != "ask_soil")
    return replace(heard, acts=others or ("observation",), asked=())
