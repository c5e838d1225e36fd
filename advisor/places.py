"""Where the shipped knowledge lies, whether run from a checkout or from an installed wheel."""

from __future__ import annotations

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
