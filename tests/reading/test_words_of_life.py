"""Ways of saying of animals, deeds and circumstances: what each concept gives as its examples is told, its counters are not.

The lines are made up for the purpose; that they say what they say is plain English, no source.
"""

from __future__ import annotations

import tomllib

import pytest

from advisor.hearing.hear import hear
from advisor.knowledge.load import shipped
from advisor.places import rules_folder

FILES = ("life.toml",)


def _lines(key: str) -> list[tuple[str, str, str]]:
    """Name and facts of a concept with each line that it gives under a key."""
    found = []
    for file in FILES:
        tables = tomllib.loads((rules_folder() / "words" / file).read_text(encoding="utf-8"))
        for name, table in tables["concept"].items():
            found += [(name, table["fact"], line) for line in table.get(key, ())]
    return found


def _told(line: str) -> set[str]:
    return {f"{fact.name}={fact.value}" for fact in hear(line, shipped()).told}


@pytest.mark.parametrize(("name", "fact", "line"), _lines("examples"))
def test_an_example_tells_the_facts_of_its_concept(name: str, fact: str, line: str) -> None:
    wanted = {one if "=" in one else f"{one}=yes" for one in (part.strip() for part in fact.split(","))}
    assert wanted <= _told(line), name


@pytest.mark.parametrize(("name", "fact", "line"), _lines("counters"))
def test_a_counter_does_not_tell_them(name: str, fact: str, line: str) -> None:
    wanted = {one if "=" in one else f"{one}=yes" for one in (part.strip() for part in fact.split(","))}
    assert not wanted & _told(line), name
