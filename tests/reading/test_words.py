"""Every concept and danger of rules/words/ is heard in its examples and not in its counters.

The lines are invented: ways in which people talk, common practice, no source.
"""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from advisor import hearing
from advisor.hearing.hear import hear
from advisor.hearing.shapes import Heard
from advisor.hearing.vocabulary import vocabulary_for
from advisor.knowledge.load import shipped
from advisor.places import rules_folder

FILES = [*(rules_folder() / "words").glob("*.toml"), *Path(hearing.__file__).parent.glob("*.py")]
SOURCES = "\n".join(file.read_text(encoding="utf-8") for file in FILES)
WORDS = vocabulary_for(shipped())
EXAMPLES = [(name, line) for name, line, says in WORDS.examples if says]
COUNTERS = [(name, line) for name, line, says in WORDS.examples if not says]


def test_every_class_of_words_is_used() -> None:
    """A class is named in a way of saying, in a row or by the program, besides where it is listed."""
    said = Counter(re.findall(r"[\w-]+", SOURCES))
    assert [
        name for name in WORDS.classes if " " not in name and said[name] < 2 and not name.startswith("answer-")
    ] == []


def _says(name: str, heard: Heard) -> bool:
    """Whether a line tells the fact of a concept, or what its denial states where it has none; or holds a danger."""
    told = {(fact.name, fact.value) for fact in heard.told}
    concept = WORDS.concepts.get(name)
    if concept is None:
        return any(danger.name == name.partition("/")[0] for danger in heard.dangers)
    if not concept.facts and not concept.denied:  # words that are no sign, though they hold one
        return not any(fact.startswith("sign.") and fact != "sign.weather" for fact, _ in told)
    return bool(told & {*(concept.facts or concept.denied)})


@pytest.mark.parametrize(("name", "line"), EXAMPLES)
def test_an_example_says_it(name: str, line: str) -> None:
    assert _says(name, hear(line, shipped()))


@pytest.mark.parametrize(("name", "line"), COUNTERS)
def test_a_counter_does_not_say_it(name: str, line: str) -> None:
    assert not _says(name, hear(line, shipped()))


def test_every_concept_has_examples_and_counters() -> None:
    bare = [
        name
        for name, concept in WORDS.concepts.items()
        if concept.facts
        and not name.startswith("told-")  # in the words of an answer: tests/talk/phrase_book.txt says what they say
        and (sum(one == name for one, _ in EXAMPLES) < 2 or not any(one == name for one, _ in COUNTERS))
    ]
    assert bare == []
