"""Heaps that were kept in files of their own, taken over into the diary: once each, whole, the file left where it is.

A file becomes a talk to carry on with, and a heap of the diary with a note of what was told. Its text is kept as it was
with them, so that nothing in it can be lost, whatever later programs make of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from hashlib import sha256
from pathlib import Path

from advisor.counsel.wording import joined
from advisor.diary.entries import ToKeep, Vessel
from advisor.diary.old_files import OldFile, keep_old_file, kept_digests
from advisor.household.shapes import Household
from advisor.knowledge.base import Knowledge
from advisor.talk.kept_moves import household_written
from advisor.talk.memory import State
from advisor.talk.recap import about_what
from advisor.talk.shelf import OnShelf
from advisor.text_files import read_text


def take_over(heaps: Sequence[OnShelf], knowledge: Knowledge, path: Path, today: date) -> int:
    """Take over those heaps of the folder that were not taken over as they are now; how many those were.

    Args:
        path: the diary file.

    Raises:
        HouseholdError: a file or the diary cannot be read or written; what was taken over before that stays.
    """
    if not heaps:
        return 0
    digests = kept_digests(path)
    count = 0
    for heap in heaps:
        text = read_text(heap.path)
        digest = _digest(text)
        if (heap.path.name, digest) not in digests:
            count += keep_old_file(_old(heap, text, digest, knowledge, today), path)
    return count


def _digest(text: str) -> str:
    return sha256(text.encode()).hexdigest()


def _old(heap: OnShelf, text: str, digest: str, knowledge: Knowledge, today: date) -> OldFile:
    household = heap.household
    about = about_what(State(household), None, knowledge) or "a heap to plan"
    begun = household.start if household.start is not None and household.start <= today else None
    day = min(heap.written.date(), today)
    note = ToKeep(vessel=household.name[:80], day=day, kind="note", said=_in_words(household))
    return OldFile(
        heap.path.name,
        digest,
        text,
        household.name,
        about,
        household_written(household),
        heap.written.replace(microsecond=0),
        Vessel(name=household.name[:80], kind="heap", begun=begun),
        note,
    )


def _in_words(household: Household) -> str:
    said = [holding.said for holding in household.holdings if holding.said]
    return f"kept in a file before: {joined(said)}" if said else "kept in a file before"
