"""What was read and made ready the last time, kept in the person's cache folder, so that a start need not do it anew.

A file is named by a sum of all that went into what it holds, the modules that made it among them: whatever changes,
the sum is another. It is read only where nobody else can write, and only classes of one package are taken out of it, so
that a file which somebody else left there is neither believed nor run.
"""

from __future__ import annotations

import gc
import hashlib
import io
import pickle
import sys
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TypeVar

from advisor import records
from advisor.rule_tables import cache_folder, read_kept, write_kept

_Kept = TypeVar("_Kept")
_MONTH = 30 * 24 * 3600.0  # seconds; what was kept for an older program is of no use by then


def place_of(name: str, files: Iterable[Path], *others: str) -> Path:
    """Where something is kept that was made of some files and of what `others` say. Raises OSError."""
    found = hashlib.sha256(" ".join([str(sys.version_info), *others]).encode())
    for path in (Path(__file__), Path(records.__file__), *files):
        told = path.read_bytes()
        found.update(f"{path.name} {len(told)} ".encode() + told)
    return cache_folder() / f"{name}-{found.hexdigest()[:32]}.kept"


def taken_out(place: Path, package: str, kind: type[_Kept]) -> _Kept | None:
    """What is kept at a place, of classes of a package; None if it is not there, or cannot be used."""
    try:
        whole = read_kept(place)
        if hashlib.sha256(whole[32:]).digest() != whole[:32]:
            return None
        with _nothing_collected():
            found = _Unpickler(io.BytesIO(whole[32:]), package).load()
    except (OSError, pickle.UnpicklingError, ValueError, TypeError, AttributeError, ImportError, EOFError, IndexError):
        return None
    return found if isinstance(found, kind) else None


@contextmanager
def _nothing_collected() -> Iterator[None]:
    """What is taken out stays; to look through it for rubbish while it comes would take as long again."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


def put_in(place: Path, made: object) -> None:
    """Keep something at a place, and throw out what is old. Where nothing can be written, nothing is kept."""
    told = pickle.dumps(made, protocol=5)
    with suppress(OSError):
        write_kept(place, hashlib.sha256(told).digest() + told)
        for other in place.parent.glob("*.kept"):
            if time.time() - other.stat().st_mtime > _MONTH:
                other.unlink()


class _Unpickler(pickle.Unpickler):
    """Takes nothing out of a file but classes that were written in one package."""

    def __init__(self, file: io.BytesIO, package: str) -> None:
        super().__init__(file)
        self._package = package

    def find_class(self, module: str, name: str) -> type:
        found = super().find_class(module, name) if module.startswith(f"{self._package}.") else None
        if not isinstance(found, type) or found.__module__ != module:
            raise pickle.UnpicklingError(f"{module}.{name} is no class of {self._package}")
        return found
