"""Where a thing stands, for messages: a line and a key of a file, or an option of the command line."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Protocol

from advisor.records import dataclass
from advisor.text_files import place_of

_HEADER = re.compile(r"\s*\[\s*([^\[\]]+?)\s*\]\s*(#.*)?$")
_KEY = re.compile(r"\s*([A-Za-z0-9_-]+(?:\s*\.\s*[A-Za-z0-9_-]+)*|\"[^\"]*\"|'[^']*')\s*=")


class Whereabouts(Protocol):
    """Says where something was told."""

    def of(self, table: str, key: str, item: str = "") -> str:
        """The place of a key in a table (both may be empty), and of an item of its value."""
        ...


@dataclass(frozen=True, slots=True)
class InFile:
    """Places in a household file, by its text."""

    path: Path
    text: str

    def of(self, table: str, key: str, item: str = "") -> str:
        """File, line if it can be found, and key: "home.toml, line 7, place.space"."""
        number = _line(self.text, table, key, item)
        line = f", line {number}" if number else ""
        name = ".".join(part for part in (table, key) if part)
        return f"{place_of(self.path)}{line}{', ' if name else ''}{name}"


@dataclass(frozen=True, slots=True)
class InOptions:
    """Places on the command line."""

    def of(self, table: str, key: str, item: str = "") -> str:  # noqa: ARG002  the option says enough
        """The option: "--space", or "--measure bucket" for a measure and "--own grass" for a material's figures."""
        option = {"measures": "measure", "own": "own"}.get(table)
        return f"--{option} {key}" if option else f"--{(key or table).replace('_', '-')}"


def _line(text: str, table: str, key: str, item: str) -> int:
    """The line of a key, or of the item in its value; 0 if it cannot be found."""
    wanted = {(table, key), ("", f"{table}.{key}")}
    current, found, inside = "", 0, False
    for number, line in enumerate(text.splitlines(), 1):
        header, told = _HEADER.match(line), _KEY.match(line)
        if header is not None:
            current, inside = _bare(header[1]), False
            if not key and current == table:
                return number
        elif told is not None:
            inside = (current, _bare(told[1])) in wanted
            found = number if inside else found
        if inside and (not item or item in line):
            return number
    return found


def _bare(name: str) -> str:
    return ".".join(part.strip().strip("\"'") for part in name.split("."))
