"""`heapwright diagnose`: what somebody sees, smells and feels becomes causes, a question, and a cure with amounts."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from advisor.commands.terminal import colour, width

if TYPE_CHECKING:
    from advisor.diagnosis.shapes import Diagnosis
    from advisor.household.shapes import Holding, Household
    from advisor.knowledge.base import Knowledge

SUMMARY = "what is wrong with a heap, a worm bin or a bucket, and the cure"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument(
        "file", nargs="?", help="a household file: what is on hand, and what went in unless --heap says"
    )
    parser.add_argument(
        "--signs", metavar="WORDS", help="what you see, smell and feel: 'stinks of ammonia, slimy, flies'"
    )
    parser.add_argument("--heap", metavar="LIST", default="", help="what went in: '6 buckets grass, 1 sack dry leaves'")
    parser.add_argument("--why", metavar="LINE", nargs="*", help="the reasons of the lines named, or of all")
    parser.add_argument("--json", action="store_true", help="the diagnosis as JSON")
    parser.add_argument("--schema", action="store_true", help="the JSON Schema of that, and nothing else")
    parser.add_argument("--units", choices=("metric", "us"), default="metric", help="metric (default) or us")


def run(arguments: argparse.Namespace) -> int:
    """Print the diagnosis."""
    from advisor.diagnosis.shapes import Diagnosis

    if arguments.schema:
        import json

        print(json.dumps(Diagnosis.model_json_schema(), indent=2))
        return 0
    from advisor.diagnosis.diagnose import diagnose, shipped_diagnosis_engine
    from advisor.diagnosis.signs import as_signs, signs_told
    from advisor.hearing.hear import hear
    from advisor.knowledge.load import shipped

    knowledge = shipped()
    heard = hear(_signs(arguments), knowledge)
    read = signs_told(heard, knowledge)
    found = diagnose(
        as_signs(read),
        knowledge,
        shipped_diagnosis_engine(),
        household=_household(arguments.file, knowledge),
        went_in=_went_in(arguments.heap, knowledge),
        units=arguments.units,
        read=read,
        unplaced=heard.unread,
    )
    if arguments.why:
        _check_names(arguments.why, found)
    if arguments.json:
        print(found.model_dump_json(indent=2))
        return 0
    from advisor.papers.trouble import trouble_page

    sys.stdout.write(trouble_page(found, width=width(), colour=colour(), why=arguments.why))
    return 0


def _signs(arguments: argparse.Namespace) -> str:
    from advisor.errors import UsageError

    told = str(arguments.signs or "").strip()
    if not told:
        raise UsageError("say what you see", hint="for instance --signs 'it stinks of rotten eggs and is slimy'")
    return told


def _household(name: str | None, knowledge: Knowledge) -> Household | None:
    if name is None:
        return None
    from advisor.household.files import read_household

    path = Path(name)
    if path.exists() or path.suffix or path.parent != Path():
        return read_household(path, knowledge)
    from advisor.commands.households import shipped_path
    from advisor.places import scenarios_folder

    return read_household(shipped_path(name, scenarios_folder()), knowledge)


def _went_in(text: str, knowledge: Knowledge) -> tuple[Holding, ...]:
    if not text.strip():
        return ()
    from advisor.household.holdings import holdings_told

    return holdings_told(text, knowledge, lambda _: "--heap")


def _check_names(names: list[str], found: Diagnosis) -> None:
    from difflib import get_close_matches

    from advisor.errors import UsageError

    known = [line.id for line in found.lines()]
    for name in names:
        if name not in known:
            near = get_close_matches(name, known, n=1)
            hint = f"did you mean {near[0]}?" if near else f"there are {', '.join(known)}"
            raise UsageError(f"no line '{name}' in this diagnosis", hint=hint)
