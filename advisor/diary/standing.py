"""The state of a vessel of the diary today: facts for the rules, each counted from what was told alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from typing import Final

from advisor.diary.beds_standing import bed_facts
from advisor.diary.core_readings import core_readings
from advisor.diary.entries import Entry, EntryKind, Vessel
from advisor.diary.vessels import Record
from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.records import dataclass

_KIND = "record"
#: Entries that tell nothing of the stuff.
_NOT_OF_THE_STUFF: Final = frozenset({"done", "put off", "skipped", "note"})
#: Spans within which what was told counts as how it is now, in days. Common practice, no source.
_READING_LASTS, TROUBLE_LASTS, _WEATHER_LASTS = 14, 30, 10
#: Months in which a season begins, north of the equator, as the weather services count them.
_SEASONS: Final = ((3, "spring"), (6, "summer"), (9, "autumn"), (12, "winter"))
_MOISTURE: Final = {"dry": "dry", "dry-core": "dry", "right": "right", "wet": "wet"}
#: What a deed does about a moisture, so that it is no longer known.
_MENDS: Final[Mapping[str, frozenset[EntryKind]]] = {
    "dry": frozenset({"watered"}),
    "wet": frozenset({"went in", "turned", "fed"}),
}
#: Troubles of `record` by the signs that tell them.
_TROUBLES: Final[Mapping[tuple[str, str], str]] = {
    ("smell", "ammonia"): "ammonia",
    ("smell", "rotten-egg"): "rot",
    ("smell", "putrid"): "rot",
    ("smell", "rancid"): "rot",
    ("smell", "foul"): "rot",
    ("smell", "sour"): "sour",
    ("animals", "fruit-flies"): "flies",
    ("animals", "flies"): "flies",
    ("animals", "maggots"): "flies",
    ("animals", "rats"): "rats",
    ("animals", "mice"): "rats",
    ("animals", "ants"): "ants",
    ("animals", "scavengers"): "scavengers",
    ("animals", "worms-fleeing"): "fleeing",
    ("progress", "nothing"): "nothing",
}


@dataclass(frozen=True, slots=True)
class Now:
    """The day and the place.

    Attributes:
        south: whether it is south of the equator.
        away: for how many days nobody will be there; 0 if somebody is.
    """

    today: date
    south: bool = False
    away: int = 0

    @property
    def month(self) -> int:
        """The month, 1 to 12, south of the equator counted half a year on."""
        return (self.today.month + 5) % 12 + 1 if self.south else self.today.month

    @property
    def season(self) -> str:
        """The season by whole months."""
        return next((name for first, name in reversed(_SEASONS) if self.month >= first), "winter")


def batch(record: Record, vessel: Vessel) -> tuple[Entry, ...]:
    """The entries of what is in a vessel now, oldest first: since it was emptied, with those of what came into it."""
    return tuple(sorted(_batch(record, vessel.name, date.max, 0), key=lambda one: (one.day, one.number)))


_MOST_MOVES = 12  # a batch is not moved more often; a ring of moves would have no end


def _batch(record: Record, name: str, until: date, depth: int) -> Iterator[Entry]:
    own = [one for one in record.of(name) if one.day <= until]
    start = 0
    for at, one in enumerate(own):
        emptied = one.kind == "emptied" or (one.kind == "moved" and one.into and one.vessel == name)
        if emptied or (one.kind == "begun" and one.vessel == name):
            start = at + 1 if emptied else at
    for one in own[start:]:
        yield one
        if one.into == name and one.vessel and one.vessel != name and depth < _MOST_MOVES:
            yield from _batch(record, one.vessel, one.day - timedelta(1), depth + 1)


def standing(record: Record, vessel: Vessel, now: Now, knowledge: Knowledge) -> tuple[Fact, ...]:
    """What is known of a vessel or a bed on a day, as facts of the kind `record`."""
    facts = _bed if vessel.kind == "bed" else _vessel
    common: tuple[tuple[str, Value], ...] = (
        ("vessel", vessel.kind.replace(" ", "-")),
        ("season", now.season),
        ("month", float(now.month)),
    )
    found = (*common, *facts(record, vessel, now, knowledge))
    return tuple(Fact(_KIND, name, "", value) for name, value in found)


def _bed(record: Record, vessel: Vessel, now: Now, knowledge: Knowledge) -> Iterator[tuple[str, Value]]:
    yield from bed_facts(record, vessel, now.today, knowledge)
    for value in _weather(record, now.today):
        yield "weather", value


def _vessel(record: Record, vessel: Vessel, now: Now, _knowledge: Knowledge) -> Iterator[tuple[str, Value]]:
    entries = [one for one in batch(record, vessel) if one.day <= now.today]
    stuff = [one for one in entries if one.kind not in _NOT_OF_THE_STUFF]
    begun = _begun(record, vessel, stuff)
    facts: dict[str, Value] = {"stage": _stage(record, vessel, entries)}

    def since(name: str, kinds: Iterable[EntryKind], *, or_begun: bool) -> None:
        day = _last(stuff, kinds) or (begun if or_begun else None)
        if day is not None:
            facts[name] = float((now.today - day).days)

    if begun is not None:
        facts["days_begun"] = float(max(0, (now.today - begun).days))
    since("days_turned", ("turned", "moved"), or_begun=True)
    since("days_watered", ("watered",), or_begun=True)
    since("days_drained", ("drained",), or_begun=True)
    since("days_fed", ("went in", "fed", "begun"), or_begun=False)
    since("days_closed", ("closed",), or_begun=False)
    since("days_buried", ("buried", "went in", "begun") if vessel.kind == "trench" else ("buried",), or_begun=False)
    since("days_harvested", ("harvested",), or_begun=True)
    told = [one for one in record.of(vessel.name) if one.kind not in ("put off", "skipped") and one.day <= now.today]
    if told:
        facts["days_heard"] = float((now.today - max(one.day for one in told)).days)
    elif begun is not None:
        facts["days_heard"] = facts["days_begun"]
    facts.update(_heat(stuff, now.today))
    facts.update(_damp(stuff, begun, now.today))
    filled = next((one.told.filled for one in reversed(stuff) if one.told.filled is not None), None)
    if filled is not None:
        facts["filled"] = round(filled * 100.0, 1)
    if now.away:
        facts["away"] = float(min(now.away, 400))
    weather = tuple(_weather(record, now.today))
    yield from facts.items()
    yield from (("trouble", value) for value in _troubles(stuff, now.today))
    yield from (("weather", value) for value in weather)
    yield from (("has", value) for value in _has(stuff))
    if "hot" not in weather:
        yield "has", "no-heat-wave"


def _last(entries: Sequence[Entry], kinds: Iterable[EntryKind]) -> date | None:
    wanted = frozenset(kinds)
    return max((one.day for one in entries if one.kind in wanted), default=None)


def _begun(record: Record, vessel: Vessel, stuff: Sequence[Entry]) -> date | None:
    """The day on which what is in it was begun: as told, else of its first entry."""
    first = min((one.day for one in stuff), default=None)
    emptied = any(one.kind == "emptied" and one.vessel == vessel.name for one in record.of(vessel.name))
    if vessel.begun is not None and not emptied:
        return min(vessel.begun, first) if first is not None else vessel.begun
    return first


def _stage(record: Record, vessel: Vessel, entries: Sequence[Entry]) -> str:
    stage = "working"
    for one in entries:
        if one.kind in ("begun", "went in", "fed"):
            stage = "working"
        elif one.kind in ("closed", "buried"):
            stage = one.kind
        elif _looks_ready(one):
            stage = "ready"
    own = record.of(vessel.name)
    if not entries and any(one.kind in ("emptied", "moved") for one in own):
        return "empty"
    return stage


def _looks_ready(one: Entry) -> bool:
    """Whether an entry tells that it looks ready: then it is tested and used, and turned no more."""
    signs = one.told.signs
    return one.kind == "reading" and (
        "looks-ready" in signs.get("progress", ()) or "crumbly" in signs.get("texture", ())
    )


def _heat(stuff: Sequence[Entry], today: date) -> Iterator[tuple[str, Value]]:
    by_day = {day: max(read) for day, read in core_readings(stuff).items()}  # the hottest of the core
    if not by_day:
        return
    latest = max(by_day)
    turned = _last(stuff, ("turned", "moved"))
    yield "days_read", float((today - latest).days)
    yield "hottest", round(max(by_day.values()), 1)
    if (today - latest).days <= _READING_LASTS:
        yield "degrees", round(by_day[latest], 1)
        since = [degrees for day, degrees in by_day.items() if turned is None or day >= turned]
        if latest in by_day and since and (turned is None or latest >= turned):
            yield "fallen", round(max(0.0, max(since) - by_day[latest]), 1)


def _damp(stuff: Sequence[Entry], begun: date | None, today: date) -> Iterator[tuple[str, Value]]:
    told = [(one, value) for one in stuff for value in one.told.signs.get("moisture", ()) if value in _MOISTURE]
    if told:
        entry, value = told[-1]
        yield "days_felt", float((today - entry.day).days)
        moisture = _MOISTURE[value]
        mended = any(
            one.kind in _MENDS.get(moisture, ()) and (one.day, one.number) > (entry.day, entry.number) for one in stuff
        )
        if not mended and (today - entry.day).days <= TROUBLE_LASTS:
            yield "moisture", moisture
    elif begun is not None:
        yield "days_felt", float((today - begun).days)


def _troubles(stuff: Sequence[Entry], today: date) -> Iterator[str]:
    """Troubles of the last month that were not told to be over."""
    open_: dict[str, tuple[str, str]] = {}
    for one in stuff:
        if (today - one.day).days > TROUBLE_LASTS:
            continue
        for name, values in one.told.signs.items():
            for value in values:
                trouble = _TROUBLES.get((name, value))
                if one.kind == "trouble" and trouble is not None:
                    open_[trouble] = (name, value)
                elif one.kind == "cure":
                    open_.pop(trouble or "", None)
                elif one.kind == "reading":  # it smells of earth now, or of nothing
                    open_ = {each: sign for each, sign in open_.items() if sign[0] != name}
    yield from sorted(open_)


def _weather(record: Record, today: date) -> Iterator[str]:
    found = {
        value
        for one in record.of("")
        if one.kind == "weather" and 0 <= (today - one.day).days <= _WEATHER_LASTS
        for value in one.told.signs.get("weather", ())
    }
    yield from sorted(found & {"freezing", "hot", "rainy", "dry"})


def _has(stuff: Sequence[Entry]) -> Iterator[str]:
    if all(one.told.degrees is None for one in stuff):
        yield "no-reading"
    if all(one.kind != "turned" for one in stuff):
        yield "no-turn"
    covers = [one.kind for one in stuff if one.kind in ("covered", "uncovered")]
    yield "cover" if covers[-1:] == ["covered"] else "no-cover"
    if any(one.kind == "buried" and one.into for one in stuff):
        yield "in-bed"  # the bed tells when it can be planted
    else:
        yield "no-bed"
