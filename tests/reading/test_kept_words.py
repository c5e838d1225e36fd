"""The words kept from the last start: the same as if made anew, and never used where they are not."""

from __future__ import annotations

import hashlib
import os
import pickle
import shutil
from pathlib import Path

import pytest

from advisor.hearing.kept_vocabulary import keep, kept
from advisor.hearing.making import FOLDER
from advisor.hearing.meanings import Index, Vocabulary
from advisor.hearing.vocabulary import read_words
from advisor.places import rules_folder

NAMES = frozenset({"leaf", "hay"})


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder of its own, wherever the system has them."""
    monkeypatch.setattr("advisor.kept_objects.cache_folder", lambda: tmp_path / "cache")
    return tmp_path / "cache"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return shutil.copytree(rules_folder() / FOLDER, tmp_path_factory.mktemp("copied") / FOLDER)


@pytest.fixture(scope="module")
def made(folder: Path) -> Vocabulary:
    return read_words(folder, NAMES)[0]


def _told(index: Index) -> dict[str, list[tuple[str, object]]]:
    """What an index holds, in order."""
    ways = {**index.by_word, **{f"<{name}>": found for name, found in index.by_thing.items()}}
    return {
        word: [(said.way.text, getattr(said.of, "name", type(said.of).__name__)) for said in found]
        for word, found in ways.items()
    }


def test_what_is_kept_is_what_was_made(folder: Path, made: Vocabulary) -> None:
    assert kept(folder, NAMES) is None
    keep(folder, NAMES, made)
    found = kept(folder, NAMES)
    assert found is not None
    assert found.english == made.english
    assert found.class_starts == made.class_starts
    for name in ("concept_index", "danger_index", "trigger_index", "name_index", "thing_index"):
        assert _told(getattr(found, name)) == _told(getattr(made, name))
        assert list(_told(getattr(found, name))) == list(_told(getattr(made, name)))


def test_every_way_is_read_as_it_would_have_been(folder: Path, made: Vocabulary) -> None:
    keep(folder, NAMES, made)
    found = kept(folder, NAMES)
    assert found is not None
    for name, ways in made.classes.items():
        assert [(way.text, way.elements, way.needs) for way in found.classes[name]] == [
            (way.text, way.elements, way.needs) for way in ways
        ]


def test_other_words_and_other_names_are_made_anew(folder: Path, made: Vocabulary) -> None:
    keep(folder, NAMES, made)
    assert kept(folder, NAMES | {"straw"}) is None
    more = folder / "more.toml"
    more.write_text("# nothing yet\n", encoding="utf-8")
    assert kept(folder, NAMES) is None
    more.unlink()
    assert kept(folder, NAMES) is not None


class _Runs:
    def __reduce__(self) -> tuple[object, ...]:
        return os.mkdir, ("ran",)


@pytest.mark.parametrize("foreign", [_Runs(), read_words, {"a": 1}, Path()])
def test_nothing_foreign_is_taken_out_or_run(
    folder: Path, made: Vocabulary, own_cache: Path, foreign: object, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    keep(folder, NAMES, made)
    (place,) = own_cache.glob("words-*.kept")
    told = pickle.dumps(foreign)
    place.write_bytes(hashlib.sha256(told).digest() + told)
    assert kept(folder, NAMES) is None
    assert not (tmp_path / "ran").exists()
