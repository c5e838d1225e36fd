"""The phrase book: what people type, and what should be understood by it.

The phrases are our own, written from how people speak (common practice); there is no publication to hold them against.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from notation import written

from advisor.knowledge.base import Knowledge
from advisor.knowledge.load import shipped
from advisor.talk.intents import Context
from advisor.talk.understand import understand

BOOK = Path(__file__).with_name("phrase_book.txt")


@dataclass(frozen=True)
class Entry:
    line: int
    said: str
    context: Context
    meant: str


def entries() -> list[Entry]:
    found = []
    context = Context()
    for number, line in enumerate(BOOK.read_text(encoding="utf-8").splitlines(), 1):
        if line.startswith("["):
            context = standing(line.strip("[] "))
        elif " => " in line and not line.startswith("# "):
            said, meant = line.split(" => ")
            found.append(Entry(number, unescaped(said), context, meant.strip()))
    return found


def standing(told: str) -> Context:
    """How the talk stands, from "asked place.pests; options 4; on hand straw, hay; latest hay; lines r1, r2"."""
    given: dict[str, str] = {}
    for part in filter(None, told.split("; ")):
        name = next(name for name in ("asked", "options", "on hand", "latest", "lines") if part.startswith(name + " "))
        given[name] = part.removeprefix(name + " ")
    return Context(
        attribute=given.get("asked", ""),
        options=int(given.get("options", "0")),
        materials=listed(given.get("on hand", "")),
        latest=given.get("latest", ""),
        lines=listed(given.get("lines", "")),
    )


def listed(names: str) -> tuple[str, ...]:
    return tuple(name.strip() for name in names.split(",") if name.strip())


def unescaped(text: str) -> str:
    signs = {"\\n": "\n", "\\t": "\t", "\\\\": "\\"}
    return re.sub(
        r"\\(?:n|t|\\|u([0-9a-f]{4}))", lambda found: chr(int(found[1], 16)) if found[1] else signs[found[0]], text
    )


ENTRIES = entries()


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return shipped()


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: f"{entry.line}: {entry.said!r}")
def test_the_phrase_book(entry: Entry, knowledge: Knowledge) -> None:
    assert written(understand(entry.said, knowledge, entry.context).intents, knowledge) == entry.meant


def test_the_phrase_book_is_a_book() -> None:
    assert len(ENTRIES) >= 300
    assert len({(entry.said, entry.context) for entry in ENTRIES}) == len(ENTRIES)
