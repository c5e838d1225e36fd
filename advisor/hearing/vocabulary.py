"""The vocabulary of rules/words/: concepts and their ways of saying, classes of words, what denies, forms of acts.

A file of the folder may hold any of these tables:

    [full]            words written out: "dont" = "do not"
    [lemmas]          lemmas that go before those of the library: leaves = "leaf"
    [class]           name = [ways]: words that can stand in one place of a way of saying
    [concept.NAME]    a fact with its ways of saying (see Concept); `bare` words state it where they stand alone
    [danger.NAME]     something that can hurt somebody now (see Danger)
    [[trigger]]       words that make a fact denied, asked, supposed, past or somebody else's (see Trigger)
    [[frame]]         the form of an act (see Frame)
    [[decide]]        a row of the table that decides what a question asks (see Decision), in order
    [topic.NAME]      what a question asks for (see Frame); with examples and counters
    [thing.NAME]      ways of naming what a line is about
    [name.MATERIAL]   ways of naming a material of rules/materials/
    [group.NAME]      a word for several materials, with their `ids`, and the trait or role of all others
    [told.NAME]       a circumstance in the words of an answer (see Told)
    [[door]]          what a person comes for (see Door); [[request]] likewise, what is asked of the talk itself
    [near."FACT"]     other words for what the guided interviews offer, by value
    [implied]         the material of a measure that holds only one
"""

from __future__ import annotations

import tomllib
from functools import lru_cache
from pathlib import Path

from advisor.errors import RuleBaseError
from advisor.hearing.kept_vocabulary import keep, kept
from advisor.hearing.making import FOLDER, Maker
from advisor.hearing.meanings import (
    Vocabulary,
)
from advisor.household.names import materials_index, measures_index
from advisor.knowledge.base import Knowledge
from advisor.places import rules_folder
from advisor.rule_tables import rule_tables


def vocabulary_for(knowledge: Knowledge) -> Vocabulary:
    """The vocabulary that is shipped, with the names of a rule base's materials and measures; read once.

    Raises:
        RuleBaseError: a file of rules/words/ is not in order.
    """
    return _vocabulary(
        rules_folder() / FOLDER, materials_index(knowledge).vocabulary | measures_index(knowledge).vocabulary
    )


@lru_cache(maxsize=4)
def _vocabulary(folder: Path, names: frozenset[str]) -> Vocabulary:
    found = kept(folder, names)
    if found is None:
        found, problems = read_words(folder, names)
        if problems:
            raise RuleBaseError(tuple(problems))
        keep(folder, names, found)
    return found


def read_words(
    folder: Path, names: frozenset[str] = frozenset(), *, strict: bool = False
) -> tuple[Vocabulary, list[str]]:
    """The vocabulary of a folder, and every fault in its files with its place. What is faulty is left out.

    Args:
        names: words of materials and measures, towards which slips of the pen are put right as well.
        strict: whether every way of saying is read at once, so that all their faults are found.
    """
    maker = Maker(folder, names, strict)
    for file in sorted(folder.glob("*.toml")):
        try:
            maker.take(file.name, rule_tables(file.read_text(encoding="utf-8")))
        except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
            maker.problems.append(f"rules/{FOLDER}/{file.name}: cannot be read: {error}")
    return maker.made(), maker.problems
