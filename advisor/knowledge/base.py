"""The rule base as the program holds it, once read and checked."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field
from typing import Literal, NamedTuple

from advisor.knowledge.conditions import Condition, Value
from advisor.knowledge.heat_shapes import Climate, Decay
from advisor.knowledge.shapes import (
    Cause,
    DangerAnswer,
    Due,
    Evidence,
    Figure,
    Kind,
    Material,
    Measure,
    Method,
    Notice,
    Question,
    Remedy,
    Source,
)
from advisor.knowledge.soil_shapes import CropFamily, GreenManure, Guide, HeatRule, LivingMulch, Scale
from advisor.records import dataclass

#: The order in which groups of rules are settled. Safety comes last, over whatever was recommended.
Stratum = Literal["situation", "method", "target", "build", "signs", "causes", "remedies", "soil", "care", "safety"]
STRATA: tuple[Stratum, ...] = (
    "situation",
    "method",
    "target",
    "build",
    "signs",
    "causes",
    "remedies",
    "soil",
    "care",
    "safety",
)

#: Fact kinds whose subjects are words for the gardener, written beside the rules.
NOTICE_KINDS = (
    "step",
    "caution",
    "event",
    "keep",
    "need",
    "note",
    "cause",
    "remedy",
    "avoid",
    "proviso",
    "advice",
    "due",
)

#: Notices that say more than others do, each with the shape it is checked against.
NOTICE_SHAPES: Mapping[str, type[Notice]] = {"cause": Cause, "remedy": Remedy, "due": Due}

#: Fact kinds of troubles and their cure. Rules that speak of none of these are rules of planning.
TROUBLE_KINDS = ("sign", "state", "cause", "case", "remedy", "avoid", "proviso")

#: Fact kinds of the soil and of finished compost. Rules that wait for one of these are rules of the soil.
SOIL_KINDS = ("check", "bed", "soil", "between", "finish", "advice")

#: Fact kinds of what is to be done now to what is kept. Rules that wait for one of these are rules of the day.
CARE_KINDS = ("record", "due")

#: Figures of the plan that a notice may name in braces.
NOTICE_FIELDS = (
    "bedding",
    "bran",
    "bucket_fill",
    "bucket_trench",
    "buckets",
    "cans",
    "dose",
    "heats_from",
    "height",
    "length",
    "per_load",
    "room_for",
    "salt",
    "salt_ground",
    "soil",
    "trench_length",
    "water",
    "weeks",
    "width",
    "worm_area",
    "worm_load",
    "worms",
)


#: How the id of a local source begins. What is local cites one, so that it can be told from what is shipped.
LOCAL_SOURCE = "place-"


def cites_local(sources: Iterable[str]) -> bool:
    """Whether one of these sources is local, and so the rule or the figure that cites them."""
    return any(source.startswith(LOCAL_SOURCE) for source in sources)


class Conclusion(NamedTuple):
    """A fact that a rule adds.

    `subject` is empty for kinds that have none; with `same`, it is the subject that the rule matched.
    """

    kind: str
    attribute: str
    subject: str
    same: bool
    value: Value


class Rule(NamedTuple):
    """A rule, parsed and checked. It and its parts are tuples, since there are thousands, restored at each start."""

    id: str
    group: str
    stratum: Stratum
    when: tuple[Condition, ...]
    then: tuple[Conclusion, ...]
    because: str
    source: tuple[str, ...]
    evidence: Evidence
    file: str
    folder: str = "rules"  # the name of the folder of local rules, if it is one of those

    @property
    def place(self) -> str:
        """The file it stands in, with its folder."""
        return f"{self.folder}/{self.file}"


@dataclass(frozen=True, slots=True)
class Problem:
    """A fault in rules/: which check found it, where, and what to do about it."""

    check: str
    file: str
    place: str
    message: str

    def __str__(self) -> str:
        where = f"{self.file}: {self.place}" if self.place else self.file
        return f"{where}: {self.message} [{self.check}]"


@dataclass(frozen=True, slots=True)
class Local:
    """Local files that are laid over the shipped ones.

    Attributes:
        name: whose rules they are, as it is told in answers.
        folder: the name of the folder they lie in.
        files: the file of each entry, by its table ("materials", "caution") and its name.
        replaced: the shipped entries whose figures are replaced, by table and name.
        left_out: what is wrong with files that are left out.
        rules: how many rules there are.
    """

    name: str
    folder: str
    files: Mapping[tuple[str, str], str]
    replaced: tuple[tuple[str, str], ...] = ()
    left_out: tuple[Problem, ...] = ()
    rules: int = 0


@dataclass(frozen=True)
class Knowledge:
    """Everything in rules/. Mappings keep the order of the files."""

    sources: Mapping[str, Source]
    kinds: Mapping[str, Kind]
    materials: Mapping[str, Material]
    measures: Mapping[str, Measure]
    methods: Mapping[str, Method]
    figures: Mapping[str, Figure]  # named constants of the trade, each with its sources
    notices: Mapping[str, Mapping[str, Notice]]  # by kind, then by name
    questions: tuple[Question, ...]
    rules: tuple[Rule, ...]
    sign_questions: tuple[Question, ...] = ()  # asked about a trouble, never when a heap is planned
    scales: Mapping[str, Scale] = field(default_factory=dict)  # published tables of classes
    green_manures: Mapping[str, GreenManure] = field(default_factory=dict)
    crop_families: Mapping[str, CropFamily] = field(default_factory=dict)
    guides: Mapping[str, Guide] = field(default_factory=dict)  # checks done at home, step by step
    living_mulches: Mapping[str, LivingMulch] = field(default_factory=dict)  # what may live between the rows
    danger_answers: Mapping[str, DangerAnswer] = field(default_factory=dict)  # by kind of danger, or by danger
    heat: Mapping[str, Figure] = field(default_factory=dict)  # named constants of the heat balance
    decay: Mapping[str, Decay] = field(default_factory=dict)  # classes of materials, in the order in which they hold
    climates: Mapping[str, Climate] = field(default_factory=dict)
    heat_rules: tuple[HeatRule, ...] = ()  # what authorities ask of a heap's heat
    local: Local | None = None  # what is laid over it, if anything is

    def rule(self, rule_id: str) -> Rule:
        """The rule of that id. Raises KeyError."""
        for rule in self.rules:
            if rule.id == rule_id:
                return rule
        raise KeyError(rule_id)

    def subjects(self, kind: str) -> frozenset[str]:
        """The subjects that facts of a kind may be about; empty for a kind that has none."""
        return subjects_of(kind, self.kinds, self.materials, self.methods, self.notices)


def subjects_of(
    name: str,
    kinds: Mapping[str, Kind],
    materials: Mapping[str, Material],
    methods: Mapping[str, Method],
    notices: Mapping[str, Mapping[str, Notice]],
) -> frozenset[str]:
    """The subjects that facts of the kind `name` may be about."""
    declared = kinds[name].subjects
    if declared == "materials":
        return frozenset(materials)
    if declared == "methods":
        return frozenset(methods)
    if declared == "notices":
        return frozenset(notices.get(name, {}))
    return frozenset(declared)
