"""The published cases with their signs given, and what a diagnosis makes of each.

By hand: `python tests/diagnosis/published.py` prints how the two halves fare, by vessel.
"""

from __future__ import annotations

import sys
import tomllib
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

from advisor.diagnosis.diagnose import diagnose, shipped_diagnosis_engine
from advisor.diagnosis.shapes import Diagnosis
from advisor.knowledge.conditions import Value
from advisor.knowledge.load import shipped

BOOK = Path(__file__).parent / "published_cases.toml"


@dataclass(frozen=True)
class Published:
    """A published trouble: its signs, and what its source says."""

    id: str
    asked: str
    signs: tuple[tuple[str, tuple[Value, ...]], ...]
    causes: frozenset[str]
    remedies: frozenset[str]
    never: frozenset[str]
    elsewhere: str
    source: str

    @property
    def odd(self) -> bool:
        """Of the half that the rules were mended with."""
        return int(self.id.removeprefix("dx-")) % 2 == 1

    @property
    def vessel(self) -> str:
        return str(dict(self.signs).get("method", ("none named",))[0])

    def diagnosis(self) -> Diagnosis:
        return _diagnosed(self.signs)

    def first(self) -> bool:
        """A published cause is first, or has the score of the first."""
        found = self.diagnosis().causes
        return any(one.cause in self.causes for one in found if one is found[0] or one.score == found[0].score)

    def among_three(self) -> bool:
        """A published cause is among the first three, or has the score of the third."""
        found = self.diagnosis().causes
        third = found[2].score if len(found) > 2 else None
        return any(one.cause in self.causes for one in (*found[:3], *(one for one in found if one.score == third)))

    def advised(self) -> frozenset[str]:
        return frozenset(cure.remedy for cure in self.diagnosis().remedies)


@cache
def _diagnosed(signs: tuple[tuple[str, tuple[Value, ...]], ...]) -> Diagnosis:
    return diagnose(dict(signs), shipped(), shipped_diagnosis_engine())


@cache
def published() -> tuple[Published, ...]:
    """Every case of the book."""
    raw = tomllib.loads(BOOK.read_text(encoding="utf-8"))
    return tuple(
        Published(
            each["id"],
            each["asked"],
            tuple((name, tuple(values)) for name, values in each["signs"].items()),
            frozenset(each["causes"]),
            frozenset(each["remedies"]),
            frozenset(each["never"]),
            each.get("elsewhere", ""),
            each["source"],
        )
        for each in raw["case"]
    )


def tally(cases: Sequence[Published]) -> Counter[str]:
    """How many there are, and in how many of them cause, remedy and warning agree with the source."""
    found: Counter[str] = Counter()
    for case in cases:
        found["cases"] += 1
        found["first"] += case.first()
        found["among three"] += case.among_three()
        found["remedy"] += bool(case.advised() & case.remedies)
        found["forbidden"] += bool(case.advised() & case.never)
    return found


def main() -> None:
    counted = [case for case in published() if not case.elsewhere]
    for half in ("odd", "even"):
        cases = [case for case in counted if case.odd == (half == "odd")]
        print(f"{half} half: {dict(tally(cases))}")
        for vessel in sorted({case.vessel for case in cases}):
            print(f"   {vessel}: {dict(tally([case for case in cases if case.vessel == vessel]))}")


if __name__ == "__main__":
    main()
