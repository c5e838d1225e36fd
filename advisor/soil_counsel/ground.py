"""Beds and their checks in a file: what `heapwright soil`, `spread` and `seasons` read.

A soil file is TOML, and strict, like a household file:

    name = "the plot behind the church"
    last_frost = "04-20"                 # month and day; a first frost earlier in the calendar is of the year after,
    first_frost = "10-10"                # as it is in the south
    starts = 2026-03-01                  # nothing is planned before this day; where it never freezes say
                                         # frost_free = true instead of the frosts: the year begins on this day

    [heap]
    method = "open-heap"                 # how much it shrinks
    holds = "1 m3"                       # one heap, as it is built
    finished = "400 L"                   # compost there is now
    lot = "600 m2"                       # house and garden together, for towns that go by it

    [[bed]]
    name = "A"
    area = "1.2 x 6 m"                   # or "8 m2", "4 x 20 ft"
    step = 1                             # of rebuilding, 1 to 5
    wants = "upkeep"                     # new, upkeep, mulch, lawn, none; left out: what its step says
    depth = "2 cm"                       # instead of what `wants` would give
    crops = ["cabbages"]                 # families of rules/crop-families.toml, the next crop first
    kind = "ground"                      # ground, raised, pots; and these words of rules/facts.toml:
    place = "clean"                      # old-house, road, works, clean
    grows = ["leaves"]                   # leaves, roots, fruits, flowers
    dressed_years = 3                    # years in a row with an inch or more of compost or manure

    [[check]]
    bed = "A"
    on = 2026-04-01
    kind = "ring"                        # a guide of rules/guides.toml, and its inputs:
    width = "15 cm"
    water = "444 ml"
    minutes = [12, 14.5]
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Final

from advisor.errors import HouseholdError
from advisor.household.days import MONTHS, MonthDay, calendar_day, month_day
from advisor.household.dimensions import read_volume
from advisor.knowledge.base import Knowledge
from advisor.knowledge.hints import hint
from advisor.records import dataclass
from advisor.safe_text import one_line
from advisor.soil.seasons import Step
from advisor.soil_counsel.inputs import Values, read_check_text, read_values
from advisor.soil_counsel.plain_told import area_m2, length_cm
from advisor.text_files import place_of, read_toml
from advisor.units import Units

__all__ = [
    "MONTHS", "WANTS", "BedTold", "CheckTold", "Ground", "MonthDay", "area_m2", "bed_told", "check_told", "length_cm",
    "month_day", "read_ground",
]  # fmt: skip

#: What a bed may want, with the figure that says how deep.
WANTS: Final[Mapping[str, str]] = {
    "new": "dressing-new-bed-cm",
    "upkeep": "dressing-upkeep-cm",
    "rebuild-first": "dressing-rebuild-first-cm",
    "rebuild-second": "dressing-rebuild-second-cm",
    "mulch": "dressing-mulch-cm",
    "lawn": "dressing-lawn-cm",
}

DAYS_OF_YEAR: Final = 365

#: Each bed is judged by itself, which takes its time. Our choice.
MOST_BEDS: Final = 500

_TOP: Final = ("name", "about", "last_frost", "first_frost", "frost_free", "starts", "heap", "bed", "check")
_HEAP: Final = ("method", "holds", "finished", "lot")
_BED: Final = ("name", "area", "step", "wants", "depth", "crops", "kind", "place", "grows", "dressed_years")
_CHECK: Final = ("bed", "on", "kind")


@dataclass(frozen=True, slots=True)
class BedTold:
    """A bed as told. `wants` is a key of WANTS, "none", or empty if its step is to decide."""

    name: str
    area_m2: float | None = None
    step: Step | None = None
    wants: str = ""
    depth_cm: float | None = None
    crops: tuple[str, ...] = ()
    facts: tuple[tuple[str, str | float], ...] = ()  # attributes of the fact kind `bed`


@dataclass(frozen=True, slots=True)
class CheckTold:
    """A check as told, its values read."""

    bed: str
    on: date | None
    guide: str
    values: Values


@dataclass(frozen=True, slots=True)
class SpreadOn:
    """Compost that went on a bed on a day, in litres, as the diary tells."""

    bed: str
    on: date
    litres: float


@dataclass(frozen=True, slots=True)
class Ground:
    """Beds, frosts, the heap behind them, the checks that were made, and what was spread."""

    name: str
    about: str = ""
    last_frost: MonthDay | None = None
    first_frost: MonthDay | None = None
    starts: date | None = None
    frost_free: bool = False  # it never freezes; then there are no frosts, and the year is begun at `starts`
    method: str = ""
    heap_litres: float | None = None
    finished_litres: float | None = None
    lot_m2: float | None = None
    beds: tuple[BedTold, ...] = ()
    checks: tuple[CheckTold, ...] = ()
    spread: tuple[SpreadOn, ...] = ()

    def spread_on(self, bed: str, today: date) -> float:
        """Litres that went on a bed within the year before a day."""
        return sum(one.litres for one in self.spread if one.bed == bed and 0 <= (today - one.on).days < DAYS_OF_YEAR)

    def bed(self, name: str) -> BedTold:
        """The bed of that name. Raises KeyError."""
        return next(bed for bed in self.beds if bed.name == name)


def read_ground(path: Path, knowledge: Knowledge) -> Ground:
    """Read a soil file.

    Raises:
        HouseholdError: the file cannot be read, or something in it cannot be understood; one line with the place.
    """
    raw, _ = read_toml(path, "soil file")
    if not set(raw) - {"name", "about"}:
        hint = "write a [[bed]] with its name and area; `heapwright households dead-clay` shows one"
        raise HouseholdError("this file says nothing of beds", where=place_of(path), hint=hint)
    return _Reader(place_of(path), knowledge).ground({"name": one_line(path.stem.replace("-", " ")), **raw})


def bed_told(text: str, knowledge: Knowledge, where: str) -> BedTold:
    """A bed in one line, its parts parted by commas: "A, 1.2 x 6 m, wants new, crops cabbages, step 2".

    Raises:
        HouseholdError: as `read_ground`.
    """
    name, *parts = [part.strip() for part in text.split(",")]
    raw: dict[str, object] = {"name": name}
    for part in parts:
        key, _, value = part.partition(" ")
        if key in _BED and value:
            raw[key] = int(value) if value.isdigit() else value
        elif "area" not in raw:
            raw["area"] = part
        else:
            raise HouseholdError(f"'{part}' says nothing of a bed", where=where, hint=f"there is {', '.join(_BED)}")
    return _Reader(where, knowledge).bed(raw, where)


def bed_entered(entry: Mapping[str, object], knowledge: Knowledge, where: str) -> BedTold:
    """A bed from the keys of a [[bed]] table.

    Raises:
        HouseholdError: as `read_ground`.
    """
    return _Reader(where, knowledge).bed(entry, where)


def bed_entry(bed: BedTold) -> dict[str, object]:
    """The keys of a [[bed]] table, which `bed_entered` makes the same bed of."""
    entry: dict[str, object] = {"name": bed.name}
    if bed.area_m2 is not None:
        entry["area"] = f"{bed.area_m2!r} m2"
    if bed.step is not None:
        entry["step"] = bed.step
    if bed.wants:
        entry["wants"] = bed.wants
    if bed.depth_cm is not None:
        entry["depth"] = f"{bed.depth_cm!r} cm"
    if bed.crops:
        entry["crops"] = list(bed.crops)
    for key, name in (("kind", "kind"), ("place", "place"), ("grows", "crop")):
        words = [value for attribute, value in bed.facts if attribute == name]
        if words:
            entry[key] = words
    entry.update({name: int(value) for name, value in bed.facts if name == "dressed_years"})
    return entry


def check_told(
    text: str, knowledge: Knowledge, where: str, bed: str, on: date | None, units: Units = "metric"
) -> CheckTold:
    """A check in one line: "ring width=6 in water=444 ml minutes=12.5 14"; bare figures are in the units given.

    Raises:
        HouseholdError: no such check, or values that cannot be read.
    """
    guide, told = read_check_text(text, knowledge.guides, where, units)
    return CheckTold(bed, on, guide, read_values(told, knowledge.guides[guide], f"{where} {guide}"))


class _Reader:
    def __init__(self, where: str, knowledge: Knowledge) -> None:
        self.where, self.knowledge = where, knowledge

    def ground(self, raw: Mapping[str, object]) -> Ground:
        self.known(raw, _TOP, self.where)
        heap = raw.get("heap", {})
        if not isinstance(heap, dict):
            raise self.fault("heap", "is a table", "write [heap]")
        self.known(heap, _HEAP, f"{self.where}, heap")
        if len(self.tables(raw, "bed")) > MOST_BEDS:
            raise self.fault("bed", "more beds than any garden has", f"no more than {MOST_BEDS}")
        beds = tuple(
            self.bed(table, f"{self.where}, bed {number}") for number, table in enumerate(self.tables(raw, "bed"), 1)
        )
        names = [bed.name for bed in beds]
        if len(set(names)) < len(names):
            raise self.fault("bed", "two beds have one name", "call each by a name of its own")
        made = Ground(
            name=self.text(raw, "name", self.where),
            about=self.text(raw, "about", self.where),
            last_frost=self.frost(raw, "last_frost"),
            first_frost=self.frost(raw, "first_frost"),
            starts=self.day(raw, "starts", self.where),
            frost_free=self.frost_free(raw),
            method=self.method(heap),
            heap_litres=self.volume(heap, "holds"),
            finished_litres=self.volume(heap, "finished"),
            lot_m2=area_m2(heap["lot"], f"{self.where}, heap, lot") if "lot" in heap else None,
            beds=beds,
        )
        if (made.last_frost is None) != (made.first_frost is None) or (
            made.last_frost is not None and made.last_frost == made.first_frost
        ):
            raise self.fault("first_frost", "the last and the first frost go together, on two days", "")
        checks = [self.check(table, number, names) for number, table in enumerate(self.tables(raw, "check"), 1)]
        return replace(made, checks=tuple(checks))

    def bed(self, raw: Mapping[str, object], where: str) -> BedTold:
        self.known(raw, _BED, where)
        name = self.text(raw, "name", where)
        if not name:
            raise HouseholdError("a bed has a name", where=where, hint='for instance name = "A"')
        step = raw.get("step")
        if step is not None and (isinstance(step, bool) or step not in (1, 2, 3, 4, 5)):
            raise HouseholdError(f"there is no step {step}", where=f"{where}, step", hint="steps run from 1 to 5")
        wants = self.text(raw, "wants", where)
        if wants and wants not in (*WANTS, "none"):
            raise HouseholdError(
                f"a bed never wants '{wants}'", where=f"{where}, wants", hint=hint(wants, [*WANTS, "none"])
            )
        return BedTold(
            name,
            area_m2(raw["area"], f"{where}, area") if "area" in raw else None,
            step,
            wants,
            length_cm(raw["depth"], f"{where}, depth") if "depth" in raw else None,
            tuple(self.words(raw.get("crops", ()), self.knowledge.crop_families, f"{where}, crops")),
            self.facts(raw, where),
        )

    def facts(self, raw: Mapping[str, object], where: str) -> tuple[tuple[str, str | float], ...]:
        attributes = self.knowledge.kinds["bed"].attributes
        found: list[tuple[str, str | float]] = []
        for key, name in (("kind", "kind"), ("place", "place"), ("grows", "crop")):
            words = self.words(raw.get(key, ()), attributes[name].words, f"{where}, {key}")
            if len(words) > 1 and not attributes[name].many:
                raise HouseholdError("one word is asked for here", where=f"{where}, {key}")
            found += [(name, word) for word in words]
        years = raw.get("dressed_years")
        if years is not None:
            if isinstance(years, bool) or not isinstance(years, int) or not 0 <= years <= 100:
                raise HouseholdError(f"'{years}' is no number of years", where=f"{where}, dressed_years")
            found.append(("dressed_years", float(years)))
        return tuple(found)

    def check(self, raw: Mapping[str, object], number: int, beds: list[str]) -> CheckTold:
        where = f"{self.where}, check {number}"
        guide = self.text(raw, "kind", where)
        if guide not in self.knowledge.guides:
            raise HouseholdError(f"there is no check '{guide}'", where=where, hint=hint(guide, self.knowledge.guides))
        bed = self.text(raw, "bed", where) or (beds[0] if len(beds) == 1 else "")
        if bed not in beds:
            raise HouseholdError(f"there is no bed '{bed}'", where=where, hint=hint(bed, beds))
        told = {name: value for name, value in raw.items() if name not in _CHECK}
        values = read_values(told, self.knowledge.guides[guide], f"{where}, {guide}")
        return CheckTold(bed, self.day(raw, "on", where), guide, values)

    # ------------------------------------------------------------ pieces

    def known(self, raw: Mapping[str, object], keys: tuple[str, ...], where: str) -> None:
        for key in raw:
            if key not in keys:
                raise HouseholdError(f"there is no '{key}' here", where=where, hint=hint(key, keys))

    def tables(self, raw: Mapping[str, object], key: str) -> list[Mapping[str, object]]:
        found = raw.get(key, [])
        if not isinstance(found, list) or not all(isinstance(each, dict) for each in found):
            raise self.fault(key, "is a list of tables", f"write [[{key}]]")
        return found

    def words(self, value: object, known: Mapping[str, object], where: str) -> list[str]:
        listed = value if isinstance(value, list | tuple) else str(value).split()
        for word in listed:
            if not isinstance(word, str) or word not in known:
                said = one_line(str(word), 60)
                raise HouseholdError(f"'{said}' is none of the words here", where=where, hint=hint(said, known))
        return list(listed)

    def text(self, raw: Mapping[str, object], key: str, where: str) -> str:
        """A line of text, or a number for one; empty if it is not told."""
        value = raw.get(key, "")
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise HouseholdError("this is a line of text, not a list or a table", where=f"{where}, {key}")
        return str(value).strip()

    def frost_free(self, raw: Mapping[str, object]) -> bool:
        told = raw.get("frost_free", False)
        if not isinstance(told, bool):
            raise self.fault("frost_free", "is true or false", "write frost_free = true")
        if told and ("last_frost" in raw or "first_frost" in raw):
            raise self.fault("frost_free", "there are frosts, or there are none", "leave out the one that is wrong")
        return told

    def frost(self, raw: Mapping[str, object], key: str) -> MonthDay | None:
        return month_day(raw[key], f"{self.where}, {key}") if key in raw else None

    def day(self, raw: Mapping[str, object], key: str, where: str) -> date | None:
        return calendar_day(raw[key], f"{where}, {key}", "2026-04-01") if key in raw else None

    def method(self, heap: Mapping[str, object]) -> str:
        method = self.text(heap, "method", f"{self.where}, heap")
        if method and method not in self.knowledge.methods:
            raise self.fault("heap.method", f"there is no method '{method}'", hint(method, self.knowledge.methods))
        return method

    def volume(self, heap: Mapping[str, object], key: str) -> float | None:
        return read_volume(str(heap[key]), f"{self.where}, heap.{key}") if key in heap else None

    def fault(self, key: str, message: str, advice: str) -> HouseholdError:
        return HouseholdError(message, where=f"{self.where}, {key}", hint=advice)
