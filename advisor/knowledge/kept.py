"""The rule base as it was read the last time (see kept_objects.py), kept for what its files and their readers say."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from pydantic import VERSION

from advisor.kept_objects import place_of, put_in, taken_out
from advisor.knowledge.base import Knowledge
from advisor.places import rules_folder


def kept(folder: Path, local: Path | None = None) -> Knowledge | None:
    """The rule base of a folder of rules as it was kept; None if it was not, or cannot be used.

    Args:
        local: the folder of local files that are laid over it.
    """
    with suppress(OSError):
        return taken_out(_place(folder, local), "advisor.knowledge", Knowledge)
    return None


def keep(folder: Path, knowledge: Knowledge, local: Path | None = None) -> None:
    """Keep the rule base of a folder, in which no fault was found, with the local files that are laid over it.

    Raises OSError if the folder cannot be read.
    """
    put_in(_place(folder, local), knowledge)


def _place(folder: Path, local: Path | None) -> Path:
    if local is None:
        return place_of("knowledge", _files(folder), VERSION)
    names = [str(path.relative_to(local)) for path in _local_files(local)]
    files = (*_files(folder), *_local_files(local), *_checks())
    return place_of("knowledge", files, VERSION, local.resolve().name, *names)


def _files(folder: Path) -> Iterator[Path]:
    """Every file of rules, and every module that has a part in reading them."""
    yield from sorted(folder.glob("*.toml"))
    yield from sorted((folder / "materials").glob("*.toml"))
    yield from sorted(Path(__file__).parent.glob("*.py"))


def _local_files(folder: Path) -> Iterator[Path]:
    yield from sorted(folder.glob("**/*.toml"))


def _checks() -> Iterator[Path]:
    """The words by which dangers are heard, and the checks that let a local file in."""
    yield from sorted((rules_folder() / "words").glob("*.toml"))
    yield from sorted((Path(__file__).parent / "lint").glob("*.py"))
