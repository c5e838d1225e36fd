"""Where the shipped knowledge lies, whether run from a checkout or an installed wheel, and where heaps are kept."""

from __future__ import annotations

import os
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def _shipped(name: str) -> Path:
    inside_wheel = _PACKAGE / "_shipped" / name
    return inside_wheel if inside_wheel.is_dir() else _PACKAGE.parent / name


def rules_folder() -> Path:
    """The folder of the rule base."""
    return _shipped("rules")


def scenarios_folder() -> Path:
    """The folder of the households that come with the program."""
    return _shipped("scenarios")


_named_local: Path | None = None


def use_local(folder: Path | None) -> None:
    """Lay the local files of a folder over the shipped rules, for as long as the program runs; None: those of the
    data folder."""
    global _named_local
    _named_local = folder


def local_folder() -> Path | None:
    """The folder of local rules: the one that was named, else `local` in the data folder; None if there is none."""
    if _named_local is not None:
        return _named_local
    found = data_folder() / "local"
    return found if found.is_dir() else None


def data_folder() -> Path:
    """The folder where a person's heaps are kept. The environment variable HEAPWRIGHT_HOME names another."""
    named = os.environ.get("HEAPWRIGHT_HOME")
    if named:
        return Path(named)
    from platformdirs import user_data_path

    return user_data_path("heapwright", appauthor=False)
