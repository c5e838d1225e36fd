"""Read rules/ into a `Knowledge`, collecting every fault instead of stopping at the first."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Container, Iterable, Mapping
from contextlib import suppress
from functools import cache
from keyword import iskeyword
from pathlib import Path
from types import MappingProxyType
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from advisor.errors import HouseholdError, RuleBaseError
from advisor.knowledge.base import (
    NOTICE_KINDS,
    NOTICE_SHAPES,
    STRATA,
    Conclusion,
    Knowledge,
    Problem,
    Rule,
    Stratum,
    subjects_of,
)
from advisor.knowledge.conclusions import Vocabulary, conclude
from advisor.knowledge.conditions import Condition, ConditionError, parse
from advisor.knowledge.heat_shapes import Climate, Decay
from advisor.knowledge.hints import hint
from advisor.knowledge.kept import keep, kept
from advisor.knowledge.shapes import (
    DangerAnswer,
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
from advisor.knowledge.soil_shapes import CropFamily, GreenManure, Guide, HeatRule, LivingMulch, Scale
from advisor.places import rules_folder
from advisor.rule_tables import rule_tables
from advisor.text_files import plain_bytes

_Shape = TypeVar("_Shape", bound=BaseModel)

#: Files of rules/ that do not hold rules.
DATA_FILES = frozenset(
    {
        "sources",
        "facts",
        "measures",
        "methods",
        "figures",
        "questions",
        "answers",
        "answers-why",
        "answers-trade",
        "seen",
        "qualifiers",
        "heeded",
        "ready",
        "dangers",
        "sign-questions",
        "scales",
        "green-manures",
        "crop-families",
        "guides",
        "living-mulches",
        "heat",
        "heat-rules",
        "decay",
        "climates",
    }
)

#: Words of the language of rules, which nothing may be called.
_RESERVED = frozenset({"unknown", "same"})

HYPHENED = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
_UNDERSCORED = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)*")


@cache
def shipped() -> Knowledge:
    """The rule base that comes with the program.

    Raises:
        RuleBaseError: a file of it is not in order.
    """
    folder = rules_folder()
    with suppress(OSError):
        found = kept(folder)
        if found is not None:
            return found
    knowledge, problems = read(folder)
    if problems:
        raise RuleBaseError(tuple(str(problem) for problem in problems))
    with suppress(OSError):
        keep(folder, knowledge)
    return knowledge


def read(folder: Path) -> tuple[Knowledge, tuple[Problem, ...]]:
    """Read a rule base and every fault in its form. What is faulty is left out of the result."""
    reader = Reader(folder)
    return reader.knowledge(), tuple(reader.problems)


class Reader:
    """Reads a folder of rules. What is faulty is noted in `problems` and left out."""

    def __init__(self, folder: Path, label: str = "rules") -> None:
        self.folder = folder
        self.label = label  # what the folder is called where a fault is told
        self.problems: list[Problem] = []

    def knowledge(self) -> Knowledge:
        sources = self._table("sources.toml", Source)
        kinds = self._kinds()
        measures = self._table("measures.toml", Measure)
        methods = self._table("methods.toml", Method)
        figures = self._table("figures.toml", Figure)
        materials: dict[str, Material] = {}
        for path in sorted((self.folder / "materials").glob("*.toml")):
            file = f"materials/{path.name}"
            for name, material in self._table(file, Material).items():
                if name in materials:
                    self._fault(file, name, "this material is there twice", "duplicate-id")
                materials.setdefault(name, material)
        groups = self._groups()
        notices = self._notices(groups)
        subjects = {name: subjects_of(name, kinds, materials, methods, notices) for name in kinds}
        words = Vocabulary(kinds, subjects)
        questions = self._questions("questions.toml", words)
        sign_questions = self._questions("sign-questions.toml", words) if self._is_there("sign-questions.toml") else ()
        rules = tuple(rule for file, raw in groups.items() for rule in self._rules(file, raw, words))
        return Knowledge(
            sources,
            kinds,
            materials,
            measures,
            methods,
            figures,
            notices,
            questions,
            rules,
            sign_questions,
            self._table_if_there("scales.toml", Scale),
            self._table_if_there("green-manures.toml", GreenManure),
            self._table_if_there("crop-families.toml", CropFamily),
            self._table_if_there("guides.toml", Guide),
            self._table_if_there("living-mulches.toml", LivingMulch),
            self._table_if_there("dangers.toml", DangerAnswer),
            self._table_if_there("heat.toml", Figure),
            self._table_if_there("decay.toml", Decay),
            self._table_if_there("climates.toml", Climate),
            self._heat_rules("heat-rules.toml"),
        )

    # ------------------------------------------------------------ files and tables

    def _toml(self, name: str) -> dict[str, Any] | None:
        """The file's content; None, with the fault noted, if it cannot be read."""
        try:
            return rule_tables(plain_bytes(self.folder / name, "file of rules").decode("utf-8").replace("\r\n", "\n"))
        except FileNotFoundError:
            self._fault(name, "", "the file is missing", "unreadable")
        except HouseholdError as error:
            self._fault(name, "", f"cannot be read: {error.message}", "unreadable")
        except OSError as error:
            self._fault(name, "", f"cannot be read: {error.strerror}", "unreadable")
        except UnicodeDecodeError as error:
            self._fault(name, f"byte {error.start + 1}", "not UTF-8 text", "unreadable")
        except RecursionError:
            self._fault(name, "", "not TOML: nested too deep", "unreadable")
        except tomllib.TOMLDecodeError as error:
            what, _, place = str(error).removesuffix(")").partition(" (at ")
            self._fault(name, place, f"not TOML: {what}", "unreadable")
        return None

    def _table(self, name: str, shape: type[_Shape]) -> dict[str, _Shape]:
        found = {}
        for key, raw in (self._toml(name) or {}).items():
            named_well = self._name_is_good(key, name, key, HYPHENED)
            checked = self._checked(shape, raw, name, key)
            if checked is not None and named_well:
                found[key] = checked
        return found

    def _table_if_there(self, name: str, shape: type[_Shape]) -> dict[str, _Shape]:
        return self._table(name, shape) if self._is_there(name) else {}

    def _kinds(self) -> dict[str, Kind]:
        file = "facts.toml"
        found = {}
        for key, raw in (self._toml(file) or {}).items():
            self._name_is_good(key, file, key, _UNDERSCORED)
            kind = self._checked(Kind, raw, file, key)
            if kind is None:
                continue
            for name, attribute in kind.attributes.items():
                place = f"{key}.{name}"
                self._name_is_good(name, file, place, _UNDERSCORED)
                if attribute.number is not None and not attribute.number[0] < attribute.number[1]:
                    self._fault(file, place, "number is [lowest, highest]", "shape")
            found[key] = kind
        return found

    def _name_is_good(self, name: str, file: str, place: str, pattern: re.Pattern[str]) -> bool:
        if name in _RESERVED or iskeyword(name):
            self._fault(file, place, f"'{name}' means something else in a rule; take another name", "shape")
            return False
        if pattern.fullmatch(name):
            return True
        joint = "underscores" if pattern is _UNDERSCORED else "hyphens"
        self._fault(file, place, f"a name here is lower-case words joined by {joint}", "shape")
        return False

    def _checked(self, shape: type[_Shape], raw: object, file: str, place: str) -> _Shape | None:
        try:
            return shape.model_validate(raw)
        except ValidationError as error:
            for fault in error.errors():
                where = ".".join([place, *(str(part) for part in fault["loc"])])
                self._fault(file, where, _in_words(fault, shape), "shape")
            return None

    def _fault(self, file: str, place: str, message: str, check: str) -> None:
        self.problems.append(Problem(check, f"{self.label}/{file}", place, message))

    def _listed(self, raw: Mapping[str, Any], key: str, file: str) -> list[Any]:
        value = raw.get(key, [])
        if isinstance(value, list):
            return value
        self._fault(file, key, f"write each as [[{key}]]", "shape")
        return []

    # ------------------------------------------------------------ questions, notices

    def _is_there(self, name: str) -> bool:
        return (self.folder / name).exists()

    def _questions(self, file: str, words: Vocabulary) -> tuple[Question, ...]:
        raw = self._toml(file) or {}
        self._stray(raw, ("question",), file)
        found = []
        for number, item in enumerate(self._listed(raw, "question", file), 1):
            named = item.get("attribute") if isinstance(item, dict) else None
            place = named if isinstance(named, str) and named else f"question {number}"
            question = self._checked(Question, item, file, place)
            if question is not None and self._conditions(question.when, file, place, words) is not None:
                found.append(question)
        return tuple(found)

    def _heat_rules(self, file: str) -> tuple[HeatRule, ...]:
        raw = (self._toml(file) or {}) if self._is_there(file) else {}
        self._stray(raw, ("heat-rule",), file)
        found: dict[str, HeatRule] = {}
        for number, item in enumerate(self._listed(raw, "heat-rule", file), 1):
            rule = self._checked(HeatRule, item, file, f"heat-rule {number}")
            if rule is not None and rule.id in found:
                self._fault(file, rule.id, "this id is taken", "duplicate-id")
            elif rule is not None:
                found[rule.id] = rule
        return tuple(found.values())

    def _stray(self, raw: Mapping[str, Any], allowed: Iterable[str], file: str) -> None:
        for key in sorted(set(raw) - set(allowed)):
            self._fault(file, key, f"not a part of such a file; {hint(key, allowed)}", "shape")

    def _groups(self, others: Container[str] = DATA_FILES) -> dict[str, dict[str, Any]]:
        files = (path.name for path in sorted(self.folder.glob("*.toml")) if path.stem not in others)
        read = ((name, self._toml(name)) for name in files)
        return {name: raw for name, raw in read if raw is not None}

    def _notices(
        self, groups: Mapping[str, dict[str, Any]], shipped: Mapping[str, Mapping[str, Notice]] = MappingProxyType({})
    ) -> dict[str, dict[str, Notice]]:
        """The words of the rule files, behind those that are shipped."""
        found: dict[str, dict[str, Notice]] = {kind: dict(shipped.get(kind, {})) for kind in NOTICE_KINDS}
        for file, raw in groups.items():
            for kind in NOTICE_KINDS:
                table = raw.get(kind, {})
                if not isinstance(table, dict):
                    self._fault(file, kind, f"write each as [{kind}.its-name]", "shape")
                    continue
                for name, text in table.items():
                    place = f"{kind}.{name}"
                    named_well = self._name_is_good(name, file, place, HYPHENED)
                    notice = self._checked(NOTICE_SHAPES.get(kind, Notice), text, file, place)
                    if name in found[kind]:
                        self._fault(file, place, "this name is taken", "duplicate-id")
                    elif notice is not None and named_well:
                        found[kind][name] = notice
        return found

    # ------------------------------------------------------------ rules

    def _rules(self, file: str, raw: dict[str, Any], words: Vocabulary) -> Iterable[Rule]:
        self._stray(raw, ("group", "stratum", "about", "rule", *NOTICE_KINDS), file)
        stratum: Stratum | None = next((known for known in STRATA if known == raw.get("stratum")), None)
        if stratum is None:
            self._fault(file, "stratum", f"is one of {', '.join(STRATA)}", "shape")
        group = raw.get("group", Path(file).stem)
        if not (isinstance(group, str) and HYPHENED.fullmatch(group)):
            self._fault(file, "group", "is lower-case words joined by hyphens", "shape")
            group = Path(file).stem
        if not isinstance(raw.get("about", ""), str):
            self._fault(file, "about", "is a text", "shape")
        for number, item in enumerate(self._listed(raw, "rule", file), 1):
            named = item.get("id") if isinstance(item, dict) else None
            place = named if isinstance(named, str) and named else f"rule {number}"
            text = self._checked(RuleText, item, file, place)
            if text is None:
                continue
            when = self._conditions(text.when, file, text.id, words)
            then = self._conclusions(text, file, words, when)
            if stratum is not None and when is not None and then is not None:
                yield Rule(
                    text.id, group, stratum, when, then, text.because, text.source, text.evidence, file, self.label
                )

    def _conditions(
        self, lines: tuple[str, ...], file: str, place: str, words: Vocabulary
    ) -> tuple[Condition, ...] | None:
        parsed = []
        for line in lines:
            try:
                parsed.append(parse(line, words.kinds, words.subjects))
            except ConditionError as error:
                self._fault(file, f'{place}, column {error.column} of "{line}"', str(error), "condition")
        return tuple(parsed) if len(parsed) == len(lines) else None

    def _conclusions(
        self, text: RuleText, file: str, words: Vocabulary, when: tuple[Condition, ...] | None
    ) -> tuple[Conclusion, ...] | None:
        found: list[Conclusion] = []
        sound = True
        for item in text.then:
            concluded, faults = conclude(item, words, when)
            found += concluded
            sound = sound and not faults
            for fault in faults:
                self._fault(file, text.id, fault, "conclusion")
        return tuple(found) if sound else None


def _in_words(fault: ErrorDetails, shape: type[BaseModel]) -> str:
    """Pydantic's finding, said to an author of rules."""
    if fault["type"] == "extra_forbidden":
        key = str(fault["loc"][-1])
        return f"no such key here; {hint(key, shape.model_fields)}" if len(fault["loc"]) == 1 else "no such key here"
    say = _PLAIN.get(fault["type"])
    return say(fault) if say else fault["msg"].removeprefix("Value error, ")


_PLAIN: dict[str, Callable[[ErrorDetails], str]] = {
    "missing": lambda _: "is missing",
    "model_type": lambda _: "is a table of keys and values",
    "string_type": lambda fault: f"is a text in quotes, not {fault['input']!r}",
    "string_pattern_mismatch": lambda fault: f"is lower-case words joined by hyphens, not {fault['input']!r}",
    "literal_error": lambda fault: f"is {fault.get('ctx', {}).get('expected', 'another word')}, not {fault['input']!r}",
    "finite_number": lambda _: "is a number, neither infinite nor undefined",
}
