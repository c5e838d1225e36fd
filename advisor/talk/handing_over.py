"""The plan or the cure of the talk, written to a file: a page to print, or the dates for a calendar."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from advisor.counsel.consult import consult
from advisor.counsel.in_use import local_lines
from advisor.counsel.plan import Plan
from advisor.errors import HeapwrightError
from advisor.talk.replies import Reply
from advisor.talk.saying import upper
from advisor.talk.shelf import NAMELESS, file_stem
from advisor.text_files import place_of

if TYPE_CHECKING:
    from advisor.diagnosis.shapes import Diagnosis
    from advisor.inference.engine import Engine
    from advisor.knowledge.base import Knowledge
    from advisor.papers.handing import Kind
    from advisor.talk.account import Account

_KINDS: dict[str, Kind] = {"paper": "page", "calendar": "calendar"}
_THEN = {
    "paper": "Open it in a browser and print it there. It has boxes to tick.",
    "calendar": "Open it with your calendar. If the plan changes, ask again: the new file updates the dates.",
}


def handed_over(request: Literal["paper", "calendar"], account: Account, knowledge: Knowledge, engine: Engine) -> Reply:
    """Write the cure while the heap ails, else the plan, and say where; no file of somebody else is written over.

    The file goes into the folder that the program was started in. Dates count from today where no day was told.
    """
    from advisor.papers.handing import Handed, free_path

    answer, begun_today = _standing(request, account, knowledge, engine)
    if answer is None:
        return Reply("answer", "There is no plan yet: tell me first what you have to compost.")
    now = datetime.combine(account.today, datetime.now().time()).astimezone()
    handed = Handed(answer, knowledge.sources, now, local=local_lines(knowledge))
    name = account.household.name
    stem = f"{file_stem(name) if name != NAMELESS else 'heap'}-{'plan' if isinstance(answer, Plan) else 'cure'}"
    try:
        path = handed.write(_KINDS[request], free_path(Path.cwd(), stem, _KINDS[request], handed))
    except (HeapwrightError, OSError) as error:
        return Reply("lost", upper(f"{getattr(error, 'strerror', None) or error}."))
    counted = " I count from today, as if you build it now." if begun_today else ""
    return Reply("answer", f"Written to {place_of(path)}.{counted} {_THEN[request]}")


def _standing(
    request: str, account: Account, knowledge: Knowledge, engine: Engine
) -> tuple[Plan | Diagnosis | None, bool]:
    """The plan or the cure, and whether its dates count from today."""
    found = account.ailing.diagnosis if account.state.in_trouble else None
    if found is not None and found.remedies:
        return found, False
    plan = account.reckoning.whole_plan()
    if plan is None or plan.built or request != "calendar":
        return plan, False
    begun = replace(account.household, start=account.today)
    return consult(begun, knowledge, engine, units=account.units), True
