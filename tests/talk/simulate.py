"""Plays households through the talk as the people who live there would, and counts the exchanges.

`python tests/talk/simulate.py` prints the table for every household that comes with the program.
"""

from __future__ import annotations

import sys
import tomllib
from dataclasses import dataclass, field
from pathlib import Path

from conversing import ENGINE, KNOWLEDGE

from advisor.counsel.consult import consult
from advisor.household.files import read_household
from advisor.household.shapes import Household
from advisor.places import scenarios_folder
from advisor.talk.replies import Question, Reply
from advisor.talk.session import Talk

UNKNOWN = "I don't know"


@dataclass
class Played:
    """How a household went through the talk."""

    name: str
    wanted: str  # the method of the whole file
    method: str = ""
    exchanges: int = 0
    lines: list[str] = field(default_factory=list)
    concluded: bool = False
    lost: list[str] = field(default_factory=list)


def play(path: Path, most: int = 20) -> Played:
    """The household of a file: what it has as the first line, then its answer to each question, or "I don't know"."""
    raw = tomllib.loads(path.read_text(encoding="utf-8"))
    household = read_household(path, KNOWLEDGE)
    played = Played(path.stem, consult(household, KNOWLEDGE, ENGINE, with_doubts=False).choice.method)
    talk = Talk(KNOWLEDGE, ENGINE)
    talk.open()
    said = ", ".join([*raw["have"], *(f"my {name} is {size}" for name, size in raw.get("measures", {}).items())])
    while len(played.lines) < most:
        played.lines.append(said)
        replies = talk.hear(said)
        played.lost += [reply.text for reply in replies if reply.kind == "lost"]
        played.concluded = _concludes(replies)
        if talk.question is None:
            break
        said = answer(talk.question, raw, household)
    played.exchanges = talk.exchanges
    played.method = talk.plan.choice.method if talk.plan is not None else ""
    return played


def _concludes(replies: tuple[Reply, ...]) -> bool:
    """Whether the recipe was put before the person."""
    return any(reply.kind == "verdict" and any(line.id == "m1" for line in reply.lines) for reply in replies)


def answer(question: Question, raw: dict, household: Household) -> str:
    """What somebody of that household would type."""
    kind, _, name = question.attribute.partition(".")
    told = raw.get(kind, {}).get(name)
    if question.attribute in ("place.room", "place.holds"):
        return told if isinstance(told, str) else UNKNOWN
    if told is not None:
        words = told if isinstance(told, list) else [told]
        numbers = [n for n, option in enumerate(question.options, 1) if option.value in words]
        return " and ".join(map(str, numbers))
    if not question.attribute:  # about words that were not clear
        held = {KNOWLEDGE.materials[holding.material].name for holding in household.holdings}
        for option in question.options:
            if option.say in held:
                return option.say
    return UNKNOWN


def table() -> list[Played]:
    """Every household that comes with the program."""
    return [play(path) for path in sorted(scenarios_folder().glob("*.toml"))]


if __name__ == "__main__":
    found = table()
    print(f"{'household':<24} {'exchanges':>9}  {'method':<17} {'of the whole file':<17}")
    for one in found:
        mark = "" if one.method == one.wanted else "  <<"
        print(f"{one.name:<24} {one.exchanges:>9}  {one.method:<17} {one.wanted:<17}{mark}")
        for words in one.lost:
            print(f"    {words}")
        if "-v" in sys.argv:
            for line in one.lines:
                print(f"    > {line}")
    counts = [one.exchanges for one in found]
    print(f"mean {sum(counts) / len(counts):.1f}, most {max(counts)}")
