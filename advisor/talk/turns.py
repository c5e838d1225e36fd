"""What a line that was heard does in the talk: which intents it brings, in the order in which they are answered.

Amounts, names and answers about the household are still read by talk/understand.py; what kind of thing the line is
decides which of them count, so that nothing that is asked, feared or denied becomes a fact.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence, Set
from dataclasses import replace

from advisor.diagnosis.signs import as_signs, signs_told
from advisor.hearing.shapes import Heard
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.talk.asking import NOWHERE
from advisor.talk.brought import TELLS_NO_STOCK, brought_by, requested
from advisor.talk.intents import (
    AskMaterial,
    AskWhy,
    Enter,
    Intent,
    Swap,
    Told,
    Unclear,
    Vague,
    WhatIf,
    Which,
)
from advisor.talk.stock_named import ASKS_AT_LARGE, BEGINNING, by_what_was_heard, in_another_condition
from advisor.talk.supposed import asked_materials, supposed_changes

#: A line that is one of these first is about what there is and where, whatever else it mentions.
_OF_A_PLAN = frozenset(
    {
        "stock",
        "circumstance",
        "swap",
        "correct",
        "ask_soil",
        "ask_use",
        "ask_ready",
        "ask_material",
        "start_over",
        "undo",
    }
)
#: Questions that are about a material if they name one and ask nothing else that is known.
_OF_STUFF = frozenset({"ask_fact", "ask_how"})
#: Harm that was done already: whatever is asked beside it, that is what ails.
_HARM_DONE = frozenset({"sign.effects"})
#: What somebody did that tells how the bin or bucket is kept, not what was done about the trouble.
_HOW_IT_IS_KEPT = frozenset({"sign.feeding", "sign.drained", "sign.bran", "sign.lid"})
#: Words of sign.holds for browns.
_BROWN_LOADS = frozenset({"leaves", "hay-straw", "paper", "woody"})
#: Signs that say what a heap is and what is in it, and by themselves of no trouble.
GROUND = frozenset(
    {
        "sign.method",
        "sign.holds",
        "sign.weather",
        "sign.age",
        "sign.built",
        "sign.origin",
        "sign.cover",
        "sign.place",
        "sign.worms",
        "sign.stage",
        "sign.pieces",
        "sign.scraps",
    }
)
#: What is told of stock where a heap ails, unless it lies beside it: what the heap is made of.
_SAYS_WHAT_IS_IN_IT = "sign.holds"
#: Things whose signs are those of a trouble.
_WHAT_AILS = frozenset({"heap", "bin", "tumbler", "worm bin", "fermented bucket", "leaf heap", "trench", "compost"})
#: Signs that are a trouble still after something was done about it.
_STILL_AILS = frozenset({"sign.smell", "sign.animals", "sign.effects", "sign.liquid", "sign.heat_before"})
#: A line that is one of these first may suppose another mix.
_SUPPOSES = frozenset({"what_if", "swap", "ask_material", "ask_fact"})
#: What is in a heap that ails counts by its kind: nothing is guessed of its amount, and no name of it is asked after.
_FOR_PLANS = (Enter, AskWhy, Vague, Unclear, Which, WhatIf, Swap)


#: A line that is one of these first and tells no sign asks for no sharper name while a heap ails.
_TELLS = frozenset({"trouble", "observation", "circumstance", "deed"})


@dataclass(frozen=True, slots=True)
class Turn:
    """What a line does: the intents it brings, the signs it tells, and whether it is about a heap in trouble."""

    intents: tuple[Intent, ...]
    signs: tuple[Told, ...]
    ails: bool


def _asks_for_a_remedy(heard: Heard) -> bool:
    """Whether a line that tells what ails a heap asks what to put on it: "it stinks, shall I pour water on"."""
    ails = any(
        fact.name.startswith("sign.") and fact.name not in GROUND and fact.about in _WHAT_AILS for fact in heard.told
    )
    return ails and "trouble" in heard.acts


def _went_in_before(heard: Heard, signs: Sequence[Told]) -> bool:
    """Whether a line tells what was fed to a heap that ails, which may be why; browns are rather what was advised."""
    fed = any(fact.name in ("deed.added", "deed.fed") for fact in heard.told)
    held = {str(value) for sign in signs if sign.attribute == "sign.holds" for value in sign.values}
    return fed and bool(held - _BROWN_LOADS)


def told_as_stock(heard: Heard) -> Heard:
    """A line that tells of no more than what there is and how much of each, told where stock is asked for.

    "Mostly scraps and grass" is a heap gone wrong only where a heap stands.
    """
    signs = {fact.name for fact in heard.told if fact.name.startswith("sign.")}
    if "trouble" not in heard.acts or not signs <= GROUND | {"sign.mix"} or not (heard.materials or heard.amounts):
        return heard
    acts = tuple(act for act in heard.acts if act not in ("trouble", "observation"))
    return replace(heard, acts=acts if "stock" in acts else ("stock", *acts))


def tells_of_the_household(heard: Heard) -> bool:
    """Whether a line tells who and where somebody is, and of no vessel, so that no heap can have gone wrong."""
    told = {fact.name for fact in heard.told}
    tells = "circumstance" in heard.acts or any(name.startswith(("place.", "household.")) for name in told)
    return tells and told.isdisjoint(_STANDS_ALREADY)


def asked_of_all(heard: Heard) -> Heard:
    """A line that tells what there is and asks how to build all that: it asks after no material of its own."""
    listed = [one for one in heard.amounts if one.stance == "told" and one.ids and one.kind == "have" and one.quantity]
    tells = "stock" in heard.acts or (len(listed) > 1 and set(heard.acts) <= ASKS_AT_LARGE | {"circumstance"})
    at_large = [one for one in heard.asked if (not one.topic and not one.materials) or one.topic in BEGINNING]
    if not tells or not at_large or len(at_large) < len(heard.asked):
        return heard
    return replace(heard, acts=("stock", *(act for act in heard.acts if act not in ("stock", "ask_material"))))


#: What tells that there is a heap, or a vessel for one.
_STANDS_ALREADY = frozenset({"place.container", "sign.method", "sign.age"})


def turn(
    heard: Heard,
    read: Sequence[Intent],
    knowledge: Knowledge,
    household: Household,
    *,
    in_trouble: bool,
    method: str = "",
    open_attribute: str = "",
) -> Turn:
    """What a line does.

    Args:
        heard: how the line was heard.
        read: the amounts, names, answers and requests that were read from it.
        household: what is known so far.
        in_trouble: whether the talk is about a heap in trouble.
        method: the kind of compost that is spoken of already, by the words of sign.method; empty if none.
        open_attribute: what the open question asks for; empty if none is open.
    """
    signs = tuple(
        Told(f"sign.{name}", values, NOWHERE)
        for name, values in as_signs(signs_told(heard, knowledge, method, ails=in_trouble)).items()
    )
    telling = {sign.attribute for sign in signs} - (GROUND if not in_trouble else {"sign.method"})
    first = heard.acts[0] if heard.acts else ""
    told = {one.attribute for one in signs}
    of_a_plan = (
        first in _OF_A_PLAN
        and not (first in TELLS_NO_STOCK and told & _HARM_DONE)
        and not (first != "ask_ready" and _asks_for_a_remedy(heard))
        and not (in_trouble and first == "stock" and _SAYS_WHAT_IS_IN_IT in told)
    )
    apart = of_a_plan or (
        first == "deed"
        and not told & (_STILL_AILS | _HOW_IT_IS_KEPT)
        and not (in_trouble and _went_in_before(heard, signs))
    )
    troubled = "trouble" in heard.acts and not apart
    ails = bool(telling) and (troubled or "ask_why" in heard.acts or (in_trouble and not apart))
    brought = [
        one
        for one in (*requested(heard, read), *brought_by(heard, read, open_attribute))
        if not (isinstance(one, Told) and one.attribute in {sign.attribute for sign in signs})
    ]
    brought += _circumstances(heard, knowledge, {one.attribute for one in brought if isinstance(one, Told | Which)})
    if any(isinstance(one, Told) and one.attribute == _STRENGTH for one in brought):
        brought = [one for one in brought if not (isinstance(one, Which) and one.attribute == "wish.turning")]
    kept_out = {name for one in heard.materials if one.qualifiers for name in one.ids}
    if kept_out:
        brought = [one for one in brought if not in_another_condition(one, heard, kept_out)]
    if "stock" in heard.acts:
        brought = list(by_what_was_heard(heard, brought, in_trouble=in_trouble))
    if any(question.topic.partition("-")[0] in _OTHER_SUBJECTS for question in heard.asked if question.topic):
        brought = [one for one in brought if not isinstance(one, AskMaterial)]  # "may the muck go on the salad bed?"
    if ails:
        brought = [one for one in brought if not isinstance(one, _FOR_PLANS)]
    elif in_trouble and heard.asked:
        brought = [one for one in brought if not isinstance(one, Enter)]
    elif in_trouble and first in _TELLS:
        brought = [one for one in brought if not isinstance(one, Vague | Unclear | Which)]
    if not kept_out and not any(isinstance(one, AskMaterial) for one in brought) and _asks_of_stuff(heard, brought):
        brought += asked_materials(heard)
    supposed = supposed_changes(heard, household) if first in _SUPPOSES else ()
    if supposed:
        brought = [*(one for one in brought if not isinstance(one, WhatIf | Swap | AskMaterial)), *supposed]
    return Turn(tuple(_once(brought)), signs, ails)


def _circumstances(heard: Heard, knowledge: Knowledge, read: Set[str]) -> Iterator[Told]:
    """What a line tells of place, wishes and household, where nothing was read of that attribute yet."""
    if "circumstance" not in heard.acts:
        return
    values: dict[str, list[str]] = {}
    for fact in heard.told:
        kind, _, name = fact.name.partition(".")
        declared = knowledge.kinds[kind].attributes.get(name) if kind in _OF_A_HOUSEHOLD else None
        if (
            declared is not None
            and declared.origin == "answer"
            and fact.value in declared.words
            and fact.name not in read
        ):
            values.setdefault(fact.name, []).append(fact.value)
    for attribute, found in values.items():
        kind, _, name = attribute.partition(".")
        once = tuple(dict.fromkeys(found))
        yield Told(attribute, once if knowledge.kinds[kind].attributes[name].many else once[-1:], NOWHERE)


#: What says how much turning there will be, so that it need not be asked.
_STRENGTH = "household.strength"
_OF_A_HOUSEHOLD = frozenset({"place", "wish", "household"})


def _asks_of_stuff(heard: Heard, brought: Sequence[Intent]) -> bool:
    """Whether a line asks of a material: by its kind, or because it names one and asks nothing else that is known."""
    first = heard.acts[0] if heard.acts else ""
    topics = {question.topic.partition("-")[0] for question in heard.asked if question.topic}
    if first == "ask_material":
        return not topics & _OTHER_SUBJECTS
    signs = any(fact.stance in ("asked", "supposed") and fact.name.startswith("sign.") for fact in heard.facts)
    return first in _OF_STUFF and not brought and not topics and not signs


#: Topics of soil, use and handling, by the beginning of their names: they ask of no material that goes in.
_OTHER_SUBJECTS = frozenset({"soil", "use", "how", "spread", "tea", "manure"})


def _once(brought: Iterable[Intent]) -> Iterator[Intent]:
    """Without questions about materials that were asked about already, under a wider name or the same."""
    asked: set[str] = set()
    for one in brought:
        if isinstance(one, AskMaterial):
            if asked & set(one.materials):
                continue
            asked |= set(one.materials)
        yield one
