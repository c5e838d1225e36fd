"""Read rules/ into a `Knowledge`, collecting every fault instead of stopping at the first."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from advisor.errors import RuleBaseError
from advisor.knowledge.base import NOTICE_KINDS, STRATA, Conclusion, Knowledge, Problem, Rule, subjects_of
from advisor.knowledge.conditions import Condition, ConditionError, parse
from advisor.knowledge.shapes import (
    Attribute,
    Figure,
    Kind,
    Material,
    Measure,
    Method,
    Notice,
    Question,
    RuleText,
    Source,
)
from advisor.places import rules_folder

_Shape = TypeVar("_Shape", bound=BaseModel)

#: Files of rules/ that do not hold rules.
_DATA_FILES = frozenset({"sources", "facts", "measures", "methods", "figures", "questions"})


@cache
def shipped() -> Knowledge:
    """The rule base that comes with the program.

    Raises:
        RuleBaseError: a file of it is not in order.
    """
    knowledge, problems = read(rules_folder())
    if problems:
        raise RuleBaseError(tuple(str(problem) for problem in problems))
    return knowledge


def read(folder: Path) -> tuple[Knowledge, tuple[Problem, ...]]:
    """Read a rule base and every fault in its form. What is faulty is left out of the result."""
    reader = _Reader(folder)
    return reader.knowledge(), tuple(reader.problems)


class _Reader:
    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.problems: list[Problem] = []

    def knowledge(self) -> Knowledge:
        sources = self._table("sources.toml", Source)
        kinds = self._table("facts.toml", Kind)
        measures = self._table("measures.toml", Measure)
        methods = self._table("methods.toml", Method)
        figures = self._table("figures.toml", Figure)
        materials: dict[str, Material] = {}
        for path in sorted((self.folder / "materials").glob("*.toml")):
            for name, material in self._table(f"materials/{path.name}", Material).items():
                if name in materials:
                    self._fault(f"materials/{path.name}", name, "this material is there twice", "duplicate-id")
                materials[name] = material
        groups = {path: self._toml(path.name) for path in sorted(self.folder.glob("*.toml")) if path.stem not in _DATA_FILES}
        notices = self._notices(groups)
        questions = self._questions()
        partial = (kinds, materials, methods, notices)
        rules = tuple(rule for path, raw in groups.items() for rule in self._rules(path.name, raw, partial))
        return Knowledge(sources, kinds, materials, measures, methods, figures, notices, questions, rules)

    def _toml(self, name: str) -> dict[str, Any]:
        try:
            return tomllib.loads((self.folder / name).read_text(encoding="utf-8"))
        except FileNotFoundError:
            self._fault(name, "", "the file is missing", "unreadable")
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
            self._fault(name, "", f"not TOML: {error}", "unreadable")
        return {}

    def _table(self, name: str, shape: type[_Shape]) -> dict[str, _Shape]:
        found = {}
        for key, raw in self._toml(name).items():
            checked = self._checked(shape, raw, name, key)
            if checked is not None:
                found[key] = checked
        return found

    def _checked(self, shape: type[_Shape], raw: object, file: str, place: str) -> _Shape | None:
        try:
            return shape.model_validate(raw)
        except ValidationError as error:
            for fault in error.errors():
                where = ".".join([place, *(str(part) for part in fault["loc"])])
                self._fault(file, where, fault["msg"].removeprefix("Value error, "), "shape")
            return None

    def _fault(self, file: str, place: str, message: str, check: str) -> None:
        self.problems.append(Problem(check, f"rules/{file}", place, message))

    def _questions(self) -> tuple[Question, ...]:
        raw = self._toml("questions.toml").get("question", [])
        checked = (self._checked(Question, item, "questions.toml", f"question {n}") for n, item in enumerate(raw, 1))
        return tuple(question for question in checked if question is not None)

    def _notices(self, groups: Mapping[Path, dict[str, Any]]) -> dict[str, dict[str, Notice]]:
        found: dict[str, dict[str, Notice]] = {kind: {} for kind in NOTICE_KINDS}
        for path, raw in groups.items():
            for kind in NOTICE_KINDS:
                for name, text in raw.get(kind, {}).items():
                    notice = self._checked(Notice, text, path.name, f"{kind}.{name}")
                    if name in found[kind]:
                        self._fault(path.name, f"{kind}.{name}", "this name is taken", "duplicate-id")
                    if notice is not None:
                        found[kind][name] = notice
        return found

    def _rules(self, file: str, raw: dict[str, Any], known: _Partial) -> Iterable[Rule]:
        stray = set(raw) - {"group", "stratum", "about", "rule", *NOTICE_KINDS}
        for key in sorted(stray):
            self._fault(file, key, "not a part of a rule file", "shape")
        stratum = raw.get("stratum")
        if stratum not in STRATA:
            self._fault(file, "stratum", f"is one of {', '.join(STRATA)}", "shape")
            return
        for number, item in enumerate(raw.get("rule", []), 1):
            name = item.get("id", f"rule {number}") if isinstance(item, dict) else f"rule {number}"
            text = self._checked(RuleText, item, file, str(name))
            if text is None:
                continue
            when = self._conditions(text, file, known)
            then = self._conclusions(text, file, known, when)
            if when is not None and then is not None:
                group = str(raw.get("group", Path(file).stem))
                yield Rule(text.id, group, stratum, when, then, text.because, text.source, text.evidence, file)

    def _conditions(self, text: RuleText, file: str, known: _Partial) -> tuple[Condition, ...] | None:
        kinds, materials, methods, notices = known
        subjects = {name: subjects_of(name, kinds, materials, methods, notices) for name in kinds}
        parsed = []
        for line in text.when:
            try:
                parsed.append(parse(line, kinds, subjects))
            except ConditionError as error:
                self._fault(file, f"{text.id}, column {error.column} of \"{line}\"", str(error), "condition")
        return tuple(parsed) if len(parsed) == len(text.when) else None

    def _conclusions(
        self, text: RuleText, file: str, known: _Partial, when: tuple[Condition, ...] | None
    ) -> tuple[Conclusion, ...] | None:
        kinds = known[0]
        found: list[Conclusion] = []
        for item in text.then:
            (kind, target), *rest = item.items()
            declared = kinds.get(kind)
            if declared is None:
                self._fault(file, text.id, f"concludes '{kind}', which facts.toml does not declare", "conclusion")
                return None
            if not declared.subjects:
                pairs = dict(target) if isinstance(target, dict) else {}
                named: list[str] = [""]
            else:
                pairs = dict(rest) or {"stands": "yes"}
                named = [str(name) for name in target] if isinstance(target, list) else [str(target)]
            for subject in named:
                if not self._subject_is_good(subject, kind, text, file, known, when):
                    return None
                for attribute, value in pairs.items():
                    fault = _misfit(declared, kind, attribute, value)
                    if fault:
                        self._fault(file, text.id, fault, "conclusion")
                        return None
                    number = float(value) if isinstance(value, int | float) else str(value)
                    found.append(Conclusion(kind, attribute, "" if subject == "same" else subject, subject == "same", number))
        return tuple(found)

    def _subject_is_good(
        self, subject: str, kind: str, text: RuleText, file: str, known: _Partial, when: tuple[Condition, ...] | None
    ) -> bool:
        if not subject:
            return True
        if subject == "same":
            if when is not None and not any(condition.kind == kind for condition in when):
                self._fault(file, text.id, f"says {kind} = 'same', but no condition is about a {kind}", "conclusion")
                return False
            return True
        if subject not in subjects_of(kind, *known):
            self._fault(file, text.id, f"no {kind} '{subject}'", "conclusion")
            return False
        return True


_Partial = tuple[dict[str, Kind], dict[str, Material], dict[str, Method], dict[str, dict[str, Notice]]]


def _misfit(kind: Kind, name: str, attribute: str, value: object) -> str:
    declared: Attribute | None = kind.attributes.get(attribute)
    if declared is None:
        return f"'{name}' has no '{attribute}'; it has {', '.join(kind.attributes)}"
    if declared.origin != "concluded":
        return f"{name}.{attribute} is {declared.origin}, so no rule may conclude it"
    if declared.number is None:
        return "" if value in declared.words else f"{name}.{attribute} may be {', '.join(declared.words)}, not {value!r}"
    if isinstance(value, bool) or not isinstance(value, int | float):
        return f"{name}.{attribute} is a number, not {value!r}"
    low, high = declared.number
    return "" if low <= value <= high else f"{name}.{attribute} lies between {low:g} and {high:g}, not {value:g}"
