"""A line of a diary as entries: what it tells was done or seen, of which vessel, on which day. Nothing is worked out.

What is asked, denied or supposed tells nothing and is not kept.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from advisor.diary.entries import ToKeep, Told, Vessel, VesselKind
from advisor.diary.far_off import far_off
from advisor.diary.told_items import Item, items_told
from advisor.diary.which_vessel import Unsure, WhichVessel, vessel_of
from advisor.hearing.diary_line import DiaryLine, diary_line
from advisor.hearing.shapes import Heard
from advisor.hearing.vessels import VesselNamed
from advisor.knowledge.base import Knowledge


@dataclass(frozen=True, slots=True)
class Noted:
    """How a line of a diary was read.

    Attributes:
        entries: to be kept; none if something must be asked first.
        vessels: vessels of which a day was told.
        asks: a question in one line, if the line cannot be kept yet.
        far_off: whether it asks because a figure is far off; it is kept if it is said again.
        unsure: whether it asks because several vessels may be meant.
        dated: whether the line tells a day.
        heard: how the line was read.
    """

    entries: tuple[ToKeep, ...] = ()
    vessels: tuple[Vessel, ...] = ()
    asks: str = ""
    far_off: bool = False
    unsure: bool = False
    dated: bool = False
    heard: Heard | None = None


def noted(
    text: str,
    knowledge: Knowledge,
    today: date,
    vessels: Sequence[Vessel] = (),
    *,
    of: Vessel | None = None,
    logging: bool = True,
    sure: bool = False,
) -> Noted:
    """Read a line into entries.

    Args:
        today: the day from which "yesterday" counts, and of what tells no day.
        vessels: those there are.
        of: the vessel that it is about where it names none.
        logging: whether it is written for the diary; else it was said in a talk, where an amount alone tells what
            there is and went nowhere, and what is no deed, reading or trouble is not kept.
        sure: whether far-off figures were confirmed.
    """
    called = {said: one for one in vessels for said in names_said(one)}
    line = diary_line(text, knowledge, today, [(said, one.kind) for said, one in called.items()])
    named = (replace(one, name=called[one.name].name) if one.known else one for one in line.vessels)
    line = replace(line, vessels=tuple(named))
    items = items_told(line, knowledge, logging=logging)
    heard = line.heard
    asking = any(act.startswith(("ask", "what_if")) for act in heard.acts[:1]) and not items
    if asking or not text.strip():
        return Noted(heard=heard, asks="That is a question, so I kept nothing." if text.strip() else "")
    far = "" if sure else far_off(line, logging=logging)
    if far:
        return Noted(heard=heard, asks=far, far_off=True)
    if not items and not (logging and (line.vessels or of is not None or heard.facts or heard.materials)):
        asks = (
            "I found no deed or reading of a heap in that. Say for instance: turned the heap, 55 C." if logging else ""
        )
        return Noted(heard=heard, asks=asks)
    which = WhichVessel(vessels, of)
    entries: list[ToKeep] = []
    try:
        for item in items or ([] if line.ages else [_note(text)]):
            entries.append(_entry(item, line, which, text, today))
        begun = tuple(_begun(line, which, today))
    except Unsure as unsure:
        return Noted(heard=heard, asks=str(unsure), unsure=True)
    return Noted(tuple(_once(entries)), begun, dated=bool(line.days), heard=heard)


def names_said(vessel: Vessel) -> tuple[str, ...]:
    """What a vessel is called in a line. A bed is called one: "A" and "front" alone may mean anything."""
    if vessel.kind != "bed" or "bed" in vessel.name.casefold().split():
        return (vessel.name,)
    whole = (vessel.name,) if " " in vessel.name else ()
    return (f"{vessel.name} bed", f"bed {vessel.name}", *whole)


def _note(text: str) -> Item:
    return Item("note", 0, len(text), Told(), [])


def _once(entries: Iterable[ToKeep]) -> Iterator[ToKeep]:
    """Each entry once: "turned and forked over" is one turning, and what went in at the start needs no entry beside."""
    kept: list[ToKeep] = []
    for one in entries:
        if any(one == other for other in kept):
            continue
        bare = one.told == Told() and not one.into
        if bare and any((one.kind, one.vessel, one.day) == (other.kind, other.vessel, other.day) for other in kept):
            continue
        kept.append(one)
    for one in kept:
        empty = one.kind == "went in" and one.told == Told()
        beside = any(other.kind in ("begun", "fed", "moved") and other.vessel == one.vessel for other in kept)
        if not (empty and beside):
            yield one


def _entry(item: Item, line: DiaryLine, which: WhichVessel, text: str, today: date) -> ToKeep:
    told = item.told.model_copy(update={"materials": tuple(item.materials)}) if item.materials else item.told
    first, last, exact = _day_of(item, line, today)
    if not exact:
        told = told.model_copy(update={"first": first, "last": last})
    day = first + (last - first) // 2
    if item.kind == "weather":
        return ToKeep(day=day, kind="weather", told=told, said=text)
    named = _named_for(item, line)
    if named is not None and named.into and item.kind in ("moved", "buried") and not item.materials:
        named = None  # "moved it into the next bay": it is the one that was spoken of
    vessel = vessel_of(named, which, another=item.kind == "begun", kinds=_kinds_for(item))
    beds = [one for one in line.vessels if one.kind == "bed" and one is not named and named is not None]
    into = next((one for one in line.vessels if one.into), next(iter(beds), None))
    goes = into is not None and item.kind in ("moved", "buried", "spread") and into is not named
    goal = vessel_of(into, replace(which, of=None), another=False, kinds=()) if goes else None
    return ToKeep(
        vessel=vessel[0],
        vessel_kind=vessel[1],
        day=day,
        kind=item.kind,
        told=told,
        said=text,
        into=goal[0] if goal is not None else "",
        into_kind=goal[1] if goal is not None else "heap",
    )


def _kinds_for(item: Item) -> tuple[VesselKind, ...]:
    """The kinds of vessel that a deed can be done to where none is named; any if none are given."""
    if item.kind == "drained" or item.kind == "closed":
        return ("fermented bucket", "worm bin") if item.kind == "drained" else ("fermented bucket",)
    return ()


def _named_for(item: Item, line: DiaryLine) -> VesselNamed | None:
    """The vessel that something is told of: named within its words, else before it, else anywhere in the line."""
    named = [one for one in line.vessels if not one.into] or list(line.vessels)
    if item.kind == "spread" and any(one.kind != "bed" for one in named):
        named = [one for one in named if one.kind != "bed"]  # it comes from there, and ends up on the bed
    within = [one for one in named if item.start <= one.start and one.end <= item.end]
    if within:
        return within[0]
    part = line.part(item.start)
    before = [one for one in named if one.start <= item.start]
    same = [one for one in named if line.part(one.start) == part]
    if before:
        return before[-1]
    return next(iter(same or named), None)


def _day_of(item: Item, line: DiaryLine, today: date) -> tuple[date, date, bool]:
    """The day of something told, as the first and the last that it may be, and whether that is one day.

    A day of its own part of the line goes first; then one that leads the line, then one at its very end. A deed goes
    by the deed before it, and a reading is of today.
    """
    days = line.days
    part = line.part(item.start)
    own = [one for one in days if line.part(one.start) == part]
    chosen = min(own, key=lambda one: abs(one.start - item.start), default=None)
    if chosen is None and days:
        facts = [one.start for one in line.heard.told if not one.name.startswith("place.")]
        first, last = days[0], days[-1]
        leads = not any(at < first.start for at in facts)
        ends = len(line.heard.text[last.end :].strip(" .!")) == 0
        before = [one for one in days if one.start <= item.start]
        if before and leads:
            chosen = before[-1]
        elif ends and last.start > item.start and len(days) == 1:
            chosen = last
        elif before and item.kind not in ("reading", "trouble", "cure", "note"):
            chosen = before[-1]
    if chosen is None:
        return today, today, True
    return chosen.when.first, chosen.when.last, chosen.when.first == chosen.when.last


def _begun(line: DiaryLine, which: WhichVessel, today: date) -> Iterator[Vessel]:
    """Vessels of which a line tells how old they are."""
    for when in line.ages:
        name, kind = vessel_of(line.vessels[0] if line.vessels else None, which, another=False, kinds=())
        yield Vessel(name=name, kind=kind, begun=min(today, when))
