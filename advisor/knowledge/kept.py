"""The rule base as it was read the last time, kept in the person's cache folder, so that a start need not read it anew.

It is kept under a sum of every file of rules and of the modules that read them: whatever changes, the sum is another.
Only shapes of this package are taken out of it again, so that a file which somebody else left there can run nothing.
"""

from __future__ import annotations

import hashlib
import io
import pickle
import sys
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from pydantic import VERSION

from advisor.knowledge.base import Knowledge
from advisor.places import rules_folder
from advisor.rule_tables import cache_folder, write_kept

_MONTH = 30 * 24 * 3600.0  # seconds; what was kept for an older program is of no use by then


def kept(folder: Path, local: Path | None = None) -> Knowledge | None:
    """The rule base of a folder of rules as it was kept; None if it was not, or cannot be used.

    Args:
        local: the folder of local files that are laid over it.
    """
    try:
        whole = _place(folder, local).read_bytes()
        if hashlib.sha256(whole[32:]).digest() != whole[:32]:
            return None
        found = _Shapes(io.BytesIO(whole[32:])).load()
    except (OSError, pickle.UnpicklingError, ValueError, TypeError, AttributeError, ImportError, EOFError, IndexError):
        return None
    return found if isinstance(found, Knowledge) else None


def keep(folder: Path, knowledge: Knowledge, local: Path | None = None) -> None:
    """Keep the rule base of a folder, in which no fault was found, with the local files that are laid over it.

    Where nothing can be written, nothing is kept.
    """
    place = _place(folder, local)
    told = pickle.dumps(knowledge, protocol=5)
    with suppress(OSError):
        write_kept(place, hashlib.sha256(told).digest() + told)
        for other in place.parent.glob("knowledge-*.kept"):
            if time.time() - other.stat().st_mtime > _MONTH:
                other.unlink()


def _place(folder: Path, local: Path | None) -> Path:
    """Where the rule base of a folder is kept, as it now is. Raises OSError."""
    found = hashlib.sha256(f"{sys.version_info} {VERSION} {local.resolve().name if local else ''}".encode())
    for path in (*_files(folder), *(_local_files(local) if local is not None else ())):
        told = path.read_bytes()
        found.update(f"{path.parent.name}/{path.name} {len(told)} ".encode() + told)
    return cache_folder() / f"knowledge-{found.hexdigest()[:32]}.kept"


def _files(folder: Path) -> Iterator[Path]:
    """Every file of rules, and every module that has a part in reading them."""
    yield from sorted(folder.glob("*.toml"))
    yield from sorted((folder / "materials").glob("*.toml"))
    yield from sorted(Path(__file__).parent.glob("*.py"))


def _local_files(folder: Path) -> Iterator[Path]:
    """Every local file, the words by which dangers are heard, and the checks that let a local file in."""
    yield from sorted(folder.glob("**/*.toml"))
    yield from sorted((rules_folder() / "words").glob("*.toml"))
    yield from sorted((Path(__file__).parent / "lint").glob("*.py"))


class _Shapes(pickle.Unpickler):
    """Takes nothing out of a file but the shapes of this package."""

    def find_class(self, module: str, name: str) -> type:
        found = super().find_class(module, name) if module.startswith("advisor.knowledge.") else None
        if not isinstance(found, type) or found.__module__ != module:
            raise pickle.UnpicklingError(f"{module}.{name} is no shape of the rules")
        return found
