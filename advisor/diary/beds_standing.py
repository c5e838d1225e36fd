"""The state of a bed of the diary today: facts for the rules, each counted from what was told alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from advisor.diary.entries import BedKept, Entry, Vessel
from advisor.diary.vessels import Record
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value

_DAYS_OF_A_MONTH = 30.4


def bed_facts(record: Record, vessel: Vessel, today: date, knowledge: Knowledge) -> Iterator[tuple[str, Value]]:
    """What is known of a bed beside the season: its attributes of the fact kind `record`, each with its value."""
    told = next((one for one in record.beds if one.name.casefold() == vessel.name.casefold()), None)
    entries = [one for one in of_bed(record, vessel) if one.day <= today]
    yield "wants", (told.wants if told is not None else "") or "unsaid"
    spread = _last(entries, "spread")
    if spread is None:
        yield "has", "no-spread"
    else:
        yield "days_spread", float((today - spread.day).days)
    buried = _last(entries, "buried")
    over = record.of(buried.vessel) if buried is not None else ()  # "planted beans over the buried bucket"
    planted = [one.day for one in (*entries, *over) if one.kind == "planted" and one.day <= today]
    if buried is not None and max(planted, default=date.min) < buried.day:
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


def of_bed(record: Record, bed: Vessel) -> tuple[Entry, ...]:
    """The entries that tell of a bed, by day."""
    beds = [one.name for one in record.vessels if one.kind == "bed"]
    return tuple(one for one in record.entries if bed_of(one, beds) == bed.name)


def bed_of(entry: Entry, beds: Sequence[str]) -> str:
    """The bed that an entry tells of, by its name or as it was called in passing; empty if it tells of none."""
    named = {bed.casefold(): bed for bed in beds}
    by_name = (named.get(said.casefold()) for said in (entry.into, entry.vessel))
    return next((one for one in by_name if one is not None), None) or bed_called(entry.told.bed, beds)


def bed_called(said: str, beds: Sequence[str]) -> str:
    """The bed that is meant: the one of that name, or the only one whose name holds what was said, or is held by it."""
    plain = said.casefold().strip()
    if not plain:
        return ""
    same = [bed for bed in beds if bed.casefold() == plain]
    near = same or [bed for bed in beds if bed.casefold() in plain or plain in bed.casefold()]
    core = plain.removesuffix(" bed").removesuffix(" beds")
    near = near or [bed for bed in beds if core and core in bed.casefold()]
    return near[0] if len(near) == 1 else ""


def _last(entries: list[Entry], kind: str) -> Entry | None:
    return next((one for one in reversed(entries) if one.kind == kind), None)
