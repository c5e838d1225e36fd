"""Faults of the vocabulary of rules/words/: what cannot be read, and what names nothing of the rule base."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from advisor.hearing.vocabulary import FOLDER, Vocabulary, read_words
from advisor.household.names import materials_index, measures_index
from advisor.knowledge.base import Knowledge
from advisor.knowledge.hints import hint


def faults_of_words(folder: Path, knowledge: Knowledge) -> tuple[str, ...]:
    """Every fault in the vocabulary of a folder of rules; none if it has no vocabulary."""
    words = folder / FOLDER
    if not words.is_dir():
        return ()
    names = materials_index(knowledge).vocabulary | measures_index(knowledge).vocabulary
    vocabulary, problems = read_words(words, names)
    return (*problems, *_unknown(vocabulary, knowledge))


def _unknown(vocabulary: Vocabulary, knowledge: Knowledge) -> Iterator[str]:
    """What the vocabulary names and the rule base does not have."""
    for name, concept in vocabulary.concepts.items():
        if name.startswith("told-"):
            for fact, value in concept.facts:
                yield from _fact(name, fact, value, knowledge)
    for attribute, values in vocabulary.near.items():
        for value in values:
            yield from _fact("near", attribute, value, knowledge)
    for measure, material in vocabulary.implied.items():
        yield from _known(f"implied.{measure}", measure, knowledge.measures)
        yield from _known(f"implied.{measure}", material, knowledge.materials)


def _fact(place: str, fact: str, value: str, knowledge: Knowledge) -> Iterator[str]:
    kind, _, attribute = fact.partition(".")
    known = knowledge.kinds[kind].attributes if kind in knowledge.kinds else {}
    if attribute not in known:
        yield f"rules/{FOLDER}: {place}: no such fact as {fact!r}; {hint(attribute, known)}"
    elif known[attribute].words and not value.startswith("<"):
        yield from _known(f"{place}.{fact}", value, known[attribute].words)


def _known(place: str, name: str, table: Mapping[str, Any]) -> Iterator[str]:
    if name not in table:
        yield f"rules/{FOLDER}: {place}: no {name!r}; {hint(name, table)}"
