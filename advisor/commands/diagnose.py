"""`heapwright diagnose`: what somebody sees, smells and feels becomes causes, a question, and a cure with amounts."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from advisor.commands.shown import show, show_schema
from advisor.commands.told import add_shown, household_named

if TYPE_CHECKING:
    from advisor.household.shapes import Holding
    from advisor.knowledge.base import Knowledge


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options."""
    parser.add_argument(
        "file", nargs="?", help="a household file: what is on hand, and what went in unless --heap says"
    )
    parser.add_argument(
        "--signs", metavar="WORDS", help="what you see, smell and feel: 'stinks of ammonia, slimy, flies'"
    )
    parser.add_argument("--heap", metavar="LIST", default="", help="what went in: '6 buckets grass, 1 sack dry leaves'")
    add_shown(parser, dated=True)


def run(arguments: argparse.Namespace) -> int:
    """Print the diagnosis."""
    from advisor.diagnosis.shapes import Diagnosis

    if arguments.schema:
        return show_schema(Diagnosis)
    from advisor.counsel.in_use import in_use
    from advisor.diagnosis.diagnose import diagnose, shipped_diagnosis_engine
    from advisor.diagnosis.signs import as_signs, signs_told
    from advisor.hearing.hear import hear

    knowledge = in_use()
    heard = hear(_signs(arguments), knowledge)
    read = signs_told(heard, knowledge)
    found = diagnose(
        as_signs(read),
        knowledge,
        shipped_diagnosis_engine(),
        household=household_named(arguments.file, knowledge),
        went_in=_went_in(arguments.heap, knowledge),
        units=arguments.units,
        read=read,
        unplaced=heard.unread,
    )
    return show(found, arguments)


def _signs(arguments: argparse.Namespace) -> str:
    from advisor.errors import UsageError

    told = str(arguments.signs or "").strip()
    if not told:
        raise UsageError("say what you see", hint="for instance --signs 'it stinks of rotten eggs and is slimy'")
    return told


def _went_in(text: str, knowledge: Knowledge) -> tuple[Holding, ...]:
    if not text.strip():
        return ()
    from advisor.household.holdings import holdings_told

    return holdings_told(text, knowledge, lambda _: "--heap")
