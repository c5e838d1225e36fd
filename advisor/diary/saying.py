"""Entries of the diary in words: what was kept, said back in one line, and a line for a list."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final

from advisor.counsel.wording import counted, joined
from advisor.diary.entries import VESSEL_KINDS, Entry, EntryKind, MaterialTold, ToKeep, Told, Vessel
from advisor.diary.vessels import Record
from advisor.hearing.times import day_text
from advisor.knowledge.base import Knowledge

_KIND: Final[dict[EntryKind, str]] = {
    "begun": "started",
    "cure": "gone",
    "done": "done",
    "put off": "put off",
    "reading": "",
    "trouble": "trouble",
    "weather": "weather",
}
#: Smells that are named after what smells so; the others say how it smells.
_SMELLS_OF: Final = frozenset({"earthy", "ammonia", "rotten-egg", "sour", "rancid", "putrid"})
_WITH: Final = {"watered": "watered with", "drained": "drained", "covered": "covered with"}


def kept_text(entries: Sequence[ToKeep], knowledge: Knowledge, today: date, vessels: Sequence[Vessel] = ()) -> str:
    """What was kept in one line: "Kept for north heap, Sunday 29 November: turned; 58 °C at 40 cm."."""
    parts = []
    groups: dict[tuple[str, date], list[ToKeep]] = {}
    for one in entries:
        groups.setdefault((one.vessel, one.day), []).append(one)
    for (vessel, day), of in groups.items():
        said = "; ".join(dict.fromkeys(_kept(one, knowledge) for one in of))
        name = f"{vessel}, " if vessel else ""
        parts.append(f"{name}{day_said(day, of[0].told, today)}: {said}")
    parts += [f"{one.name}: begun {_short(one.begun, today)}" for one in vessels if one.begun is not None]
    return f"Kept for {'. For '.join(parts)}."


def _kept(one: ToKeep, knowledge: Knowledge) -> str:
    return "a note in your words" if one.kind == "note" else entry_text(one.kind, one.told, one.into, knowledge)


def day_said(day: date, told: Told, today: date) -> str:
    """A day in words: "today, Monday 30 November", with the year if it is another."""
    if told.first is not None and told.last is not None:
        return f"between {_short(told.first, today)} and {_short(told.last, today)}"
    said = day_text(day)
    if day == today:
        return f"today, {said}"
    return said if day.year == today.year else f"{said} {day.year}"


def _short(day: date, today: date) -> str:
    said = day_text(day).partition(" ")[2]
    return said if day.year == today.year else f"{said} {day.year}"


def entry_text(kind: EntryKind, told: Told, into: str, knowledge: Knowledge) -> str:
    """What an entry tells in words: "turned", "went in: 2 buckets of leaves", "58 °C at 40 cm"."""
    parts = [*_figures(told), *_seen(told, knowledge)]
    stuff = [_material(one, knowledge) for one in told.materials]
    said = _KIND.get(kind, kind)
    if into:
        said = f"{said} {'on' if kind == 'spread' else 'into'} {spoken_name(into)}"
    if stuff:
        lead = _WITH.get(kind, f"{said}:") if said else ""
        said = f"{lead} {joined(stuff)}".strip()
    if told.bed:
        said = f"{said} on the {told.bed}"
    if told.deed:
        named = knowledge.notices.get("due", {}).get(told.deed)
        name = str(getattr(named, "name", told.deed.replace("-", " ")))
        parts.append(f"{name[:1].lower()}{name[1:]}")
    if told.until is not None:
        parts.append(f"until {day_text(told.until)}")
    if parts:
        return f"{said}: {', '.join(parts)}" if said else ", ".join(parts)
    return said or kind


def _figures(told: Told) -> Iterator[str]:
    if told.degrees is not None:
        deep = f" at {told.depth_cm:g} cm" if told.depth_cm is not None else ""
        place = f" at the {told.place}" if told.place and told.place != "middle" else ""
        place = " in the middle" if told.place == "middle" else place
        yield f"{told.degrees:g} °{told.scale or 'C'}{deep}{place}"
    if told.height_cm is not None:
        yield f"{told.height_cm:g} cm high"
    if told.filled is not None:
        share = {1.0: "full", 0.5: "half full"}.get(told.filled, f"{told.filled * 100:.0f} % full")
        yield share


def _seen(told: Told, knowledge: Knowledge) -> Iterator[str]:
    declared = knowledge.kinds["sign"].attributes
    for name, values in told.signs.items():
        words = declared[name].words if name in declared else {}
        for value in values:
            said = words.get(value, value).partition(":")[0] if value != "none" else f"no {name} to speak of"
            if name == "smell" and value != "none":
                said = f"it smells {'of ' if value in _SMELLS_OF else ''}{said}"
            yield said


def _material(one: MaterialTold, knowledge: Knowledge) -> str:
    material = knowledge.materials.get(one.material)
    name = one.name or (material.name if material is not None else "")
    if one.count is None:
        return name
    measure = knowledge.measures.get(one.measure)
    amount = counted(one.count, measure.name) if measure is not None else f"{one.count:g} {one.measure}"
    return f"{amount} of {name}" if name else amount


def spoken_name(name: str) -> str:
    """The name of a vessel within a sentence: "the north heap", but "bay 2" and "Bertha"."""
    return f"the {name}" if name.casefold().split()[-1] in _NOUNS else name


_NOUNS: Final = frozenset(
    word for kind in VESSEL_KINDS for word in kind.split() if word not in ("worm", "fermented", "leaf")
) | {"pile", "wormery", "box", "composter", "border", "plot", "mould", "store"}


def vessel_line(vessel: Vessel, record: Record, today: date) -> str:
    """A vessel as a list shows it: "north heap: a heap, begun 9 November, 12 entries"."""
    count = len(record.of(vessel.name))
    parts = ["dry browns put by" if vessel.kind == "browns" else f"a {vessel.kind}"]
    if vessel.begun is not None:
        parts.append(f"begun {_short(vessel.begun, today)}")
    if vessel.ended is not None:
        parts.append(f"given up {_short(vessel.ended, today)}")
    parts.append("1 entry" if count == 1 else f"{count} entries")
    return f"{vessel.name}: {', '.join(parts)}"


def listed_line(entry: Entry, knowledge: Knowledge, today: date) -> str:
    """An entry as a list shows it, with its number."""
    back = " (taken back)" if entry.taken_back else ""
    puts = f" (puts right {entry.corrects})" if entry.corrects else ""
    said = entry_text(entry.kind, entry.told, entry.into, knowledge)
    if entry.kind == "note":
        said = f"“{entry.said}”"
    vessel = f"{entry.vessel}: " if entry.vessel else ""
    return f"{entry.number:>4}  {day_said(entry.day, entry.told, today)}  {vessel}{said}{puts}{back}"
