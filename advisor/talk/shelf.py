"""Where heaps are kept: one household file each, in a folder of the person's own."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from advisor.errors import HouseholdError
from advisor.household.files import read_household, write_household
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.talk.intents import Ask, Understood

#: What a heap is called that was never kept.
NAMELESS = "your heap"
_FIRST_NAME = "my heap"
_LONGEST_NAME = 60
_FILE_NAME = 40


class Shelf:
    """The kept heaps of a folder, which need not be there yet."""

    def __init__(self, folder: Path, knowledge: Knowledge) -> None:
        self.folder, self.knowledge = folder, knowledge

    def kept(self) -> dict[str, Path]:
        """The files by the name of the heap, the latest first. What is no household file is left out."""
        try:
            paths = sorted(self.folder.glob("*.toml"), key=lambda path: (-path.stat().st_mtime, path.name))
        except OSError:
            return {}
        found: dict[str, Path] = {}
        for path in paths:
            try:
                found.setdefault(read_household(path, self.knowledge).name, path)
            except HouseholdError:
                continue
        return found

    def heaps(self) -> tuple[Household, ...]:
        """The kept heaps, the latest first."""
        return tuple(read_household(path, self.knowledge) for path in self.kept().values())

    def keep(self, household: Household, name: str) -> Path:
        """Write a heap down under a name; one of the same name is written over.

        Raises:
            HouseholdError: the folder or the file cannot be written.
        """
        path = self.kept().get(name) or self._free_path(name)
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            text = write_household(replace(household, name=name), self.knowledge)
            fresh = path.with_suffix(".new")
            fresh.write_text(text, encoding="utf-8")
            fresh.replace(path)
        except OSError as error:
            raise HouseholdError(f"cannot be kept: {error.strerror or 'no reason given'}", where=str(path)) from None
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
        while path.exists():
            path, number = self.folder / f"{stem}-{number}.toml", number + 1
        return path


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
