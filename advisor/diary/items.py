"""Something told in a line of the diary, before its vessel and day are known, and the kinds of deeds."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Final

from advisor.diary.entries import EntryKind, MaterialTold, Told
from advisor.hearing.diary_line import DiaryLine
from advisor.records import dataclass

#: Deeds of rules/words/deeds.toml, and the kind of entry that each is.
KIND_OF: Final[Mapping[str, EntryKind]] = {
    "deed.built": "begun",
    "deed.added": "went in",
    "deed.mixed-in": "went in",
    "deed.fed": "fed",
    "deed.turned": "turned",
    "deed.watered": "watered",
    "deed.covered": "covered",
    "deed.uncovered": "uncovered",
    "deed.drained": "drained",
    "deed.closed": "closed",
    "deed.checked": "checked",
    "deed.emptied": "emptied",
    "deed.harvested": "harvested",
    "deed.sieved": "sieved",
    "deed.moved": "moved",
    "deed.buried": "buried",
    "deed.spread": "spread",
    "deed.planted": "planted",
    "deed.chopped": "chopped",
    "deed.limed": "limed",
}
#: Entries of stuff that went into a vessel.
TAKES_IN: Final = frozenset({"begun", "went in", "fed"})
#: What heaps and worms make, by its ids in rules/materials/.
MADE: Final = frozenset({"finished-compost", "worm-castings", "leaf-mould"})
#: More of anything is not kept.
MOST_TOLD: Final = 1_000_000.0


@dataclass(slots=True)
class Item:
    """Something told, with its first character in the line, before its vessel and day are known.

    `days` are the first and the last day that it may be of, where they are known already. `denied` marks a trouble of
    which is only said that it is not there: it is gone if it was there, and else nothing.
    """

    kind: EntryKind
    start: int
    end: int
    told: Told
    materials: list[MaterialTold]
    days: tuple[date, date] | None = None
    denied: bool = False


def own_day(line: DiaryLine, at: int) -> bool:
    """Whether the part of the line around a character tells a day of its own."""
    return any(line.part(one.start) == line.part(at) for one in line.days)
