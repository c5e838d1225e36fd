"""Stock that a line names: which of the amounts and materials read from it are there, and in what condition."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.counsel.one_fact import stays_out
from advisor.hearing.shapes import Heard
from advisor.talk.intents import AskMaterial, Have, HaveNot, Intent, Less, Unclear, Vague
from advisor.talk.manures import of_the_animals
from advisor.talk.situation import NO_STUFF, animals_kept

#: Questions that ask for a plan if they are of nothing in particular: "how do I compost all that", "what do I do".
ASKS_AT_LARGE = frozenset({"ask_plan", "ask_how", "ask_material"})
#: Topics of somebody who has no heap yet.
BEGINNING = frozenset({"how-start", "which-way", "base", "season-start"})


def by_what_was_heard(heard: Heard, brought: Iterable[Intent], *, in_trouble: bool) -> Iterator[Intent]:
    """Amounts of materials that the line names.

    "Boxes" alone are boxes of what was spoken of last, "cardboard boxes" are not. What somebody names who asks how to
    begin, or who says what there is to mend a heap with, is there too though it has no amount.
    """
    there = [one for one in heard.materials if one.stance == "told"]
    animals = animals_kept(heard)
    named = {name for one in there for name in (*one.ids, *of_the_animals(one.ids, animals))}
    counted: set[str] = set()
    for one in brought:
        names = _counted(one)
        if named and names and not names & named and not any(_is_named(name, heard.text) for name in names):
            continue
        counted |= names
        yield one
    if not (asks_to_begin(heard) or (in_trouble and heard.acts[:1] == ("stock",))):
        return
    beside = [one for one in heard.amounts if one.beside]
    for material in there:
        if in_trouble and not any(one.start <= material.start < one.end for one in beside):
            continue  # nothing says that it is there to mend the heap with
        if len(material.ids) > 1:
            continue
        if NO_STUFF.isdisjoint(material.ids[:1]) and not material.qualifiers and counted.isdisjoint(material.ids):
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


def asks_to_begin(heard: Heard) -> bool:
    """Whether a line asks how to begin, or what to build: what it names in passing is what there is to begin with."""
    plans = any(question.act in ASKS_AT_LARGE and not question.topic for question in heard.asked)
    return plans or any(question.topic in BEGINNING for question in heard.asked)


def in_another_condition(intent: Intent, heard: Heard, qualified: set[str]) -> bool:
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
