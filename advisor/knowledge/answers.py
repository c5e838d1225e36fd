"""Straight answers to questions of one fact, to things seen or done, to circumstances and to signs of ready compost."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import field
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from advisor.errors import RuleBaseError
from advisor.places import rules_folder
from advisor.records import dataclass
from advisor.rule_tables import rule_tables

_Found = TypeVar("_Found")

FILE = "answers.toml"
MORE_FILES = ("answers-why.toml", "answers-trade.toml")
SEEN_FILE = "seen.toml"
QUALIFIERS_FILE = "qualifiers.toml"
HEEDED_FILE = "heeded.toml"
READY_FILE = "ready.toml"

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


@dataclass(frozen=True, slots=True)
class SeenAnswer:
    """What to say to something seen, smelt, measured or done that is no trouble by itself.

    Attributes:
        fact: what was told, as "sign.steam" or "sign.warmth=hot".
        least, below: for a figure, from where to where these lines hold.
        say: the lines: what it means, then the next step.
        source: ids of rules/sources.toml.
        instead: other lines, by vessel.
    """

    fact: str
    say: tuple[str, ...]
    source: tuple[str, ...]
    instead: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    least: float = float("-inf")
    below: float = float("inf")


@dataclass(frozen=True, slots=True)
class QualifierAnswer:
    """What the condition of a material means for a heap: "sprayed", "treated", "hot" ...

    Attributes:
        out: whether it keeps the material out of what is on hand.
        say: the lines, the first of which answers.
        source: ids of rules/sources.toml.
        instead: other lines, by vessel.
    """

    out: bool
    say: tuple[str, ...]
    source: tuple[str, ...]
    instead: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ReadyAnswer:
    """Whether compost is ready by the signs that are told of it.

    Attributes:
        any: signs, as "sign.smell=earthy"; one of them must be told.
        also: the same, of further signs; empty if none is needed.
        vessels: the kinds of compost it is for; empty for all that are not named by an answer before it.
        say: the lines, the first of which answers.
        source: ids of rules/sources.toml.
    """

    any: tuple[str, ...]
    also: tuple[str, ...]
    vessels: tuple[str, ...]
    say: tuple[str, ...]
    source: tuple[str, ...]


def _in_order(read: tuple[_Found, list[str]]) -> _Found:
    """What was read, if no fault was found in it. Raises RuleBaseError."""
    found, problems = read
    if problems:
        raise RuleBaseError(tuple(problems))
    return found


@cache
def shipped_heeded() -> tuple[SeenAnswer, ...]:
    """What follows from circumstances, in the order of the file.

    Raises:
        RuleBaseError: the file is not in order.
    """
    return _in_order(read_seen(rules_folder(), HEEDED_FILE))


@cache
def shipped_ready() -> tuple[ReadyAnswer, ...]:
    """Whether compost is ready, by signs, in the order of the file.

    Raises:
        RuleBaseError: the file is not in order.
    """
    return _in_order(read_ready(rules_folder()))


@cache
def shipped_answers() -> Mapping[str, FactAnswer]:
    """The answers that come with the program, by topic.

    Raises:
        RuleBaseError: the file is not in order.
    """
    return _in_order(read_answers(rules_folder()))


@cache
def shipped_seen() -> tuple[SeenAnswer, ...]:
    """What there is to say to things seen or done, in the order of the file.

    Raises:
        RuleBaseError: the file is not in order.
    """
    return _in_order(read_seen(rules_folder()))


@cache
def shipped_qualifiers() -> Mapping[str, QualifierAnswer]:
    """What each condition of a material means, the gravest first.

    Raises:
        RuleBaseError: the file is not in order.
    """
    return _in_order(read_qualifiers(rules_folder()))


def cited_by_answers(folder: Path) -> tuple[list[tuple[str, tuple[str, ...]]], list[str]]:
    """What every answer of a rule base cites, each with the name of the answer, and every fault of form in them."""
    topics, amiss = read_answers(folder)
    conditions, more = read_qualifiers(folder)
    cited = [(name, answer.source) for name, answer in topics.items()]
    cited += [(name, answer.source) for name, answer in conditions.items()]
    for file in (SEEN_FILE, HEEDED_FILE):
        seen, others = read_seen(folder, file)
        more += others
        cited += [(answer.fact, answer.source) for answer in seen]
    ready, others = read_ready(folder)
    cited += [(", ".join(answer.any), answer.source) for answer in ready]
    return cited, [*amiss, *more, *others]


def read_qualifiers(folder: Path) -> tuple[Mapping[str, QualifierAnswer], list[str]]:
    """What a rule base says to conditions of materials, and every fault of form in it."""
    tables, problems = _tables(folder, QUALIFIERS_FILE, frozenset({"out"}))
    found = {
        name: QualifierAnswer(table.get("out", False), tuple(table["say"]), tuple(table["source"]), _instead(table))
        for name, table in tables.items()
    }
    return found, problems


def read_answers(folder: Path) -> tuple[Mapping[str, FactAnswer], list[str]]:
    """The answers of a rule base, and every fault of form in them."""
    tables, problems = _tables(folder, FILE, frozenset({"plan"}))
    for name in MORE_FILES:
        more, amiss = _tables(folder, name, frozenset({"plan"}))
        problems += [*amiss, *(f"rules/{name}: {topic}: stands in another file" for topic in tables.keys() & more)]
        tables |= more
    found = {}
    for topic, table in tables.items():
        if table.get("plan", FIGURES[0]) not in FIGURES:
            problems.append(f"rules/{FILE}: {topic}: plan is none of {', '.join(FIGURES)}")
        found[topic] = FactAnswer(
            topic, tuple(table["say"]), tuple(table["source"]), _instead(table), table.get("plan", "")
        )
    return found, problems


def read_ready(folder: Path) -> tuple[tuple[ReadyAnswer, ...], list[str]]:
    """What a rule base says to signs of compost that may be ready, and every fault of form in it."""
    tables, problems = _tables(folder, READY_FILE, frozenset({"any", "also", "of"}))
    found = []
    for name, table in tables.items():
        if not table.get("any"):
            problems.append(f"rules/{READY_FILE}: {name}: has no signs")
            continue
        signs = tuple(table["any"]), tuple(table.get("also", ())), tuple(table.get("of", ()))
        found.append(ReadyAnswer(*signs, tuple(table["say"]), tuple(table["source"])))
    return tuple(found), problems


def read_seen(folder: Path, file: str = SEEN_FILE) -> tuple[tuple[SeenAnswer, ...], list[str]]:
    """What a rule base says to things seen or done, or to circumstances, and every fault of form in it."""
    tables, problems = _tables(folder, file, frozenset({"fact", "from", "below"}))
    found = []
    for name, table in tables.items():
        if not isinstance(table.get("fact"), str):
            problems.append(f"rules/{file}: {name}: has no fact")
            continue
        lines = tuple(table["say"]), tuple(table["source"]), _instead(table)
        least, below = table.get("from", float("-inf")), table.get("below", float("inf"))
        found.append(SeenAnswer(table["fact"], *lines, least, below))
    return tuple(found), problems


def _instead(table: Mapping[str, Any]) -> dict[str, tuple[str, ...]]:
    return {name: tuple(table[name]) for name in INSTEAD if name in table}


def _tables(folder: Path, file: str, others: frozenset[str]) -> tuple[dict[str, dict[str, Any]], list[str]]:
    """The tables of a file that are in order, and every fault of form of the rest."""
    problems: list[str] = []
    try:
        raw = rule_tables((folder / file).read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        return {}, [f"rules/{file}: cannot be read: {error}"]
    found = {}
    for name, table in raw.items():
        faults = list(_faults(table, others))
        problems += [f"rules/{file}: {name}: {fault}" for fault in faults]
        if not faults:
            found[name] = table
    return found, problems


def _faults(table: Any, others: frozenset[str]) -> list[str]:
    if not isinstance(table, dict):
        return ["is no table"]
    faults = [f"no such field as {name!r}" for name in table.keys() - {"say", "source", *others, *INSTEAD}]
    for name in ("say", "source"):
        if not table.get(name) or not all(isinstance(one, str) for one in table[name]):
            faults.append(f"{name} must hold texts")
    return faults
