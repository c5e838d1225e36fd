"""`heapwright check`: the lint of the rule base."""

from __future__ import annotations

import argparse
import os
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from advisor.knowledge.lint import Tally
    from advisor.knowledge.shapes import Standing


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("folder", nargs="?", type=Path, help="a folder of rules; the shipped ones if left out")
    parser.add_argument("--quiet", action="store_true", help="only faults, no remarks and no counts")


def run(arguments: argparse.Namespace) -> int:
    """Print every fault and remark; 3 if there is a fault."""
    from advisor.errors import UsageError
    from advisor.hearing.lint import words_lint
    from advisor.inference.limits import limits
    from advisor.knowledge.lint import lint, listed
    from advisor.knowledge.load import read
    from advisor.places import rules_folder

    folder: Path = arguments.folder or rules_folder()
    if not os.path.isdir(folder):  # noqa: PTH112  Path.is_dir fails on a path that is too long
        raise UsageError(f"no folder '{folder}'")
    knowledge, problems = read(folder)
    report = lint(knowledge, folder, extra=[listed("engine-limits", limits)])
    words_faults, words_remarks = words_lint(knowledge, folder)
    faults = (*problems, *report.faults, *words_faults)
    remarks = (*report.remarks, *words_remarks)
    for problem in faults:
        print(f"fault   {problem}")
    if not arguments.quiet:
        for problem in remarks:
            print(f"remark  {problem}")
        print("\n".join(_counts(report.tally)))
    print(f"{len(faults)} faults, {len(remarks)} remarks")
    return 3 if faults else 0


def _counts(tally: Tally) -> Iterator[str]:
    words: Mapping[Standing, str] = {
        "read": "read in a source",
        "memory": "from memory",
        "practice": "common practice",
        "none": "our estimate, no source",
    }
    counts = {"materials": tally.materials, "measures": tally.measures, "methods": tally.methods}
    yield ", ".join(f"{count} {name}" for name, count in {**counts, "questions": tally.questions}.items())
    for name, counted in (("values", tally.values), ("rules", tally.rules)):
        parts = [f"{counted[standing]} {text}" for standing, text in words.items() if counted[standing]]
        yield f"{sum(counted.values())} {name}: {', '.join(parts)}"
    yield f"of the values, {tally.indirect} are printed of a whole kind or worked out from what is printed"
    yield (
        f"{sum(tally.sources.values())} sources: "
        + ", ".join(f"{tally.sources[standing]} {text}" for standing, text in words.items() if tally.sources[standing])
        + f"; {tally.undated} of those that were read show no year"
    )
    yield "rules by evidence: " + ", ".join(f"{count} {name}" for name, count in tally.by_evidence.items() if count)
    yield "rules by group: " + ", ".join(f"{count} {name}" for name, count in tally.by_group.items())
