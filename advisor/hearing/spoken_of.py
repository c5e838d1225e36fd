"""Which thing a line is about."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.hearing.english import listed
from advisor.hearing.facts import things_in
from advisor.hearing.finding import Finder
from advisor.hearing.shapes import Asked

COMMANDS = listed("undo redo save load units help start_over leave off")
_VESSELS = ("worm bin", "fermented bucket", "tumbler", "leaf heap", "trench", "bin", "heap")
_PLACES = ("compost", "soil", "plants", "animals")


def about(finder: Finder, acts: Sequence[str], asked: Asked) -> str:
    """Which thing a line is about: what ails or is asked of before what is told in passing; the last spoken of, if none is named."""
    first = acts[0] if acts else ""
    named = [str(hit.of) for clause in finder.line.clauses for hit in things_in(finder, clause)]
    known = set(named)
    if first in COMMANDS or not acts:
        return next((vessel for vessel in _VESSELS if vessel in known), "none")
    if first == "ask_soil":
        return "compost" if "compost" in known and "soil" not in known else "soil"
    if first in ("ask_use", "ask_ready") and not known & {"worm bin", "fermented bucket"}:
        return _of_use(first, known)
    for thing in (*_VESSELS, *_PLACES):
        if thing in known:
            return thing
    if asked.about:
        return asked.about
    if first == "circumstance" and not known & {"heap"}:
        return "household"
    return "none" if first == "correct" else "heap"


def _of_use(first: str, known: set[str]) -> str:
    if first == "ask_use" and "compost" not in known and known & {"soil"} and not known & {"heap"}:
        return "soil"
    return "compost"
