"""The rule base as it was read the last time (see kept_objects.py), kept for what its files and their readers say."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from pydantic import VERSION

from advisor.kept_objects import place_of, put_in, taken_out
from advisor.knowledge.base import Knowledge


def kept(folder: Path) -> Knowledge | None:
    """The rule base of a folder of rules as it was kept; None if it was not, or cannot be used."""
    with suppress(OSError):
        return taken_out(_place(folder), "advisor.knowledge", Knowledge)
    return None


def keep(folder: Path, knowledge: Knowledge) -> None:
    """Keep the rule base of a folder, in which no fault was found. Raises OSError if the folder cannot be read."""
    put_in(_place(folder), knowledge)


def _place(folder: Path) -> Path:
    return place_of("knowledge", _files(folder), VERSION)


def _files(folder: Path) -> Iterator[Path]:
    """Every file of rules, and every module that has a part in reading them."""
    yield from sorted(folder.glob("*.toml"))
    yield from sorted((folder / "materials").glob("*.toml"))
    yield from sorted(Path(__file__).parent.glob("*.py"))
