"""Tables of rule files, read once: what TOML says is kept as JSON in the person's cache folder, by a sum of it.

Reading TOML takes a third of a start. A changed file has another sum and is read anew; a cache that cannot be used is
done without.
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
import tempfile
import tomllib
from contextlib import suppress
from pathlib import Path
from typing import Any

_OTHERS_WRITE = stat.S_IWGRP | stat.S_IWOTH
_LEAST = 4_000  # characters; a shorter file is read as fast as its JSON


def rule_tables(text: str) -> dict[str, Any]:
    """The tables of a text in TOML.

    Raises:
        tomllib.TOMLDecodeError: the text is not TOML.
        RecursionError: it is nested too deep.
    """
    if len(text) < _LEAST:
        return tomllib.loads(text)
    kept = cache_folder() / f"rules-{hashlib.sha256(text.encode()).hexdigest()[:32]}.json"
    with suppress(OSError, ValueError):
        found = json.loads(read_kept(kept))
        if isinstance(found, dict):
            return found
    found = tomllib.loads(text)
    with suppress(OSError, TypeError, ValueError):  # a date is no JSON, and then nothing is kept
        write_kept(kept, json.dumps(found, ensure_ascii=False).encode())
    return found


def cache_folder() -> Path:
    from platformdirs import user_cache_path

    return user_cache_path("heapwright", appauthor=False)


def read_kept(path: Path) -> bytes:
    """A file that was kept. Nothing is taken from a place where somebody else could have left it.

    Raises:
        OSError: it is not there, or the file or its folder is another's or can be written by others.
    """
    with path.open("rb") as file:
        if hasattr(os, "geteuid"):
            for found in (os.fstat(file.fileno()), path.parent.stat()):
                if found.st_uid != os.geteuid() or found.st_mode & _OTHERS_WRITE:
                    raise PermissionError(f"others could have written {path.name}")
        return file.read()


def write_kept(path: Path, told: bytes) -> None:
    """Write a file that only its owner reads, whole or not at all."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    handle, beside = tempfile.mkstemp(dir=path.parent, suffix=".new")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(told)
        Path(beside).replace(path)
    except OSError:
        Path(beside).unlink(missing_ok=True)
        raise
