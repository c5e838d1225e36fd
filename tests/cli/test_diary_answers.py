"""What the commands of a heap and of a year read out of the diary: the same as the talk does."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from commanded import heapwright

from advisor.diary.batches import batch_told, with_signs
from advisor.diary.vessels import read_record
from advisor.knowledge.load import shipped


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HEAPWRIGHT_HOME", str(tmp_path / "home"))
    return tmp_path


def log(line: str, days_ago: int = 0) -> None:
    done = heapwright("log", line, "--on", str(date.today() - timedelta(days_ago)))
    assert done.returncode == 0, done.stderr


def answer(*words: str) -> dict[str, Any]:
    done = heapwright(*words, "--json")
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def test_ready_counts_the_core_and_no_edge_of_the_diary() -> None:
    log("started the shed bin with 6 bags of grass and 6 sacks of leaves", 9)
    for ago in range(6, 2, -1):
        log("shed bin 58 in the core, 41 at the rim, 50 on top", ago)
    found = answer("ready", "--vessel", "Shed Bin", "--smell", "earthy")
    (read,) = found["logs"]
    assert read["celsius"] == [58, 58, 58, 58]
    assert read["days"] == [3, 4, 5, 6]
    # 15 days at 55 °C in a turned heap: 40 CFR 503, appendix B, US EPA, 1993; the edge and the top would leave none
    windrow = next(one for one in found["heat"] if one["rule"] == "us-windrow")
    assert any(lack.startswith("4 of 15 days") for lack in windrow["lacks"]), windrow["lacks"]


def test_what_is_told_now_goes_before_the_diary() -> None:
    log("shed bin smells of ammonia", 4)
    log("shed bin 56C", 3)
    of_diary = answer("ready", "--vessel", "shed bin")
    now = answer("ready", "--vessel", "shed bin", "--smell", "earthy", "--looks", "crumbly", "--reheats", "no")
    assert of_diary != now
    texts = [line["text"] for part in of_diary["parts"] for line in part["lines"]]
    assert any("ammonia" in text for text in texts)
    assert not any("ammonia" in line["text"] for part in now["parts"] for line in part["lines"])


def test_a_cure_is_measured_by_what_the_diary_says_went_in() -> None:
    log("started the shed bin with 8 bags of grass and a bucket of sawdust", 6)
    signs = ("--signs", "it stinks of ammonia")
    bare, told = answer("diagnose", *signs), answer("diagnose", *signs, "--vessel", "shed bin")
    by_hand = answer("diagnose", *signs, "--heap", "8 bags grass, 1 bucket sawdust")
    doses = [[cure["dose"] for cure in found["remedies"] if cure["dose"]] for found in (bare, told, by_hand)]
    assert doses[0] != doses[1] == doses[2] != []


def test_the_signs_of_the_diary_are_those_that_the_talk_takes() -> None:
    log("started the shed bin with 8 bags of grass and 2 sacks of leaves", 20)
    log("shed bin 63 in the middle and 35 at the edge", 12)
    log("turned the shed bin", 2)
    log("shed bin 35 in the middle, 20 at the edge")
    record = read_record()
    vessel = record.vessel("shed bin")
    assert vessel is not None
    batch = batch_told(record, vessel, date.today(), shipped())
    assert batch is not None
    assert with_signs(batch, {"smell": ("sour",)})["degrees"] == (35.0,)
    assert with_signs(batch, {"smell": ("sour",)})["heat_before"] == ("was-hot",)
    assert "degrees" not in with_signs(batch, {"warmth": ("cold",)})  # how warm it is was told


def test_a_year_begins_with_the_browns_that_were_put_by() -> None:
    log("put 9 sacks of leaves by in the leaf store", 30)
    year = ("year", "--have", "nothing", "--comes", "Apr-Sep: 2 buckets grass a week")
    found = answer(*year, "--diary")
    by_hand = answer("year", "--have", "9 sacks dry leaves", *year[3:])
    assert found["batches"] == by_hand["batches"]
    assert found["batches"] != answer(*year)["batches"]


def test_a_heap_that_the_diary_does_not_know_is_refused_in_one_line() -> None:
    log("turned the shed bin")
    for words in (("ready", "--vessel", "shed tin"), ("diagnose", "--signs", "cold", "--vessel", "shed tin")):
        done = heapwright(*words)
        assert done.returncode != 0
        assert "shed bin" in done.stderr
        assert len(done.stderr.splitlines()) == 1
