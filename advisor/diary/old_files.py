"""Files of heaps of former versions in the diary: each once, with its whole text, and with what it became."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from advisor.diary.entries import ToKeep, Vessel
from advisor.diary.file import DiaryFile
from advisor.diary.vessels import put_entry, put_vessel
from advisor.records import dataclass


@dataclass(frozen=True, slots=True)
class OldFile:
    """A file that is taken over.

    Attributes:
        file: its name within the data folder.
        digest: the SHA-256 of its text.
        text: all of it.
        name, about: of the heap, and what it is about in words.
        begun: the household in it, as JSON, which the diary keeps without reading it.
        written: when it was written.
        vessel, note: the heap as the diary has it, and its first entry.
    """

    file: str
    digest: str
    text: str
    name: str
    about: str
    begun: str
    written: datetime
    vessel: Vessel
    note: ToKeep


def kept_digests(path: Path | None = None) -> frozenset[tuple[str, str]]:
    """The names and digests of the files that were taken over.

    Raises:
        HouseholdError: the diary cannot be read.
    """
    file = DiaryFile(path)
    if not file.exists():
        return frozenset()
    with file.open() as found:
        return frozenset(found.execute("select name, digest from old_file").fetchall())


def keep_old_file(old: OldFile, path: Path | None = None) -> bool:
    """Take a file over; all of it or nothing, and only once, however many programs are at it.

    Returns:
        Whether it was taken over now; not if it was before.

    Raises:
        HouseholdError: it cannot be written.
    """
    with DiaryFile(path).open() as found:
        found.execute("begin immediate")
        there = found.execute("select 1 from old_file where name = ? and digest = ?", (old.file, old.digest)).fetchone()
        if there is not None:
            return False
        at = old.written.isoformat()
        talk = found.execute(
            "insert into talk (name, about, begun, seen) values (?, ?, ?, ?)", (old.name, old.about, old.begun, at)
        ).lastrowid
        found.execute(
            "insert into old_file (name, digest, text, talk) values (?, ?, ?, ?)",
            (old.file, old.digest, old.text, talk),
        )
        put_vessel(found, old.vessel)
        put_entry(found, old.note, at)
    return True
