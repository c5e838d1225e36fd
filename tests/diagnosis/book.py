"""The case book as the tests read it, and what a diagnosis makes of a case."""

from __future__ import annotations

import hashlib
import tomllib
from dataclasses import dataclass
from pathlib import Path

from advisor.diagnosis.diagnose import diagnose, shipped_diagnosis_engine
from advisor.diagnosis.shapes import Diagnosis
from advisor.diagnosis.signs import read_signs
from advisor.knowledge.load import shipped

FOLDER = Path(__file__).parent


@dataclass(frozen=True)
class Case:
    id: str
    said: str
    causes: tuple[str, ...]
    never: tuple[str, ...]
    source: str

    @property
    def published(self) -> bool:
        return not self.source.endswith("from memory")

    @property
    def held_apart(self) -> bool:
        """Drawn by lot before any rule was written: a third of what is published."""
        return self.published and int(hashlib.sha256(self.id.encode()).hexdigest(), 16) % 3 == 0

    def diagnosis(self) -> Diagnosis:
        knowledge = shipped()
        signs, unplaced = read_signs(self.said, knowledge)
        return diagnose(signs, knowledge, shipped_diagnosis_engine(), unplaced=unplaced)


def cases(book: str = "case_book.toml") -> tuple[Case, ...]:
    raw = tomllib.loads((FOLDER / book).read_text(encoding="utf-8"))
    return tuple(
        Case(each["id"], each["said"], tuple(each["causes"]), tuple(each["never"]), each["source"])
        for each in raw["case"]
    )


def first_or_tied(case: Case, found: Diagnosis) -> bool:
    best = found.causes[0].score if found.causes else 0.0
    return any(suspect.cause in case.causes for suspect in found.causes if suspect.score == best)


def among_three(case: Case, found: Diagnosis) -> bool:
    """Among the first three, and those tied with the third."""
    third = found.causes[2].score if len(found.causes) > 2 else None
    shown = (*found.causes[:3], *(suspect for suspect in found.causes[3:] if suspect.score == third))
    return any(suspect.cause in case.causes for suspect in shown)
