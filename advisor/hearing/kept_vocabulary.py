"""The vocabulary as it was made the last time (see kept_objects.py), kept for what its files and their readers say."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from advisor.hearing.meanings import Vocabulary
from advisor.kept_objects import place_of, put_in, taken_out


def kept(folder: Path, names: frozenset[str]) -> Vocabulary | None:
    """The vocabulary of a folder of words, and of some names, as it was kept; None if it was not, or cannot be used."""
    with suppress(OSError):
        return taken_out(_place(folder, names), "advisor.hearing", Vocabulary)
    return None


def keep(folder: Path, names: frozenset[str], vocabulary: Vocabulary) -> None:
    """Keep a vocabulary in which no fault was found, before a line was heard with it."""
    with suppress(OSError):
        put_in(_place(folder, names), vocabulary)


def _place(folder: Path, names: frozenset[str]) -> Path:
    return place_of("words", _files(folder), *sorted(names))


def _files(folder: Path) -> Iterator[Path]:
    """Every file of words, and every module that has a part in reading them."""
    yield from sorted(folder.glob("*.toml"))
    yield from sorted(folder.glob("*.json"))
    yield from sorted(Path(__file__).parent.glob("*.py"))
