"""The rule base kept from the last start: the same as if read anew, and never used where it is not."""

from __future__ import annotations

import hashlib
import os
import pickle
import shutil
from pathlib import Path

import pytest

from advisor.knowledge.kept import keep, kept
from advisor.knowledge.load import read
from advisor.places import rules_folder


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder of its own, wherever the system has them."""
    monkeypatch.setattr("advisor.kept_objects.cache_folder", lambda: tmp_path / "cache")
    return tmp_path / "cache"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return shutil.copytree(rules_folder(), tmp_path_factory.mktemp("copied") / "rules")


def test_what_is_kept_is_what_was_read(folder: Path) -> None:
    assert kept(folder) is None
    knowledge, problems = read(folder)
    assert not problems
    keep(folder, knowledge)
    assert kept(folder) == knowledge


@pytest.mark.parametrize("file", ["safety.toml", "materials", "another.toml"])
def test_a_changed_file_is_read_anew(folder: Path, file: str) -> None:
    keep(folder, read(folder)[0])
    place = next((folder / file).glob("*.toml")) if file == "materials" else folder / file
    before = place.read_text(encoding="utf-8") if place.exists() else None
    place.write_text(f"{before or ''}\n# changed\n", encoding="utf-8")
    assert kept(folder) is None
    place.unlink() if before is None else place.write_text(before, encoding="utf-8")
    assert kept(folder) is not None


def _only(cache: Path) -> Path:
    (place,) = cache.glob("knowledge-*.kept")
    return place


@pytest.mark.parametrize("damage", [b"", b"tea leaves", b"\x00" * 64])
def test_a_damaged_file_is_read_anew(folder: Path, own_cache: Path, damage: bytes) -> None:
    keep(folder, read(folder)[0])
    _only(own_cache).write_bytes(damage)
    assert kept(folder) is None
    whole = hashlib.sha256(damage).digest() + damage  # well summed, and still no rule base
    _only(own_cache).write_bytes(whole)
    assert kept(folder) is None


class _Runs:
    def __reduce__(self) -> tuple[object, ...]:
        return os.mkdir, ("ran",)


@pytest.mark.parametrize("foreign", [_Runs(), read, {"a": 1}, Path()])
def test_nothing_foreign_is_taken_out_or_run(
    folder: Path, own_cache: Path, foreign: object, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    keep(folder, read(folder)[0])
    told = pickle.dumps(foreign)
    _only(own_cache).write_bytes(hashlib.sha256(told).digest() + told)
    assert kept(folder) is None
    assert not (tmp_path / "ran").exists()


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="a system without owners of files")
@pytest.mark.parametrize("which", ["the file", "its folder"])
@pytest.mark.parametrize("writers", [0o020, 0o002])
def test_nothing_is_believed_where_others_could_have_written(
    folder: Path, own_cache: Path, which: str, writers: int
) -> None:
    keep(folder, read(folder)[0])
    place = _only(own_cache) if which == "the file" else own_cache
    before = place.stat().st_mode
    place.chmod(before | writers)
    assert kept(folder) is None
    place.chmod(before)
    assert kept(folder) is not None


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="a system without owners of files")
def test_nothing_is_believed_that_is_anothers(folder: Path, own_cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    keep(folder, read(folder)[0])
    assert _only(own_cache).stat().st_uid == os.geteuid()
    somebody = os.geteuid() + 1
    monkeypatch.setattr("advisor.rule_tables.os.geteuid", lambda: somebody)
    assert kept(folder) is None


def test_where_nothing_can_be_written_nothing_is_kept(folder: Path, own_cache: Path) -> None:
    own_cache.write_text("a file where the folder should be", encoding="utf-8")
    keep(folder, read(folder)[0])
    assert kept(folder) is None
