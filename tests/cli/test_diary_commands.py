"""Checks kept by the command line, and what is made of them the next time."""

from pathlib import Path

import pytest

from advisor.cli import main


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HEAPWRIGHT_HOME", str(tmp_path))
    monkeypatch.setenv("COLUMNS", "100")
    return tmp_path


def test_a_check_that_is_kept_is_set_beside_the_next(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spring = ["soil", "--diary", "--bed", "plot", "--keep"]
    assert main([*spring, "--check", "worms counts=3 4 2", "--on", "2025-04-01"]) == 0
    assert (home / "diary.sqlite3").exists()
    assert main([*spring, "--check", "worms counts=9 10 12", "--on", "2026-04-01"]) == 0
    capsys.readouterr()
    assert main(["soil", "--diary"]) == 0
    # 3 blocks of 20 by 20 cm: 9 worms on 0.12 m2, then 31.
    assert "from 75 in 2025 to 258 in 2026, getting better" in capsys.readouterr().out


def test_without_keep_nothing_is_kept(home: Path) -> None:
    assert main(["soil", "--bed", "plot", "--check", "hole hours=5"]) == 0
    assert not (home / "diary.sqlite3").exists()


def test_a_bare_name_does_not_wipe_out_what_is_known(capsys: pytest.CaptureFixture[str]) -> None:
    main(["soil", "--bed", "plot, 8 m2", "--check", "hole hours=5", "--keep"])
    main(["soil", "--bed", "plot", "--check", "hole hours=4", "--keep"])
    capsys.readouterr()
    assert main(["spread", "--diary"]) == 0
    assert "plot (8 m²" in capsys.readouterr().out


def test_seasons_start_from_the_beds_of_the_diary(capsys: pytest.CaptureFixture[str]) -> None:
    main(["soil", "--bed", "plot, 8 m2, step 1", "--check", "hole hours=5", "--keep"])
    capsys.readouterr()
    assert main(["seasons", "--diary", "--last-frost", "04-20", "--first-frost", "10-10", "--years", "1"]) == 0
    assert "sow oats" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["soil", "--diary"], "the diary is empty"),
        (["soil", "--diary", "dead-clay"], "not both"),
        (["soil", "--check", "hole hours=5", "--keep"], "keeps a --check of a --bed"),
        (["soil", "dead-clay", "--keep"], "keeps a --check of a --bed"),
    ],
)
def test_what_cannot_be_is_one_line(words: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(words) == 2
    error = capsys.readouterr().err
    assert said in error
    assert error.count("\n") == 1


def test_a_broken_diary_is_one_line(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (home / "diary.sqlite3").write_bytes(b"tea leaves" * 100)
    assert main(["soil", "--diary"]) == 2
    assert capsys.readouterr().err.count("\n") == 1
