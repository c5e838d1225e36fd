"""Heaps on the shelf: one file each, read back as they were."""

from __future__ import annotations

import os
import stat
import threading
from dataclasses import replace
from pathlib import Path

import pytest
from conversing import HERE, KNOWLEDGE, Person, have

from advisor.errors import HouseholdError
from advisor.household.shapes import Household, Room
from advisor.places import data_folder
from advisor.talk.intents import Ask, Lost, Told, Understood
from advisor.talk.shelf import Keeper, Shelf, Shelved, named_to_save, tidy

HEAP = Household(
    "a heap",
    (have("3 sacks dry leaves").holding, have("1 bucket kitchen scraps a week").holding),
    {"place.space": ("garden",), "place.container": ("closed-bin", "tumbler")},
    Room(1.2, 1.5),
)


def names(shelf: Shelf) -> list[str]:
    return [heap.household.name for heap in shelf.read().heaps]


def test_a_kept_heap_reads_back_as_it_was(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path / "not" / "there" / "yet", KNOWLEDGE)
    assert shelf.read() == Shelved()
    shelf.keep(HEAP, "Front garden")
    (found,) = shelf.read().heaps
    read = found.household
    assert read.name == "Front garden"
    assert (read.holdings, read.answers, read.room) == (HEAP.holdings, HEAP.answers, HEAP.room)


OTHER = replace(HEAP, holdings=(have("1 bale straw").holding,))


def test_a_heap_kept_again_is_written_over_and_others_never(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path, KNOWLEDGE)
    keeper = Keeper(shelf)
    assert keeper.keep(HEAP, "Front garden")[0] == "Front garden"
    assert keeper.keep(replace(OTHER, name="Front garden"), "")[0] == "Front garden"
    (found,) = shelf.read().heaps
    assert found.household.holdings == OTHER.holdings
    keeper.keep(HEAP, "Front-garden!")  # another name that would give the same file
    assert sorted(names(shelf)) == ["Front garden", "Front-garden!"]


@pytest.mark.parametrize("name", ["Front garden", "FRONT GARDEN"])
def test_a_name_that_another_heap_has_is_told_of_and_numbered(tmp_path: Path, name: str) -> None:
    shelf = Shelf(tmp_path, KNOWLEDGE)
    Keeper(shelf).keep(HEAP, "Front garden")
    called, said = Keeper(shelf).keep(OTHER, name)
    assert called == f"{name} 2"
    assert "another heap" in said and "stays as it is" in said
    there = {heap.household.name: heap.household.holdings for heap in shelf.read().heaps}
    assert there == {"Front garden": HEAP.holdings, f"{name} 2": OTHER.holdings}


def test_a_heap_that_was_changed_behind_our_back_is_not_written_over(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path, KNOWLEDGE)
    here, elsewhere = Keeper(shelf), Keeper(shelf)
    here.keep(HEAP, "Front garden")
    (found,) = shelf.read().heaps
    elsewhere.turns_to(found.household)
    elsewhere.keep(OTHER, "Front garden")
    assert here.keep(HEAP, "Front garden")[0] == "Front garden 2"
    assert {heap.household.holdings for heap in shelf.read().heaps} == {HEAP.holdings, OTHER.holdings}


def test_long_names_that_begin_alike_do_not_collide(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path, KNOWLEDGE)
    long = "the heap behind the shed at the very end of the garden of my aunt Mary in the village of"
    for heap, place in ((HEAP, "Upton"), (OTHER, "Downton")):
        Keeper(shelf).keep(heap, tidy(f"{long} {place}"))
    assert {heap.household.holdings for heap in shelf.read().heaps} == {HEAP.holdings, OTHER.holdings}
    for heap in (HEAP, OTHER):
        Keeper(shelf).keep(heap, tidy(f"{long * 10} {heap}"))  # longer than any name is kept
    assert len(shelf.read().heaps) == 4


@pytest.mark.parametrize("name", ["../../etc/passwd", "a/b\\c", "Ærø", "堆肥", "con", ".hidden", "x" * 500, "CON."])
def test_a_name_never_leads_out_of_the_folder(tmp_path: Path, name: str) -> None:
    path = Shelf(tmp_path, KNOWLEDGE).keep(HEAP, tidy(name) or "heap")
    assert path.parent == tmp_path
    assert path.suffix == ".toml"
    assert len(path.name) < 60


def test_strange_files_in_the_folder_do_no_harm(tmp_path: Path) -> None:
    (tmp_path / "notes.toml").write_text("this is = not [ TOML", encoding="utf-8")
    (tmp_path / "other.toml").write_bytes(b"\xff\xfe\x00")
    shelf = Shelf(tmp_path, KNOWLEDGE)
    shelf.keep(HEAP, "A heap")
    assert names(shelf) == ["A heap"]
    assert sorted(line.split(":")[0] for line in shelf.read().amiss) == [
        str(tmp_path / "notes.toml"),
        str(tmp_path / "other.toml"),
    ]


def spoilt(folder: Path) -> dict[str, str]:
    """Files in a folder of heaps that are no heaps of today, with what is to be said of each."""
    (folder / "gone.toml").symlink_to(folder / "moved-away.toml")
    os.mkfifo(folder / "pipe.toml")
    (folder / "folder.toml").mkdir()
    (folder / "damaged.toml").write_text("have = [", encoding="utf-8")
    (folder / "bytes.toml").write_bytes(b"\xff\xfe\x00")
    (folder / "newer.toml").write_text('have = []\n[robots]\ncount = "3"\n', encoding="utf-8")
    (folder / "empty.toml").write_text("", encoding="utf-8")
    return {
        "gone.toml": "leads to no file",
        "pipe.toml": "a pipe or a device",
        "folder.toml": "a folder",
        "damaged.toml": "not TOML",
        "bytes.toml": "not a text file",
        "newer.toml": "no table 'robots'",
        "empty.toml": "says nothing",
    }


