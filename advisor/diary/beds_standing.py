"""The state of a bed of the diary today: facts for the rules, each counted from what was told alone."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from advisor.diary.entries import BedKept, Entry, Vessel
from advisor.diary.vessels import Record
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value

_DAYS_OF_A_MONTH = 30.4


def bed_facts(record: Record, vessel: Vessel, today: date, knowledge: Knowledge) -> Iterator[tuple[str, Value]]:
    """What is known of a bed beside the season: its attributes of the fact kind `record`, each with its value."""
    told = next((one for one in record.beds if one.name.casefold() == vessel.name.casefold()), None)
    entries = [one for one in record.of(vessel.name) if one.day <= today]
    yield "wants", (told.wants if told is not None else "") or "unsaid"
    spread = _last(entries, "spread")
    if spread is None:
        yield "has", "no-spread"
    else:
        yield "days_spread", float((today - spread.day).days)
    buried = _last(entries, "buried")
    planted = _last(entries, "planted")
    if buried is not None and (planted is None or planted.day < buried.day):
        yield "days_buried", float((today - buried.day).days)
        of = record.vessel(buried.vessel)
        yield "has", "fermented" if of is not None and of.kind == "fermented bucket" else "raw"
    if entries:
        yield "days_heard", float((today - max(one.day for one in entries)).days)
    late = check_due(told, today, knowledge)
    if late is not None:
        yield "check_late", float(late[1])


def check_due(told: BedKept | None, today: date, knowledge: Knowledge) -> tuple[str, int] | None:
    """The check of a bed that is due first, and for how many days it has been; nothing if none was made or is due."""
    if told is None:
        return None
    found = [
        (guide, (today - day).days - round(months * _DAYS_OF_A_MONTH))
        for guide, day in told.checks.items()
        if guide in knowledge.guides and (months := knowledge.guides[guide].again_months) and day <= today
    ]
    late = [one for one in found if one[1] >= 0]
    return max(late, key=lambda one: one[1], default=None)


def _last(entries: list[Entry], kind: str) -> Entry | None:
    return next((one for one in reversed(entries) if one.kind == kind), None)
