"""Where heaps are kept: one household file each, in a folder of the person's own."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from advisor.errors import HouseholdError
from advisor.household.files import read_household, write_household
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.records import dataclass
from advisor.talk.intents import Ask, Understood
from advisor.text_files import place_of, private_folder, read_text, write_text

#: What a heap is called that was never kept.
NAMELESS = "your heap"
_FIRST_NAME = "my heap"
_LONGEST_NAME = 120
_FILE_NAME = 40


@dataclass(frozen=True, slots=True)
class OnShelf:
    """A heap in the folder, its file, and when that was written."""

    household: Household
    path: Path
    written: datetime


@dataclass(frozen=True, slots=True)
class Shelved:
    """What a folder holds, the latest first.

    Attributes:
        amiss: a line for each file that cannot be read, or has the name of a later one in it; they are let be.
    """

    heaps: tuple[OnShelf, ...] = ()
    amiss: tuple[str, ...] = ()

    def named(self, name: str) -> OnShelf | None:
        """The heap of that name, large and small letters being one."""
        wanted = name.casefold()
        return next((heap for heap in self.heaps if heap.household.name.casefold() == wanted), None)


class Shelf:
    """The kept heaps of a folder, which need not be there yet."""

    def __init__(self, folder: Path, knowledge: Knowledge) -> None:
        self.folder, self.knowledge = folder, knowledge

    def read(self) -> Shelved:
        """All that is kept. Of two heaps with one name the later is taken."""
        heaps: list[OnShelf] = []
        amiss: list[str] = []
        try:
            paths = self._files()
        except OSError as error:
            return Shelved(amiss=(f"{place_of(self.folder)}: cannot be read: {error.strerror or 'no reason given'}",))
        for path in paths:
            written = _written(path)  # before it is read: what is written meanwhile is later than what was seen
            try:
                heaps.append(OnShelf(read_household(path, self.knowledge), path, written))
            except HouseholdError as error:
                amiss.append(str(error))
        latest: dict[str, OnShelf] = {}
        for heap in sorted(heaps, key=lambda heap: (heap.written, heap.path.name), reverse=True):
            name = heap.household.name
            if latest.setdefault(name.casefold(), heap) is not heap:
                amiss.append(f"{place_of(heap.path)}: a later file has the same name in it, “{name}”; give it another")
        return Shelved(tuple(latest.values()), tuple(amiss))

    def _files(self) -> list[Path]:
        """The files of the folder that are called like kept heaps. Raises OSError if it cannot be looked into."""
        try:
            return sorted(entry for entry in self.folder.iterdir() if entry.suffix == ".toml")
        except FileNotFoundError:
            return []

    def keep(self, household: Household, name: str, over: Path | None = None) -> Path:
        """Write a heap down under a name, in a file of its own or over one that is there.

        Raises:
            HouseholdError: the folder or the file cannot be written; what was there before is there still.
        """
        text = write_household(replace(household, name=name), self.knowledge)
        path = over
        try:
            private_folder(self.folder)
            path = over or self._free_path(name)
            write_text(path, text, private=True)
        except OSError as error:
            if over is None and path is not None:
                path.unlink(missing_ok=True)  # it was only taken
            reason = error.strerror or "no reason given"
            raise HouseholdError(f"cannot be kept: {reason}", where=place_of(path or self.folder)) from None
        return path

    def free_name(self, wanted: str) -> str:
        """The name, or the first of "NAME 2", "NAME 3" and so on that is not taken."""
        there = self.read()
        name, number = wanted, 2
        while there.named(name) is not None:
            name, number = f"{wanted} {number}", number + 1
        return name

    def _free_path(self, name: str) -> Path:
        """A file name that was free, and is taken from now on, whoever else looks for one. Raises OSError."""
        stem = file_stem(name)
        path, number = self.folder / f"{stem}.toml", 2
        while True:
            try:
                path.open("x").close()
            except FileExistsError:
                path, number = self.folder / f"{stem}-{number}.toml", number + 1
            else:
                return path


def file_stem(name: str) -> str:
    """The name of a heap as the beginning of a file name: small letters, figures and hyphens."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:_FILE_NAME] or "heap"


def _written(path: Path) -> datetime:
    """When a file was written; what has no date, such as a link that leads nowhere, was before all others."""
    try:
        return datetime.fromtimestamp(path.stat().st_mtime)
    except (OSError, OverflowError, ValueError):
        return datetime.min


class Keeper:
    """Keeps heaps on the shelf, or where a screen says. It writes over no heap that is not the one it keeps."""

    def __init__(self, shelf: Shelf, save: Callable[[Household, str], Path] | None = None) -> None:
        self.shelf, self._save = shelf, save
        self._ours: dict[Path, str] = {}  # the files that hold the heap of this talk, as they were when last seen

    def turns_to(self, household: Household, seen: datetime | None = None) -> None:
        """The talk is about another heap from now on: it may be the one on the shelf that has its name.

        Args:
            seen: when it was last talked of; that on the shelf is the same one if it was not written later. Without it,
                it is the same one if it holds the same.
        """
        heap = self.shelf.read().named(household.name) if household.name != NAMELESS else None
        same = heap is not None and (heap.household == household if seen is None else heap.written <= seen)
        self._ours = {heap.path: _text(heap.path)} if heap is not None and same else {}

    def keep(self, household: Household, name: str) -> tuple[str, str]:
        """Keep a heap under a name, else under the one it has, else under a new one; the name, and what to say of it.

        Raises:
            HouseholdError: it cannot be written.
        """
        other = "" if name else " To give it another name, say “save as” and the name."
        if not name:
            name = household.name if household.name != NAMELESS else self.shelf.free_name(_FIRST_NAME)
        if self._save is not None:
            return name, f"Kept as “{name}”, in {self._save(household, name)}.{other}"
        there, taken = self.shelf.read().named(name), ""
        ours = there is not None and self._ours.get(there.path) == _text(there.path)
        if there is not None and not ours:
            taken = f"There is another heap called “{name}”, which stays as it is. "
            name, there = self.shelf.free_name(name), None
        path = self.shelf.keep(household, name, there.path if there is not None else None)
        self._ours[path] = _text(path)
        return name, f"{taken}Kept as “{name}”, in {path}.{other}"


def _text(path: Path) -> str:
    try:
        return read_text(path)
    except HouseholdError:
        return ""


_SAVE_AS = re.compile(
    r"\s*(?:please\s+)?(?:save|keep)\b(?:\s+(?:it|this|that|the\s+heap|my\s+heap|everything))?"
    r"\s+(?:as|under|under\s+the\s+name(?:\s+of)?)\s+(?P<name>\S.*)",
    re.IGNORECASE | re.DOTALL,
)


def named_to_save(understood: Understood) -> tuple[str, Understood]:
    """The name that a heap is to be kept under ("save it as front garden"), and the line without it.

    The words of the name mean nothing else, whatever they were taken for.
    """
    match = _SAVE_AS.fullmatch(understood.text)
    name = tidy(match["name"]) if match is not None else ""
    if not name:
        return "", understood
    return name, Understood(understood.text, (Ask("save", (0, len(understood.text))),))


def tidy(name: str) -> str:
    """A name as typed, without quotes, line breaks and excess."""
    return " ".join(name.split()).strip("\"'“”‘’.,;:!? ")[:_LONGEST_NAME].strip()
