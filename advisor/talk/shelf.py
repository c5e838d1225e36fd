"""Where heaps are kept: one household file each, in a folder of the person's own."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from advisor.errors import HouseholdError
from advisor.household.files import read_household, write_household
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.talk.intents import Ask, Understood
from advisor.text_files import place_of, private_folder, write_text

#: What a heap is called that was never kept.
NAMELESS = "your heap"
_FIRST_NAME = "my heap"
_LONGEST_NAME = 60
_FILE_NAME = 40


@dataclass(frozen=True, slots=True)
class KeptHeaps:
    """What a folder holds: heaps with their files by the name, and a line for each file that is no such heap."""

    heaps: Mapping[str, tuple[Household, Path]]
    amiss: tuple[str, ...] = ()


class Shelf:
    """The kept heaps of a folder, which need not be there yet."""

    def __init__(self, folder: Path, knowledge: Knowledge) -> None:
        self.folder, self.knowledge = folder, knowledge

    def read(self) -> KeptHeaps:
        """Everything in the folder, the latest first."""
        heaps: dict[str, tuple[Household, Path]] = {}
        amiss: list[str] = []
        try:
            paths = sorted(self._files(), key=_latest_first)
        except OSError as error:
            return KeptHeaps({}, (f"{place_of(self.folder)}: cannot be read: {error.strerror or 'no reason given'}",))
        for path in paths:
            try:
                heap = read_household(path, self.knowledge)
            except HouseholdError as error:
                amiss.append(str(error))
                continue
            if heap.name in heaps:
                amiss.append(f"{place_of(path)}: a later file has the same name in it, “{heap.name}”; give it another")
            else:
                heaps[heap.name] = (heap, path)
        return KeptHeaps(heaps, tuple(amiss))

    def _files(self) -> list[Path]:
        """The files of the folder that are called like kept heaps. Raises OSError if it cannot be looked into."""
        try:
            return [entry for entry in self.folder.iterdir() if entry.suffix == ".toml"]
        except FileNotFoundError:
            return []

    def kept(self) -> dict[str, Path]:
        """The files by the name of the heap, the latest first. What cannot be read is left out."""
        return {name: path for name, (_, path) in self.read().heaps.items()}

    def heaps(self) -> tuple[Household, ...]:
        """The kept heaps, the latest first."""
        return tuple(heap for heap, _ in self.read().heaps.values())

    def keep(self, household: Household, name: str) -> Path:
        """Write a heap down under a name; one of the same name is written over.

        Raises:
            HouseholdError: the folder or the file cannot be written.
        """
        path = self.kept().get(name) or self._free_path(name)
        try:
            private_folder(self.folder)
            write_text(path, write_household(replace(household, name=name), self.knowledge), private=True)
        except OSError as error:
            reason = error.strerror or "no reason given"
            raise HouseholdError(f"cannot be kept: {reason}", where=place_of(path)) from None
        return path

    def free_name(self, wanted: str) -> str:
        """The name, or the first of "NAME 2", "NAME 3" and so on that is not taken."""
        taken = {name.casefold() for name in self.kept()}
        name, number = wanted, 2
        while name.casefold() in taken:
            name, number = f"{wanted} {number}", number + 1
        return name

    def _free_path(self, name: str) -> Path:
        plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
        stem = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:_FILE_NAME] or "heap"
        path, number = self.folder / f"{stem}.toml", 2
        while os.path.lexists(path):
            path, number = self.folder / f"{stem}-{number}.toml", number + 1
        return path


def _latest_first(path: Path) -> tuple[float, str]:
    """A key to sort files by; what has no date, such as a link that leads nowhere, comes last."""
    try:
        return -path.stat().st_mtime, path.name
    except OSError:
        return 0.0, path.name


class Keeper:
    """Keeps heaps on the shelf, or where a screen says."""

    def __init__(self, shelf: Shelf, save: Callable[[Household, str], Path] | None = None) -> None:
        self.shelf, self._save = shelf, save

    def keep(self, household: Household, name: str) -> tuple[str, str]:
        """Keep a heap under a name, else under the one it has, else under a new one; the name, and what to say of it.

        Raises:
            HouseholdError: it cannot be written.
        """
        other = "" if name else " To give it another name, say “save as” and the name."
        if not name:
            name = household.name if household.name != NAMELESS else self.shelf.free_name(_FIRST_NAME)
        path = self._save(household, name) if self._save is not None else self.shelf.keep(household, name)
        return name, f"Kept as “{name}”, in {path}.{other}"


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
