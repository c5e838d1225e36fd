"""`heapwright log`, `diary`, `today`, `export` and `import` as they are typed."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from advisor.cli import main
from advisor.diary.vessels import read_record


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HEAPWRIGHT_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("COLUMNS", "100")
    return tmp_path


def said(capsys: pytest.CaptureFixture[str], *words: str, code: int = 0) -> str:
    """What a command prints: its answer, or its one line of error."""
    assert main(list(words)) == code
    out, err = capsys.readouterr()
    assert len(err.splitlines()) == (1 if code else 0), err
    return err if code else out


def test_a_line_is_kept_and_said_back_in_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    told = said(capsys, "log", "north heap 58C at 40 cm, turned, bit dry")
    assert told.count("\n") == 1
    assert all(part in told for part in ("north heap", "58 °C at 40 cm", "turned", "dry"))
    assert [one.kind for one in read_record().entries] == ["reading", "turned", "reading"]


def test_a_day_may_be_given(capsys: pytest.CaptureFixture[str]) -> None:
    said(capsys, "log", "north heap turned", "--on", "2024-02-29")
    said(capsys, "log", "watered the north heap yesterday", "--on", "2024-03-01")
    assert [str(one.day) for one in read_record().entries] == ["2024-02-29", "2024-02-29"]


def test_which_heap_is_asked_and_nothing_is_written(capsys: pytest.CaptureFixture[str]) -> None:
    assert "Name it" in said(capsys, "log", "turned, 55C", code=2)
    said(capsys, "log", "north heap turned")
    said(capsys, "log", "tumbler turned")
    assert "north heap or tumbler" in said(capsys, "log", "55C", code=2)
    assert len(read_record().entries) == 2
    said(capsys, "log", "55C", "--vessel", "tumbler")
    assert [one.vessel for one in read_record().entries] == ["north heap", "tumbler", "tumbler"]


def test_a_figure_that_is_far_off_is_asked_about(capsys: pytest.CaptureFixture[str]) -> None:
    assert "580 C?" in said(capsys, "log", "north heap 580 C", code=2)
    assert read_record().entries == ()
    said(capsys, "log", "north heap 580 C", "--sure")
    assert read_record().entries[0].told.degrees == 580


def test_lines_of_the_standard_input_are_kept_all_or_none(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("north heap turned\n\nfed the worms\nturned it\n"))
    assert "line 3" in said(capsys, "log", code=2)
    assert read_record().vessels == ()
    monkeypatch.setattr("sys.stdin", io.StringIO("north heap turned\n\nfed the worms\n"))
    assert said(capsys, "log").count("\n") == 2
    assert len(read_record().entries) == 2


def test_a_dry_run_keeps_nothing(capsys: pytest.CaptureFixture[str], home: Path) -> None:
    assert said(capsys, "log", "north heap turned", "--dry-run").startswith("Would keep")
    assert not (home / "home").exists()


def test_a_danger_goes_before_all_else(capsys: pytest.CaptureFixture[str]) -> None:
    told = said(capsys, "log", "north heap is on fire")
    assert told.splitlines()[0].startswith("Step away")
    assert told.splitlines()[-1].startswith("Kept")


def test_entries_are_listed_taken_back_and_put_right(capsys: pytest.CaptureFixture[str]) -> None:
    assert "empty" in said(capsys, "diary")
    said(capsys, "log", "north heap 55C")
    said(capsys, "log", "fed the worms")
    listed = said(capsys, "diary")
    assert "55 °C" in listed and "worm bin" in listed
    assert "worm bin" not in said(capsys, "diary", "north heap").splitlines()[-1]
    said(capsys, "diary", "--correct", "1", "it was 65C")
    assert [one.told.degrees for one in read_record().of("north heap")] == [65]
    assert "taken back" in said(capsys, "diary", "--all")
    said(capsys, "diary", "--take-back", "2")
    assert [one.number for one in read_record().entries] == [3]
    assert len(json.loads(said(capsys, "diary", "--json"))["entries"]) == 1


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (["diary", "shed"], "no heap or bin 'shed'"),
        (["diary", "--take-back", "9"], "no entry 9"),
        (["diary", "--correct", "9", "turned"], "no entry 9"),
        (["diary", "--correct", "x", "turned"], "no number"),
        (["log", "should I turn the heap?"], "a question"),
        (["log", ""], "no line to keep"),
        (["log", "turned", "--vessel", " "], "no name"),
        (["log", "turned the heap", "--on", "tomorrow week"], "no day"),
        (["today", "--done", "1"], "no number 1"),
        (["today", "--away", "long"], "no span"),
        (["today", "--weather", "green"], "no weather"),
        (["today", "--done", "1", "--skip", "1"], "one deed at a time"),
        (["export", "shed"], "no heap or bin"),
        (["import", "no-such-file.json"], "no such file"),
    ],
)
def test_what_cannot_be_is_one_line(words: list[str], line: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert line in said(capsys, *words, code=2)


def test_what_is_due_is_listed_and_settled(capsys: pytest.CaptureFixture[str]) -> None:
    assert "no heap or bin yet" in said(capsys, "today").replace("\n", " ")
    said(capsys, "log", "tumbler stinks of ammonia")
    told = said(capsys, "today")
    assert "1. Tumbler: mix in browns against the ammonia." in told and "Why:" in told
    assert "Source:" in said(capsys, "today", "--why", "1")
    assert json.loads(said(capsys, "today", "--json"))["deeds"][0]["vessel"] == "tumbler"
    said(capsys, "today", "--done", "1")
    assert "ammonia" not in said(capsys, "today")
    assert read_record().entries[-1].kind == "done"
    said(capsys, "today", "--south", "--weather", "frost tonight")
    assert {one.kind for one in read_record().entries} >= {"place", "weather"}
    assert "before you go" in said(capsys, "today", "--away", "3 weeks")


def test_the_diary_goes_out_and_comes_back(
    capsys: pytest.CaptureFixture[str], home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said(capsys, "log", "north heap built on 1 May 2026 with 3 barrows of leaves")
    said(capsys, "log", "moved the north heap into the black bin")
    whole = said(capsys, "export")
    table = said(capsys, "export", "--csv")
    said(capsys, "export", "--to", str(home / "d.json"))
    (home / "d.csv").write_text(table)
    monkeypatch.setenv("HEAPWRIGHT_HOME", str(home / "other"))
    assert "1 heaps" not in said(capsys, "import", str(home / "d.json"), "--dry-run")
    said(capsys, "import", str(home / "d.json"))
    assert said(capsys, "export") == whole
    assert "0 entries; 2 were there already" in said(capsys, "import", str(home / "d.csv"))
