"""What a line that was heard does in the talk: which intents it brings, in the order in which they are answered.

Amounts, names and answers about the household are still read by talk/understand.py; what kind of thing the line is
decides which of them count, so that nothing that is asked, feared or denied becomes a fact.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import replace

from advisor.counsel.one_fact import stays_out
from advisor.diagnosis.signs import as_signs, signs_told
from advisor.hearing.shapes import Heard
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.talk.intents import (
    Ask,
    AskMaterial,
    AskWhy,
    Enter,
    Have,
    HaveNot,
    Intent,
    Less,
    Lost,
    Pick,
    Request,
    Swap,
    TellMeasure,
    TellRoom,
    Told,
    Unclear,
    Vague,
    WhatIf,
    Which,
)
from advisor.talk.manures import of_the_animals
from advisor.talk.situation import guessed_stock, is_situation

NOWHERE = (0, 0)

_STOCK = (Have, HaveNot, Less, Vague, Unclear, TellMeasure)
_CIRCUMSTANCE = (Told, TellRoom, TellMeasure, Which)
#: What each kind of thing may bring of what was read as amounts, names, answers and requests.
_BRINGS: Mapping[str, tuple[type, ...]] = {
    "stock": (*_STOCK, Enter, Lost),
    "circumstance": (*_CIRCUMSTANCE, HaveNot),
    "correct": (*_STOCK, *_CIRCUMSTANCE, Lost),
    "answer": (*_STOCK, *_CIRCUMSTANCE, Pick, Ask, Lost),
    "swap": (Swap, WhatIf, HaveNot),
    "what_if": (WhatIf, Swap),
    "ask_material": (AskMaterial,),
    "ask_plan": (*_STOCK, *_CIRCUMSTANCE, Enter, Lost),
    "ask_why": (AskWhy,),
}
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
#: Questions in which amounts and names are those of what is asked about.
_TELLS_NO_STOCK = frozenset({"ask_soil", "ask_use", "ask_ready", "ask_material", "ask_why"})
#: Questions that change nothing of the mix: "how do I make a worm bin" does not try one out.
_SUPPOSES_NOTHING = frozenset({"ask_material", "ask_how", "ask_why", "ask_ready", "ask_use", "ask_soil"})
#: Harm that was done already: whatever is asked beside it, that is what ails.
_HARM_DONE = frozenset({"sign.effects"})
#: What somebody did that tells how the bin or bucket is kept, not what was done about the trouble.
_HOW_IT_IS_KEPT = frozenset({"sign.feeding", "sign.drained", "sign.bran", "sign.lid"})
#: Words of sign.holds for browns.
_BROWN_LOADS = frozenset({"leaves", "hay-straw", "paper", "woody"})
#: Signs that say what a heap is and what is in it, and by themselves of no trouble.
_GROUND = frozenset(
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
#: What kind of thing a line is first once it was read as a situation.
_OF_A_SITUATION = (("stock",), ("circumstance",))
#: What is told of stock where a heap ails, unless it lies beside it: what the heap is made of.
_SAYS_WHAT_IS_IN_IT = "sign.holds"
#: Things whose signs are those of a trouble.
_WHAT_AILS = frozenset({"heap", "bin", "tumbler", "worm bin", "fermented bucket", "leaf heap", "trench", "compost"})
#: Signs that are a trouble still after something was done about it.
_STILL_AILS = frozenset({"sign.smell", "sign.animals", "sign.effects", "sign.liquid", "sign.heat_before"})
#: A line that tells of one of these first supposes nothing and opens no guided interview.
_TELLING = frozenset({"trouble", "danger", "observation", "deed"})
#: A line that is one of these first may suppose another mix.
_SUPPOSES = frozenset({"what_if", "swap", "ask_material", "ask_fact"})
#: What is in a heap that ails counts by its kind: nothing is guessed of its amount, and no name of it is asked after.
_FOR_PLANS = (Enter, AskWhy, Vague, Unclear, Which, WhatIf, Swap)
_REQUESTS: Mapping[str, Request] = {
    "undo": "back",
    "redo": "redo",
    "save": "save",
    "paper": "paper",
    "calendar": "calendar",
    "help": "help",
    "start_over": "again",
    "leave": "leave",
}


@dataclass(frozen=True, slots=True)
class Turn:
    """What a line does: the intents it brings, the signs it tells, and whether it is about a heap in trouble."""

    intents: tuple[Intent, ...]
    signs: tuple[Told, ...]
    ails: bool


def _asks_for_a_remedy(heard: Heard) -> bool:
    """Whether a line that tells what ails a heap asks what to put on it: "it stinks, shall I pour water on"."""
    ails = any(
        fact.name.startswith("sign.") and fact.name not in _GROUND and fact.about in _WHAT_AILS for fact in heard.told
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
    if "trouble" not in heard.acts or not signs <= _GROUND | {"sign.mix"} or not (heard.materials or heard.amounts):
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
    tells = "stock" in heard.acts or (len(listed) > 1 and set(heard.acts) <= _ASKS_AT_LARGE | {"circumstance"})
    at_large = [one for one in heard.asked if (not one.topic and not one.materials) or one.topic in _BEGINNING]
    if not tells or not at_large or len(at_large) < len(heard.asked):
        return heard
    return replace(heard, acts=("stock", *(act for act in heard.acts if act not in ("stock", "ask_material"))))


#: Questions that ask for a plan if they are of nothing in particular: "how do I compost all that", "what do I do".
_ASKS_AT_LARGE = frozenset({"ask_plan", "ask_how", "ask_material"})
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
    telling = {sign.attribute for sign in signs} - (_GROUND if not in_trouble else {"sign.method"})
    first = heard.acts[0] if heard.acts else ""
    told = {one.attribute for one in signs}
    of_a_plan = (
        first in _OF_A_PLAN
        and not (first in _TELLS_NO_STOCK and told & _HARM_DONE)
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
        for one in (*_requests(heard, read), *_brought(heard, read, open_attribute))
        if not (isinstance(one, Told) and one.attribute in {sign.attribute for sign in signs})
    ]
    brought += _circumstances(heard, knowledge, {one.attribute for one in brought if isinstance(one, Told | Which)})
    if any(isinstance(one, Told) and one.attribute == _STRENGTH for one in brought):
        brought = [one for one in brought if not (isinstance(one, Which) and one.attribute == "wish.turning")]
    kept_out = {name for one in heard.materials if one.qualifiers for name in one.ids}
    if kept_out:
        brought = [one for one in brought if not _bare(one, heard, kept_out)]
    if "stock" in heard.acts:
        brought = list(_by_what_was_heard(heard, brought, in_trouble=in_trouble))
    if any(question.topic.partition("-")[0] in _OTHER_SUBJECTS for question in heard.asked if question.topic):
        brought = [one for one in brought if not isinstance(one, AskMaterial)]  # "may the muck go on the salad bed?"
    if ails:
        brought = [one for one in brought if not isinstance(one, _FOR_PLANS)]
    elif in_trouble and heard.asked:
        brought = [one for one in brought if not isinstance(one, Enter)]
    if not kept_out and not any(isinstance(one, AskMaterial) for one in brought) and _asks_of_stuff(heard, brought):
        brought += asked_materials(heard)
    supposed = supposed_changes(heard, household) if first in _SUPPOSES else ()
    if supposed:
        brought = [*(one for one in brought if not isinstance(one, WhatIf | Swap | AskMaterial)), *supposed]
    return Turn(tuple(_once(brought)), signs, ails)


def _by_what_was_heard(heard: Heard, brought: Iterable[Intent], *, in_trouble: bool) -> Iterator[Intent]:
    """Amounts of materials that the line names.

    "Boxes" alone are boxes of what was spoken of last, "cardboard boxes" are not. What somebody names who asks how to
    begin, or who says what there is to mend a heap with, is there too though it has no amount.
    """
    there = [one for one in heard.materials if one.stance == "told"]
    animals = {fact.value for fact in heard.told if fact.name == "household.animals"}
    named = {name for one in there for name in (*one.ids, *of_the_animals(one.ids, animals))}
    counted: set[str] = set()
    for one in brought:
        names = _counted(one)
        if named and names and not names & named and not any(_is_named(name, heard.text) for name in names):
            continue
        counted |= names
        yield one
    if not in_trouble and heard.acts[:1] in _OF_A_SITUATION and is_situation(heard):
        yield from guessed_stock(heard, counted)
        return
    if not (_asks_to_begin(heard) or (in_trouble and heard.acts[:1] == ("stock",))):
        return
    beside = [one for one in heard.amounts if one.beside]
    for material in there:
        if in_trouble and not any(one.start <= material.start < one.end for one in beside):
            continue  # nothing says that it is there to mend the heap with
        if len(material.ids) > 1:
            continue
        if _HEAPS_UP.isdisjoint(material.ids[:1]) and not material.qualifiers and counted.isdisjoint(material.ids):
            yield from (Vague(name, material.said, (material.start, material.end)) for name in material.ids[:1])


def _is_named(material: str, text: str) -> bool:
    """Whether any part of the name of a material stands in a text."""
    return any(part in text.casefold() for part in material.split("-"))


def _counted(intent: Intent) -> set[str]:
    """The materials of which an intent tells how much there is."""
    match intent:
        case Have(holding, _, _):
            return {holding.material}
        case Vague(material, _, _, _, _):
            return {material}
        case HaveNot(materials, _):
            return set(materials)
        case Less():
            return {intent.material}
        case Unclear(_, readings, _, _):
            return set(readings)
        case _:
            return set()


def _asks_to_begin(heard: Heard) -> bool:
    """Whether a line asks how to begin, or what to build: what it names in passing is what there is to begin with."""
    plans = any(question.act in _ASKS_AT_LARGE and not question.topic for question in heard.asked)
    return plans or any(question.topic in _BEGINNING for question in heard.asked)


def _is_told_sharply(which: Which, heard: Heard) -> bool:
    """Whether a line tells which of several values it is; "a bin" alone leaves open which bin."""
    values = [fact.value for fact in heard.told if fact.name == which.attribute]
    return not values or not set(values) <= set(which.values) or len(set(values)) == 1


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


#: What is named of a vessel or of what it makes, and not as something to put in.
_HEAPS_UP = frozenset({"finished-compost", "unfinished-compost", "plastic", "glass-metal-stones"})
#: Topics of somebody who has no heap yet.
_BEGINNING = frozenset({"how-start", "which-way", "base", "season-start"})
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


def asked_materials(heard: Heard) -> Iterator[AskMaterial]:
    """The materials that a line with a question names, at most two: the first is what most lines ask about."""
    stuff = [one for one in heard.materials if not set(one.ids) & _NO_STUFF]
    for ids in list(dict.fromkeys(one.ids for one in stuff))[:2]:
        yield AskMaterial(ids, NOWHERE)


#: What comes out of a heap, or stands under it: "can leaves go in the compost" does not ask after compost.
_NO_STUFF = frozenset({"finished-compost", "garden-soil"})


def supposed_changes(heard: Heard, household: Household) -> tuple[WhatIf | Swap, ...]:
    """What a question supposes of what is on hand: "what if I double the leaves", "straw instead of leaves"."""
    words = re.findall(r"[a-z]+", heard.text.lower())
    factor = next((_TIMES[word] for word in words if word in _TIMES), None)
    named = {name for one in heard.materials for name in one.ids}
    held = [one for one in household.holdings if one.material in named]
    others = [one.ids[0] for one in heard.materials if not set(one.ids) & {each.material for each in held}]
    if len(held) == 1 and len(others) == 1 and {"than", "instead", "swap", "replace"} & set(words):
        return (Swap(held[0].material, others[0], NOWHERE),)
    if factor is None or not held:
        return ()
    made = []
    for one in held:
        was = one.quantity
        times = replace(was, count=was.count * factor, low=was.low * factor, high=was.high * factor)
        made.append(Have(replace(one, quantity=times), NOWHERE))
    return (WhatIf(tuple(made), NOWHERE),)


#: How many times as much a word supposes. "More" and "less" by themselves: our estimate.
_TIMES = {"double": 2.0, "twice": 2.0, "triple": 3.0, "half": 0.5, "halve": 0.5, "more": 1.5, "less": 0.5, "fewer": 0.5}


def _bare(intent: Intent, heard: Heard, qualified: set[str]) -> bool:
    """Whether an intent takes or asks about the bare material where the line tells of it in another condition."""
    match intent:
        case AskMaterial(materials, _) | HaveNot(materials, _):
            return isinstance(intent, AskMaterial) and bool(set(materials) & qualified)
        case Have(holding, _, _):
            return holding.material in qualified and _stays_out(heard, holding.material)
        case Vague(material, _, _, _, _):
            return material in qualified and _stays_out(heard, material)
        case Unclear(_, readings, _, _):
            return any(name in qualified and _stays_out(heard, name) for name in readings)
        case _:
            return False


def _stays_out(heard: Heard, material: str) -> bool:
    return any(stays_out(one.qualifiers) for one in heard.materials if material in one.ids)


def _requests(heard: Heard, read: Sequence[Intent]) -> Iterator[Intent]:
    """What the line asks of the talk itself: by its form, or because nothing else can be read of it."""
    for act in heard.acts:
        if act == "undo" and "start_over" in heard.acts:
            continue
        amounts = any(isinstance(one, _STOCK) for one in read)
        if act in ("units", "correct") and not amounts and (units := _units(heard)):
            yield Ask(units, NOWHERE)
        elif act in _REQUESTS:
            yield Ask(_REQUESTS[act], NOWHERE)
        elif act == "load":
            yield Enter("carry-on", NOWHERE)
    if (_REQUESTS.keys() | {"units"}) & set(heard.acts):
        return
    if any(question.topic == _WHAT_IS_KNOWN for question in heard.asked):
        yield Ask("list", NOWHERE)
        return
    # a question that stands alone is answered; one beside what was seen is gone into
    answered = any(question.topic for question in heard.asked) and "observation" not in heard.acts
    only_asks = all(isinstance(one, Ask | AskWhy | Enter | Pick) for one in read)
    if read and only_asks and not answered and not _TELLING & set(heard.acts[:1]):
        yield from read


#: The topic of a question for what was told so far.
_WHAT_IS_KNOWN = "how-much-have"


def _units(heard: Heard) -> Request | None:
    """The units a line asks for: of those it names, the last that it does not deny."""
    words = re.findall(r"[a-z]+", heard.text.lower())
    named: Request | None = None
    for at, word in enumerate(words):
        for units, names in _UNITS.items():
            if word in names and words[at - 1 : at] != ["not"]:
                named = units
    return named


_UNITS: Mapping[Request, frozenset[str]] = {
    "us": frozenset(
        [
            "fahrenheit",
            "imperial",
            "us",
            "american",
            "pounds",
            "lbs",
            "gallons",
            "feet",
            "inches",
            "yards",
            "ounces",
            "quarts",
            "f",
        ]
    ),
    "metric": frozenset(
        [
            "celsius",
            "centigrade",
            "metric",
            "litres",
            "liters",
            "kilos",
            "kg",
            "metres",
            "meters",
            "cm",
            "centimetres",
            "grams",
            "c",
        ]
    ),
}


def _brought(heard: Heard, read: Sequence[Intent], open_attribute: str) -> Iterator[Intent]:
    allowed = tuple({kind for act in heard.acts for kind in _BRINGS.get(act, ())})
    if not _TELLING & set(heard.acts[:1]):
        allowed = (*allowed, WhatIf, Swap, Enter)
    first = heard.acts[0] if heard.acts else ""
    firm = first in _TELLING or (first.startswith("ask_") and first != "ask_plan")
    firm = firm and not ("stock" in heard.acts and _asks_to_begin(heard))
    told = {open_attribute, *(fact.name for fact in heard.told)}
    if not heard.asked and all(isinstance(one, Told) for one in read):
        told |= {one.attribute for one in read if isinstance(one, Told)}  # the whole line tells of the household
    requests = all(isinstance(one, Ask | AskWhy | Enter | Pick) for one in read)
    corrects = heard.correcting and any(isinstance(one, _STOCK) for one in read)
    for one in read:
        if corrects and isinstance(one, Ask) and one.request == "back":
            continue  # "no wait, the straw is 2 bales" puts one amount right and takes nothing back
        of_a_list = isinstance(one, Vague | Unclear) and one.holding is not None and "stock" in heard.acts
        if firm and isinstance(one, Vague | Unclear | Which | Enter) and not of_a_list:
            continue  # nothing is guessed from what is said in passing, but "a heap of straw" is an amount
        if firm and isinstance(one, Told) and one.attribute not in told:
            continue
        if first in _SUPPOSES_NOTHING and isinstance(one, WhatIf | Swap):
            continue
        if first in _TELLS_NO_STOCK and isinstance(one, Have | HaveNot | Less):
            continue
        if isinstance(one, Which) and one.attribute in told and _is_told_sharply(one, heard):
            continue
        if requests and isinstance(one, Ask | AskWhy | Enter | Pick):
            continue  # told by _requests
        if isinstance(one, Told) and one.attribute.startswith("sign."):
            if "answer" in heard.acts and not any(name.startswith("sign.") for name in told - {open_attribute}):
                yield one
            continue
        if isinstance(one, allowed):
            yield one
