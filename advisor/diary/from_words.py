"""A line of a diary as entries: what it tells was done or seen, of which vessel, on which day. Nothing is worked out.

What is asked, denied or supposed tells nothing and is not kept.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date

from advisor.diary.entries import ToKeep, Told, Vessel, VesselKind
from advisor.diary.far_off import far_off
from advisor.diary.items import Item
from advisor.diary.told_items import items_told
from advisor.diary.which_vessel import Unsure, WhichVessel, vessel_of, vessels_of
from advisor.hearing.diary_line import DiaryLine, diary_line
from advisor.hearing.shapes import Heard
from advisor.hearing.vessels import VesselNamed, vessels_in
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass


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

    @property
    def vessel(self) -> str:
        """The vessel that the line was about last; empty if it was about none."""
        return next((one.vessel for one in reversed(self.entries) if one.vessel), "")


def noted(
    text: str,
    knowledge: Knowledge,
    today: date,
    vessels: Sequence[Vessel] = (),
    *,
    of: Vessel | None = None,
    logging: bool = True,
    sure: bool = False,
    troubled: Collection[tuple[str, str]] = (),
) -> Noted:
    """Read a line into entries.

    Args:
        today: the day from which "yesterday" counts, and of what tells no day.
        vessels: those there are.
        of: the vessel that it is about where it names none.
        logging: whether it is written for the diary; else it was said in a talk, where an amount alone tells what
            there is and went nowhere, and what tells no deed, reading or trouble is not kept.
        sure: whether far-off figures were confirmed.
        troubled: names of vessels, each with a sign of which it had a trouble: what is denied of others is not kept.
    """
    called = _called(vessels)
    line = diary_line(text, knowledge, today, [(said, one.kind) for said, one in called.items()])
    line = replace(line, vessels=_by_name(line.vessels, called))
    items = items_told(line, knowledge, logging=logging)
    heard = line.heard
    past = logging and "?" not in text and text.casefold().startswith("did ")  # "did nothing this week"
    asking = any(act.startswith(("ask", "what_if")) for act in heard.acts[:1]) and not items and not past
    if asking or not text.strip():
        return Noted(heard=heard, asks="That is a question, so I kept nothing." if text.strip() else "")
    far = "" if sure else far_off(line, logging=logging)
    if any(one.undated and one.sure for one in line.figures):
        asks = "Which reading is of which day? Say it as in 58 C on Monday, 61 C on Tuesday."
        return Noted(heard=heard, asks=asks)
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
            made = _entries(item, line, which, text, today)
            entries += (one for one in made if not item.denied or _had(one, troubled))
        begun = tuple(_begun(line, which, today))
    except Unsure as unsure:
        return Noted(heard=heard, asks=str(unsure), unsure=True)
    return Noted(tuple(_once(entries)), begun, dated=bool(line.days), heard=heard)


def _had(cure: ToKeep, troubled: Collection[tuple[str, str]]) -> bool:
    return any((cure.vessel, name) in troubled for name in cure.told.signs)


def vessels_spoken_of(text: str, knowledge: Knowledge, vessels: Sequence[Vessel]) -> tuple[VesselNamed, ...]:
    """The vessels that a line names, in order; those of the diary by their names there."""
    called = _called(vessels)
    return _by_name(vessels_in(text, knowledge, [(said, one.kind) for said, one in called.items()]), called)


def _called(vessels: Sequence[Vessel]) -> dict[str, Vessel]:
    return {said: one for one in vessels for said in names_said(one)}


def _by_name(named: Iterable[VesselNamed], called: Mapping[str, Vessel]) -> tuple[VesselNamed, ...]:
    return tuple(replace(one, name=called[one.name].name) if one.known else one for one in named)


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


def _entries(item: Item, line: DiaryLine, which: WhichVessel, text: str, today: date) -> Iterator[ToKeep]:
    """The entries of something told: one for each vessel and each day that it is told of."""
    told = item.told.model_copy(update={"materials": tuple(item.materials)}) if item.materials else item.told
    for first, last in _days_of(item, line, today):
        day = first + (last - first) // 2
        on = told if first == last else told.model_copy(update={"first": first, "last": last})
        if item.kind == "weather":
            yield ToKeep(day=day, kind="weather", told=on, said=text)
            continue
        named = _named_for(item, line)
        if named is not None and named.into and item.kind in ("moved", "buried") and not item.materials:
            named = None  # "moved it into the next bay": it is the one that was spoken of
        another, kinds = item.kind == "begun", _kinds_for(item)
        for vessel in vessels_of(named, line.vessels, which, another=another, kinds=kinds):
            yield _entry(item, vessel, on, day, named, line, which, text)


def _entry(
    item: Item,
    vessel: tuple[str, VesselKind],
    told: Told,
    day: date,
    named: VesselNamed | None,
    line: DiaryLine,
    which: WhichVessel,
    text: str,
) -> ToKeep:
    kind = item.kind
    if kind == "spread" and vessel[1] == "fermented bucket":  # what has fermented is dug in, and lies on no bed
        kind, told = "buried", told.model_copy(update={"materials": ()})
    beds = [one for one in line.vessels if one.kind == "bed"] if named is not None and named.kind != "bed" else []
    into = next((one for one in line.vessels if one.into), next(iter(beds), None))
    goes = into is not None and item.kind in ("moved", "buried", "spread") and into is not named
    goal = vessel_of(into, replace(which, of=None), another=False, kinds=()) if goes else None
    if "bed" in (vessel[1], goal[1] if goal is not None else ""):
        told = told.model_copy(update={"bed": ""})  # the diary has it by its name
    return ToKeep(
        vessel=vessel[0],
        vessel_kind=vessel[1],
        day=day,
        kind=kind,
        told=told,
        said=text,
        into=goal[0] if goal is not None else "",
        into_kind=goal[1] if goal is not None else "heap",
    )


#: What is done on one day after another with the same words.
_REPEATED = frozenset({"turned", "watered", "fed", "drained", "checked"})


#: What only one kind of vessel makes.
_MADE_IN: dict[str, VesselKind] = {"worm-castings": "worm bin", "leaf-mould": "leaf heap"}


def _kinds_for(item: Item) -> tuple[VesselKind, ...]:
    """The kinds of vessel that a deed can be done to where none is named; any if none are given."""
    made = {one.material for one in item.materials}
    if made & _MADE_IN.keys():
        return tuple(_MADE_IN[name] for name in made & _MADE_IN.keys())
    if item.kind == "drained" or item.kind == "closed":
        return ("fermented bucket", "worm bin") if item.kind == "drained" else ("fermented bucket",)
    return ()


def _named_for(item: Item, line: DiaryLine) -> VesselNamed | None:
    """The vessel that something is told of: named within its words, else before it, else anywhere in the line."""
    part = line.part(item.start)
    takes_in = item.kind in ("went in", "fed", "begun")
    goal = [one for one in line.vessels if one.into and takes_in]
    moved = [one for one in goal if one.end <= item.start and line.part(one.start) == part]
    if moved and not any(moved[-1].end <= one.start for one in line.vessels):
        return moved[-1]  # "turned bay 1 into bay 2 and worked in a bucket of manure"
    named = [one for one in line.vessels if not one.into] or list(line.vessels)
    if item.kind == "spread" and any(one.kind != "bed" for one in named):
        named = [one for one in named if one.kind != "bed"]  # it comes from there, and ends up on the bed
    within = [one for one in named if item.start <= one.start and one.end <= item.end]
    if within:
        return within[0]
    same = [one for one in line.vessels if line.part(one.start) == part and (one in named or one in goal)]
    before = [one for one in same if one.start <= item.start]
    if same:
        return before[-1] if before else same[0]
    before = [one for one in named if one.start <= item.start]
    return before[-1] if before else next(iter(named), None)


def _days_of(item: Item, line: DiaryLine, today: date) -> Iterator[tuple[date, date]]:
    """The days on which something was, each as the first and the last that it may be: two of "Monday and Friday".

    A day of its own part of the line goes first; then one that leads the line, then one at its very end. A deed goes
    by the deed before it, and a reading is of today.
    """
    days = line.days
    if item.days is not None:
        yield item.days
        return
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
        yield today, today
        return
    yield chosen.when.first, chosen.when.last
    if item.kind in _REPEATED:
        yield from ((one.when.first, one.when.last) for one in days if one.beside and one.start > chosen.start)


def _begun(line: DiaryLine, which: WhichVessel, today: date) -> Iterator[Vessel]:
    """Vessels of which a line tells how old they are."""
    for when in line.ages:
        name, kind = vessel_of(line.vessels[0] if line.vessels else None, which, another=False, kinds=())
        yield Vessel(name=name, kind=kind, begun=min(today, when))
