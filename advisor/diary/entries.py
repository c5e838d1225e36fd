"""What is told of a vessel, as the diary keeps it: the vessel, what was done or seen on a day, and when it was told."""

from __future__ import annotations

from datetime import date, datetime
from typing import Final, Literal, get_args

from pydantic import Field

from advisor.knowledge.shapes import Shape

VesselKind = Literal[
    "heap", "bin", "bay", "tumbler", "worm bin", "fermented bucket", "leaf heap", "trench", "browns", "bed"
]  # fmt: skip
VESSEL_KINDS: Final[tuple[VesselKind, ...]] = get_args(VesselKind)

#: What an entry can be. The last three are of the deeds that `heapwright today` names.
EntryKind = Literal[
    "begun", "went in", "fed", "turned", "watered", "covered", "uncovered", "drained", "closed", "checked", "emptied",
    "harvested", "sieved", "moved", "buried", "spread", "planted", "chopped", "limed", "reading", "trouble", "cure",
    "weather", "place", "note", "done", "put off", "skipped",
]  # fmt: skip
ENTRY_KINDS: Final[tuple[EntryKind, ...]] = get_args(EntryKind)

Scale = Literal["C", "F"]
Place = Literal["", "middle", "edge", "top", "bottom"]


#: Numbers of entries are whole numbers of SQLite, which have 64 bits with their sign.
MOST_ENTRIES: Final = 2**62


class MaterialTold(Shape):
    """A material that went in or came out.

    Attributes:
        material: its id in rules/materials/; empty if only an amount was told.
        name: as it was said.
        count: how many of the measure; None if no amount was told.
        measure: "L", "kg" or a household measure of rules/measures.toml.
    """

    material: str = ""
    name: str = ""
    count: float | None = Field(default=None, ge=0, le=1_000_000)
    measure: str = ""


class Told(Shape):
    """What an entry tells beyond its kind. Everything is as it was told; nothing is worked out.

    Attributes:
        materials: what went in, came out or was spread, with amounts.
        degrees: a temperature of the stuff in the scale that it was told in.
        depth_cm: how deep it was measured.
        place: where it was measured: "middle", "edge", "top" or "bottom"; empty if it was not told.
        height_cm: the height of the stuff.
        filled: how full the vessel is, from 0 to 1.
        signs: what was seen, by the names of `sign` in rules/facts.toml: {"moisture": ["dry"]}.
        first, last: the days between which it was, if no single day was told.
        bed: where it was spread or dug in, as it was said: "onion bed".
        deed: the deed of rules/today.toml that was done, put off or skipped.
        until: the day to which a deed is put off.
    """

    materials: tuple[MaterialTold, ...] = ()
    degrees: float | None = Field(default=None, ge=-100, le=5000)
    scale: Scale | None = None
    depth_cm: float | None = Field(default=None, ge=0, le=1000)
    place: Place = ""
    filled: float | None = Field(default=None, ge=0, le=1)
    height_cm: float | None = Field(default=None, ge=0, le=1000)
    signs: dict[str, tuple[str, ...]] = Field(default_factory=dict)
    first: date | None = None
    last: date | None = None
    bed: str = Field(default="", max_length=80)
    deed: str = ""
    until: date | None = None

    @property
    def celsius(self) -> float | None:
        """The temperature in degrees Celsius."""
        if self.degrees is None:
            return None
        return (self.degrees - 32) * 5 / 9 if self.scale == "F" else self.degrees


class Vessel(Shape):
    """A heap, a bin or another thing that holds compost or what becomes compost; or a bed, on which it ends up.

    Attributes:
        number: by which the diary knows it; 0 if it is not kept yet.
        begun, ended: the days on which it was begun and given up, if they were told.
    """

    name: str = Field(min_length=1, max_length=80)
    kind: VesselKind
    begun: date | None = None
    ended: date | None = None
    number: int = 0


class BedKept(Shape):
    """A bed of the diary, as far as what is due there goes by it.

    Attributes:
        wants: what it is fed for, a key of `advisor.soil_counsel.ground.WANTS` or "none"; empty if nobody said.
        checks: the last day of each check of rules/guides.toml that was made there.
    """

    name: str
    wants: str = ""
    checks: dict[str, date] = Field(default_factory=dict)


class ToKeep(Shape):
    """An entry that is not kept yet.

    Attributes:
        vessel: its name; empty for what is of no vessel, such as the weather.
        vessel_kind: of which kind it is made if there is none of that name.
        into: the vessel into which a batch was moved or joined; made likewise.
    """

    vessel: str = ""
    vessel_kind: VesselKind = "heap"
    day: date
    kind: EntryKind
    told: Told = Told()
    said: str = ""
    into: str = ""
    into_kind: VesselKind = "heap"


class Entry(Shape):
    """An entry that is kept.

    Attributes:
        number: by which it can be taken back; never given twice.
        vessel, into: names; empty if there is none.
        day: when it was done or seen.
        at: when it was told.
        corrects: the number of the entry that it puts right; 0 if none.
    """

    number: int = Field(ge=0, lt=MOST_ENTRIES)
    vessel: str
    day: date
    at: datetime
    kind: EntryKind
    told: Told
    said: str
    into: str = ""
    corrects: int = Field(default=0, ge=0, lt=MOST_ENTRIES)
    taken_back: bool = False
