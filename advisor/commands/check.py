"""`heapwright check`: the lint of the rule base."""

from __future__ import annotations

import argparse
import os
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from advisor.knowledge.base import Local
    from advisor.knowledge.lint import Tally
    from advisor.knowledge.shapes import Standing


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument("folder", nargs="?", type=Path, help="a folder of rules; the shipped ones if left out")
    parser.add_argument("--quiet", action="store_true", help="only faults, no remarks and no counts")


def run(arguments: argparse.Namespace) -> int:
    """Print every fault and remark; 3 if there is a fault."""
    from advisor.counsel.in_use import laid_over
    from advisor.errors import UsageError
    from advisor.hearing.lint import words_lint
    from advisor.inference.limits import limits
    from advisor.knowledge.lint import lint, listed
    from advisor.knowledge.load import read
    from advisor.places import local_folder, rules_folder

    folder: Path = arguments.folder or rules_folder()
    if not os.path.isdir(folder):  # noqa: PTH112  Path.is_dir fails on a path that is too long
        raise UsageError(f"no folder '{folder}'")
    knowledge, problems = read(folder)
    local = local_folder() if arguments.folder is None or arguments.local is not None else None
    if local is not None:
        knowledge = laid_over(knowledge, local)
    if knowledge.local is not None:
        problems = (*problems, *knowledge.local.left_out)
    shipped_rules = [rule for rule in knowledge.rules if rule.folder == "rules"]
    report = lint(knowledge, folder, extra=[listed("engine-limits", lambda _: limits(shipped_rules))])
    words_faults, words_remarks = words_lint(knowledge, folder)
    faults = (*problems, *report.faults, *words_faults)
    remarks = (*report.remarks, *words_remarks)
    for problem in faults:
        print(f"fault   {problem}")
    if not arguments.quiet:
        for problem in remarks:
            print(f"remark  {problem}")
        print("\n".join(_counts(report.tally)))
        if knowledge.local is not None:
            print(_local_counts(knowledge.local))
    print(f"{len(faults)} faults, {len(remarks)} remarks")
    return 3 if faults else 0


def _local_counts(local: Local) -> str:
    tables = Counter(table for table, _ in local.files)
    counted = [f"{count} in {table}" for table, count in sorted(tables.items())]
    replaced = [f"{name} ({table})" for table, name in local.replaced]
    changed = f"; they give new figures for {', '.join(replaced)}" if replaced else ""
    return f"local files of {local.name}: {', '.join([f'{local.rules} rules', *counted])}{changed}"


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
