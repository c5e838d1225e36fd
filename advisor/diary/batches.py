"""What the diary tells of a batch, for the cures, the diagnosis, "is it ready?", the beds and the year's plan.

Everything is taken from entries as they were told; nothing is guessed where an entry is missing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Final

from advisor.diagnosis.account import account
from advisor.diagnosis.signs import GENERAL_METHODS, METHOD_OF, held_of
from advisor.diary.core_readings import core_readings
from advisor.diary.entries import Entry, MaterialTold, Vessel
from advisor.diary.items import TAKES_IN
from advisor.diary.standing import TROUBLE_LASTS, batch
from advisor.diary.vessels import Record
from advisor.household.shapes import EXACT_UNITS, Holding, Quantity
from advisor.knowledge.base import Knowledge
from advisor.knowledge.conditions import Value
from advisor.records import dataclass
from advisor.soil_counsel.ground import CheckTold

if TYPE_CHECKING:
    from advisor.soil_counsel.ready import Finished

#: From here on a heap is called hot, in °C: "thermophilic" begins at 40 to 45 °C. Rynk and others, On-Farm Composting
#: Handbook, NRAES-54, 1992 (from memory).
HOT_C: Final = 45.0
#: A reading of the last days says how warm it is now; a turn of the last two weeks is one "lately". Common practice.
_READ_LATELY, _TURNED_LATELY = 3, 14
#: Within so many days of a turn a heap that still can heats again. Common practice, no source: two, and one to spare.
_REHEATS_WITHIN: Final = 3
#: Spans after which "days" become "weeks", "months" and "a year" of sign.age.
_AGES: Final = ((365, "year"), (60, "months"), (10, "weeks"), (0, "days"))
_REHEATS: Final = {"reheats": "yes", "no-reheat": "no"}
_SMELLS: Final = {"earthy": "earthy", "ammonia": "ammonia", "sour": "sour", "rotten-egg": "rotten", "putrid": "rotten"}


@dataclass(frozen=True, slots=True)
class Batch:
    """What is told of what is in a vessel now.

    Attributes:
        begun: the day of its first entry, or the day that was told.
        went_in: the stuff that went in with its amounts, for an account of C:N and moisture.
        signs: what the diary adds to what is told now, by attribute of the fact kind `sign`.
        finished: the batch as compost that may be ready.
        hottest_c: its hottest reading of the middle in °C, and `last_hot` the last day at 45 °C or more.
        turnings: how often it was turned or moved.
        sunk_pct: by how much of its first height it has sunk; None if it was not measured twice.
    """

    vessel: Vessel
    begun: date
    went_in: tuple[Holding, ...]
    signs: dict[str, tuple[Value, ...]]
    finished: Finished
    hottest_c: float | None = None
    last_hot: date | None = None
    turnings: int = 0
    sunk_pct: float | None = None


def batch_told(record: Record, vessel: Vessel, today: date, knowledge: Knowledge) -> Batch | None:
    """What the diary tells of the batch in a vessel on a day; None if it tells nothing of it."""
    stuff = [one for one in batch(record, vessel) if one.day <= today]
    if not stuff:
        return None
    begun = min(one.day for one in stuff)
    if vessel.begun is not None and not any(one.kind in ("emptied", "moved") for one in record.of(vessel.name)):
        begun = min(begun, vessel.begun)
    read = _readings(stuff)
    turned = sorted({one.day for one in stuff if one.kind in ("turned", "moved")})
    hot = [day for day, celsius in read.items() if celsius >= HOT_C]
    went_in = tuple(_holdings(stuff, knowledge))
    heights = [one.told.height_cm for one in stuff if one.told.height_cm]
    sunk = 100 * (1 - heights[-1] / heights[0]) if len(heights) > 1 and heights[0] > heights[-1] else None
    return Batch(
        vessel=vessel,
        begun=begun,
        went_in=went_in,
        signs={"method": (_method(vessel),), **_signs(stuff, read, turned, today), **_mix(went_in, knowledge)},
        finished=_finished(vessel, stuff, begun, read, turned, today, knowledge),
        hottest_c=max(read.values(), default=None),
        last_hot=max(hot, default=None),
        turnings=len(turned),
        sunk_pct=sunk,
    )


def with_signs(told: Batch, signs: Mapping[str, tuple[Value, ...]]) -> dict[str, tuple[Value, ...]]:
    """Signs that are told now, with those of the diary for what is not told; what it is like now goes first."""
    before = dict(told.signs)
    if {"warmth", "heat_before"} & signs.keys():
        before.pop("degrees", None)
    found = {**before, **signs}
    if set(found["method"]) <= GENERAL_METHODS:
        found["method"] = before["method"]  # "the bin" may be a worm bin; the diary knows
    return found


def _method(vessel: Vessel) -> str:
    return METHOD_OF.get(vessel.kind, "open-heap")


def _readings(stuff: Sequence[Entry]) -> dict[date, float]:
    """The lowest reading of the core on each day, in °C, oldest first (`heat` of rules/guides.toml)."""
    return {day: min(read) for day, read in core_readings(stuff).items()}


def _holdings(stuff: Sequence[Entry], knowledge: Knowledge) -> Iterator[Holding]:
    for one in stuff:
        if one.kind in TAKES_IN:
            yield from holdings(one.told.materials, knowledge)


def holdings(told: Sequence[MaterialTold], knowledge: Knowledge) -> Iterator[Holding]:
    """Stuff of an entry as it is counted in a household. Stuff that was told without its amount is left out."""
    for each in told:
        known = each.material in knowledge.materials
        measured = each.measure in EXACT_UNITS or each.measure in knowledge.measures
        if known and measured and each.count:
            yield Holding(each.material, Quantity(each.count, each.count, each.count, each.measure), each.name)


def _signs(
    stuff: Sequence[Entry], read: dict[date, float], turned: Sequence[date], today: date
) -> dict[str, tuple[Value, ...]]:
    """What a diagnosis can take from the diary, by attribute of the fact kind `sign`."""
    found: dict[str, tuple[Value, ...]] = {}
    if turned:
        found["turned"] = ("lately" if (today - turned[-1]).days <= _TURNED_LATELY else "not-lately",)
    added = [one.day for one in stuff if one.kind in TAKES_IN]
    if added:
        ago = (today - max(added)).days
        found["age"] = (next(word for least, word in _AGES if ago >= least),)
    if read:
        latest = max(read)
        if (today - latest).days <= _READ_LATELY:
            found["degrees"] = (read[latest],)
        hot = [day for day, celsius in read.items() if celsius >= HOT_C]
        if not hot:
            found["heat_before"] = ("never-hot",)
        elif read[latest] < HOT_C:
            found["heat_before"] = ("no-reheat" if _stays_cool(read, turned) else "was-hot",)
    return found


#: C:N below which what went in is "mostly greens", and above which "mostly browns". A start of 25 to 35 is asked for,
#: and 20 to 40 is said to do: Rynk and others, On-Farm Composting Handbook, NRAES-54, 1992 (from memory).
_GREEN_BELOW, _BROWN_ABOVE = 20.0, 40.0


def _mix(went_in: Sequence[Holding], knowledge: Knowledge) -> dict[str, tuple[Value, ...]]:
    """What most of it was, by the C:N of what went in; nothing if fewer than two kinds of stuff were told."""
    made_of = account(went_in, None, knowledge, frozenset()) if len({one.material for one in went_in}) > 1 else None
    if made_of is None:
        return {}
    ratio = made_of.carbon_nitrogen
    word = "mostly-green" if ratio < _GREEN_BELOW else "mostly-brown" if ratio > _BROWN_ABOVE else "balanced"
    return {"mix": (word,)}


def _stays_cool(read: dict[date, float], turned: Sequence[date]) -> bool:
    """Whether it was hot, was turned, and read some days later had not warmed again."""
    if not turned:
        return False
    since = [celsius for day, celsius in read.items() if (day - turned[-1]).days >= _REHEATS_WITHIN]
    return bool(since) and max(since) < HOT_C


def _finished(
    vessel: Vessel,
    stuff: Sequence[Entry],
    begun: date,
    read: dict[date, float],
    turned: Sequence[date],
    today: date,
    knowledge: Knowledge,
) -> Finished:
    """The batch as compost that may be ready: what it looks and smells like by the last entries, and its heat."""
    from advisor.soil_counsel.ready import Finished  # a talk begins without it

    words = {"method": _method(vessel)}
    for one in stuff:
        signs = one.told.signs
        for value in signs.get("smell", ()):
            if value in _SMELLS and one.kind != "cure" and (today - one.day).days <= TROUBLE_LASTS:
                words["smell"] = _SMELLS[value]
        if "crumbly" in signs.get("texture", ()) or "looks-ready" in signs.get("progress", ()):
            words["looks"] = "crumbly"
        elif "pieces-left" in signs.get("progress", ()):
            words["looks"] = "coarse"
        elif "unchanged" in signs.get("looks", ()):
            words["looks"] = "recognised"
        for value in signs.get("heat_before", ()):
            if value in _REHEATS:
                words["reheats"] = _REHEATS[value]
    if _stays_cool(read, turned):
        words["reheats"] = "no"
    elif read and read[max(read)] >= HOT_C and (today - max(read)).days <= _TURNED_LATELY:
        words["reheats"] = "yes"  # it is at work
    last = [day for day, celsius in read.items() if celsius >= HOT_C] or [
        one.day for one in stuff if one.kind in (*TAKES_IN, "closed", "buried")
    ]
    went_in = [each.material for one in stuff for each in one.told.materials if one.kind in TAKES_IN]
    held = {held_of(name, knowledge) for name in went_in if name in knowledge.materials}
    checks = (heat_log(begun, read, turned),) if read else ()
    return Finished(
        words=words,
        weeks=round((today - max(last)).days / 7, 1) if last else None,
        holds=("manure",) if "manure" in held else (),
        checks=checks,
    )


def heat_log(begun: date, read: dict[date, float], turned: Sequence[date]) -> CheckTold:
    """Readings and turnings as the check `heat` of rules/guides.toml: days since the batch was begun, and °C."""
    days = tuple(float((day - begun).days) for day in read)
    values: dict[str, tuple[float | str, ...]] = {"days": days, "degrees": tuple(read.values()), "vessel": ("no",)}
    if turned:
        values["turned"] = tuple(float((day - begun).days) for day in turned)
    return CheckTold("", None, "heat", values)


def stored(record: Record, knowledge: Knowledge) -> tuple[Holding, ...]:
    """Dry browns put by and not taken out again: what a year's plan begins with."""
    found: list[Holding] = []
    for vessel in record.vessels:
        if vessel.kind != "browns" or vessel.ended is not None:
            continue
        for one in batch(record, vessel):
            if one.kind in TAKES_IN:
                found += holdings(one.told.materials, knowledge)
            elif one.kind == "harvested":
                found = _less(found, [*holdings(one.told.materials, knowledge)])
    return tuple(found)


def _less(held: Sequence[Holding], taken: Sequence[Holding]) -> list[Holding]:
    """What is left in store of what was put by, where the same measure of the same stuff was taken out."""
    left = []
    for one in held:
        out = sum(each.quantity.count for each in taken if _alike(each, one))
        taken = [each for each in taken if not _alike(each, one)]
        count = one.quantity.count - out
        if count > 0:
            left.append(Holding(one.material, Quantity(count, count, count, one.quantity.measure), one.said))
    return left


def _alike(one: Holding, other: Holding) -> bool:
    return (one.material, one.quantity.measure) == (other.material, other.quantity.measure)