def test_what_cannot_be_read_is_named_and_hides_nothing(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path, KNOWLEDGE)
    shelf.keep(HEAP, "A heap")
    words = spoilt(tmp_path)
    read = shelf.read()
    assert [heap.household.name for heap in read.heaps] == ["A heap"]
    assert len(read.amiss) == len(words)
    for name, word in words.items():
        assert [line for line in read.amiss if f"/{name}" in line and word in line], name


@pytest.mark.parametrize("name", ["A heap", "A HEAP"])
def test_two_files_of_one_name_are_both_accounted_for(tmp_path: Path, name: str) -> None:
    shelf = Shelf(tmp_path, KNOWLEDGE)
    earlier, later = shelf.keep(HEAP, "A heap"), shelf.keep(OTHER, name)
    os.utime(earlier, (1e9, 1e9))
    read = shelf.read()
    assert [heap.path for heap in read.heaps] == [later]
    (line,) = read.amiss
    assert line.startswith(f"{earlier}: ") and "same name" in line


def test_the_talk_tells_of_what_it_cannot_open(tmp_path: Path) -> None:
    person = Person(tmp_path)
    (tmp_path / "heaps").mkdir()
    spoilt(tmp_path / "heaps")
    person.says("carry on with a heap")
    said = person.heard("lost")
    assert "damaged.toml" in said and "gone.toml" in said and "newer.toml" in said
    assert "No heap is kept" not in "".join(reply.text for reply in person.replies)
    Shelf(tmp_path / "heaps", KNOWLEDGE).keep(HEAP, "Front garden")
    person.says("carry on with a heap")
    assert "damaged.toml" in person.heard("lost")
    assert "Front garden" in [option.say for option in person.question.options]


def test_kept_heaps_are_for_their_owner_alone(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path / "heaps", KNOWLEDGE)
    path = shelf.keep(HEAP, "A heap")
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700


@pytest.mark.parametrize("over", [True, False], ids=["one file", "files of their own"])
def test_three_that_keep_at_once_are_not_in_each_others_way(tmp_path: Path, over: bool) -> None:
    faults: list[Exception] = []
    there = Shelf(tmp_path, KNOWLEDGE).keep(HEAP, "A heap")

    def keep() -> None:
        try:
            for _ in range(10):
                Shelf(tmp_path, KNOWLEDGE).keep(HEAP, "A heap", there if over else None)
        except Exception as error:
            faults.append(error)

    writers = [threading.Thread(target=keep) for _ in range(3)]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert faults == []
    read = Shelf(tmp_path, KNOWLEDGE).read()
    assert [heap.household.name for heap in read.heaps] == ["A heap"]
    files = list(tmp_path.iterdir())
    assert {path.suffix for path in files} == {".toml"}
    assert len(files) == (1 if over else 31)
    assert len(read.amiss) == len(files) - 1  # each of the others has the same name, and is whole
    assert all("same name" in line for line in read.amiss)


def test_a_folder_that_cannot_be_written_is_an_error_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(HouseholdError, match="cannot be kept"):
        Shelf(tmp_path / "file", KNOWLEDGE).keep(HEAP, "A heap")


def test_a_full_disk_leaves_what_was_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shelf = Shelf(tmp_path, KNOWLEDGE)
    keeper = Keeper(shelf)
    keeper.keep(HEAP, "A heap")
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}

    opened = os.fdopen

    def full(handle: int, mode: str = "r", **named: object) -> object:
        if mode == "w":
            raise OSError(28, "No space left on device")
        return opened(handle, mode, **named)  # type: ignore[call-overload]

    monkeypatch.setattr("advisor.text_files.os.fdopen", full)
    for name in ("A heap", "Another heap"):
        with pytest.raises(HouseholdError, match="No space left"):
            keeper.keep(OTHER, name)
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_a_name_that_is_free(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path, KNOWLEDGE)
    assert shelf.free_name("my heap") == "my heap"
    shelf.keep(HEAP, "My heap")
    assert shelf.free_name("my heap") == "my heap 2"


def test_the_folder_is_the_one_that_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HEAPWRIGHT_HOME", str(tmp_path))
    assert data_folder() == tmp_path
    monkeypatch.delenv("HEAPWRIGHT_HOME")
    assert data_folder().name == "heapwright"


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("save as front garden", "front garden"),
        ("save it as “Aunt Mary's plot”", "Aunt Mary's plot"),
        ("please save this under no leaves", "no leaves"),
        ("keep it as 3 sacks of leaves.", "3 sacks of leaves"),
    ],
)
def test_the_words_of_a_name_mean_nothing_else(typed: str, name: str) -> None:
    taken_for = (Told("place.space", ("garden",), HERE), Lost("save", HERE))
    found, understood = named_to_save(Understood(typed, taken_for))
    assert found == name
    assert understood.intents == (Ask("save", (0, len(typed))),)


@pytest.mark.parametrize("typed", ["save", "save as", "3 sacks of leaves", "a garden as good as any"])
def test_where_no_name_is_given_the_line_is_left_alone(typed: str) -> None:
    line = Understood(typed, (Lost(typed, HERE),))
    assert named_to_save(line) == ("", line)
