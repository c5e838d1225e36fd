"""Straight answers to questions of one fact, as rules/answers.toml holds them."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from advisor.errors import RuleBaseError
from advisor.places import rules_folder

FILE = "answers.toml"

#: Fields of an answer that hold lines for a vessel or a season instead of the general ones.
INSTEAD = (
    "worm-bin",
    "fermented-bucket",
    "tumbler",
    "leaf-heap",
    "trench",
    "compost",
    "soil",
    "spring",
    "summer",
    "autumn",
    "winter",
)
#: Figures of a plan that answer better than the general lines.
FIGURES = ("ready", "turning", "water", "heat", "size", "mix", "cn", "finished", "next")


@dataclass(frozen=True, slots=True)
class FactAnswer:
    """The answer to one question.

    Attributes:
        topic: what is asked.
        say: its lines, the first of which answers.
        instead: other lines, by vessel or season.
        plan: the figure of a plan that answers it, one of FIGURES; empty if none does.
        source: ids of rules/sources.toml.
    """

    topic: str
    say: tuple[str, ...]
    source: tuple[str, ...]
    instead: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    plan: str = ""


@cache
def shipped_answers() -> Mapping[str, FactAnswer]:
    """The answers that come with the program, by topic.

    Raises:
        RuleBaseError: the file is not in order.
    """
    found, problems = read_answers(rules_folder())
    if problems:
        raise RuleBaseError(tuple(problems))
    return found


def read_answers(folder: Path) -> tuple[Mapping[str, FactAnswer], list[str]]:
    """The answers of a rule base, and every fault of form in them."""
    problems: list[str] = []
    try:
        raw = tomllib.loads((folder / FILE).read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        return {}, [f"rules/{FILE}: cannot be read: {error}"]
    found = {}
    for topic, table in raw.items():
        faults = list(_faults(table))
        problems += [f"rules/{FILE}: {topic}: {fault}" for fault in faults]
        if not faults:
            instead = {name: tuple(table[name]) for name in INSTEAD if name in table}
            found[topic] = FactAnswer(
                topic, tuple(table["say"]), tuple(table["source"]), instead, table.get("plan", "")
            )
    return found, problems


def _faults(table: Any) -> list[str]:
    if not isinstance(table, dict):
        return ["is no table"]
    faults = [f"no such field as {name!r}" for name in table.keys() - {"say", "source", "plan", *INSTEAD}]
    for name in ("say", "source"):
        if not table.get(name) or not all(isinstance(one, str) for one in table[name]):
            faults.append(f"{name} must hold texts")
    if table.get("plan", FIGURES[0]) not in FIGURES:
        faults.append(f"plan is none of {', '.join(FIGURES)}")
    return faults
