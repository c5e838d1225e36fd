"""The rule base as the checks look at it: with the file of each thing, and what can come to be."""

from __future__ import annotations

import tomllib
from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

from advisor.errors import HouseholdError
from advisor.knowledge.base import NOTICE_KINDS, Conclusion, Knowledge, Rule
from advisor.knowledge.conditions import Condition, ConditionError, parse
from advisor.knowledge.lint.chains import Chains
from advisor.knowledge.lint.claims import Situation, claim, joined
from advisor.knowledge.lint.reach import Reach
from advisor.knowledge.load import DATA_FILES
from advisor.knowledge.shapes import Attribute, Figure, Material, Measure, Method, Question
from advisor.records import dataclass
from advisor.text_files import plain_bytes


class Finding(NamedTuple):
    """What a check found; the registry adds the name of the check."""

    file: str
    place: str
    message: str


@dataclass(frozen=True)
class View:
    """A rule base under the lint."""

    knowledge: Knowledge
    folder: Path

    def attribute(self, thing: Condition | Conclusion) -> Attribute:
        """The declaration of the attribute that a condition reads or a conclusion sets."""
        return self.knowledge.kinds[thing.kind].attributes[thing.attribute]

    def at_rule(self, rule: Rule, message: str) -> Finding:
        """A finding on a rule."""
        return Finding(rule.place, rule.id, message)

    @cached_property
    def files(self) -> Mapping[tuple[str, str], str]:
        """The file of each ("materials", id) and (notice kind, id)."""
        found: dict[tuple[str, str], str] = {}
        for path in sorted((self.folder / "materials").glob("*.toml")):
            for name in _toml(path):
                found.setdefault(("materials", name), f"rules/materials/{path.name}")
        for path in sorted(self.folder.glob("*.toml")):
            raw = {} if path.stem in DATA_FILES else _toml(path)
            for kind in NOTICE_KINDS:
                table = raw.get(kind)
                for name in table if isinstance(table, dict) else ():
                    found.setdefault((kind, name), f"rules/{path.name}")
        return {**found, **self._local}

    @property
    def _local(self) -> Mapping[tuple[str, str], str]:
        """The same of what local files say."""
        return self.knowledge.local.files if self.knowledge.local is not None else {}

    def at_notice(self, kind: str, name: str, message: str) -> Finding:
        """A finding on a notice."""
        return Finding(self.files.get((kind, name), "rules"), f"{kind}.{name}", message)

    def file_of(self, table: str, name: str) -> str:
        """The file in which an entry of materials, measures, methods or figures stands."""
        if table == "materials":
            return self.files.get((table, name), "rules/materials")
        return self._local.get((table, name), f"rules/{table}.toml")

    def figures(self) -> Iterator[tuple[str, str, Figure]]:
        """File, place and figure, of every value there is."""
        for table, name, field, figure in all_figures(self.knowledge):
            yield self.file_of(table, name), f"{name}.{field}" if field else name, figure

    @cached_property
    def questions(self) -> tuple[tuple[Question, tuple[Condition, ...]], ...]:
        """Each question with its conditions; those were found sound when the file was read."""
        kinds = self.knowledge.kinds
        subjects = {name: self.knowledge.subjects(name) for name in kinds}
        read = []
        for question in (*self.knowledge.questions, *self.knowledge.sign_questions):
            try:
                read.append((question, tuple(parse(line, kinds, subjects) for line in question.when)))
            except ConditionError:
                continue
        return tuple(read)

    # ------------------------------------------------------------ what can come to be

    @cached_property
    def claims(self) -> Mapping[Rule, Situation | None]:
        """What each rule claims of the world by its own conditions; None if they cannot all hold."""
        kinds = self.knowledge.kinds
        return {
            rule: joined((claim(condition, kinds) for condition in rule.when), kinds) for rule in self.knowledge.rules
        }

    @cached_property
    def live(self) -> tuple[Rule, ...]:
        """The rules whose own conditions can all hold."""
        return tuple(rule for rule in self.knowledge.rules if self.claims[rule] is not None)

    @cached_property
    def reach(self) -> Reach:
        """What the rules can bring about, taken together."""
        return Reach.of(self.knowledge, self.live)

    @cached_property
    def chains(self) -> Chains:
        """How the rules feed each other."""
        return Chains(self.knowledge, self.live, self.reach)

    @cached_property
    def readers(self) -> Mapping[str, list[Rule]]:
        """The rules that read each kind.attribute."""
        found: dict[str, list[Rule]] = defaultdict(list)
        for rule in self.knowledge.rules:
            for name in dict.fromkeys(condition.name for condition in rule.when):
                found[name].append(rule)
        return found


def named_things(knowledge: Knowledge) -> Iterator[tuple[str, str, Material | Measure | Method]]:
    """Table, id and thing, of everything that people call by a name."""
    tables: tuple[tuple[str, Mapping[str, Material | Measure | Method]], ...] = (
        ("materials", knowledge.materials),
        ("measures", knowledge.measures),
        ("methods", knowledge.methods),
    )
    for table, things in tables:
        for name, thing in things.items():
            yield table, name, thing


def all_figures(knowledge: Knowledge) -> Iterator[tuple[str, str, str, Figure]]:
    """Table, id, field and figure, of every value; a figure of figures.toml has no field."""
    for table, name, thing in named_things(knowledge):
        for field in type(thing).model_fields:
            value = getattr(thing, field)
            if isinstance(value, Figure):
                yield table, name, field, value
    for name, figure in knowledge.figures.items():
        yield "figures", name, "", figure
    for name, figure in knowledge.heat.items():
        yield "heat", name, "", figure
    for name, decay in knowledge.decay.items():
        for field in ("degradable", "fast", "fast_per_day", "slow_per_day"):
            yield "decay", name, field, getattr(decay, field)
    for name, green in knowledge.green_manures.items():
        yield "green-manures", name, "grams_per_m2", green.grams_per_m2
    for name, mulch in knowledge.living_mulches.items():
        for field in ("grams_per_m2", "plants_per_m2", "clear_cm"):
            if (rate := getattr(mulch, field)) is not None:
                yield "living-mulches", name, field, rate


def _toml(path: Path) -> dict[str, object]:
    try:
        return tomllib.loads(plain_bytes(path, "file of rules").decode("utf-8").replace("\r\n", "\n"))
    except (HouseholdError, OSError, ValueError, RecursionError):
        return {}  # said already, when the file was read
