"""The commands of the soil as they are typed."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest
from commanded import heapwright


@pytest.fixture(autouse=True)
def without_colour(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("soil", "--check", "ring width=6 in water=444 ml minutes=4 12.5"), "an hour: moderately rapid"),
        (("soil", "dead-clay"), "Over the years"),
        (("soil", "--guide", "ring"), "Write down"),
        (("soil", "--guide"), "How fast water goes in"),
        (("ready", "--smell", "earthy", "--check", "radish sown=15 grown=12"), "Ready for seed sowing"),
        (("spread", "--bed", "A, 10 m2", "--have", "60 L"), "short"),
        (("spread", "allotment-six-beds", "--units", "us"), "barrow"),
        (("seasons", "dead-clay", "--years", "2"), "oats"),
        (
            ("seasons", "--bed", "A, 5 m2", "--last-frost", "09-20", "--first-frost", "04-25", "--from", "2026-08-01"),
            "2027-04-25",
        ),
        (("seasons", "--bed", "A, 5 m2", "--frost-free", "--from", "2026-05-01"), "without frost, begun 2026-05-01"),
        (("seasons", "--bed", "A, 5 m2"), "weeks are counted from them"),
        (("seasons", "--bed", "A, 5 m2", "--last-frost", "20 April", "--first-frost", "10 Oct"), "frost-free from"),
        (("spread", "--bed", "A, 1/4 acre", "--lot", "2 acres", "--units", "us"), "on yours"),
        (("households",), "dead-clay: A dead clay plot"),
        (("households", "dead-clay"), 'name = "A dead clay plot'),
    ],
)
def test_commands_answer(words: tuple[str, ...], said: str) -> None:
    done = heapwright(*words)
    assert done.returncode == 0, done.stderr
    assert said in " ".join(done.stdout.split())
    assert max(map(len, done.stdout.splitlines())) <= 80


@pytest.mark.parametrize(
    "words",
    [
        ("soil",),
        ("soil", "--check", "rong width=3"),
        ("soil", "--check", "radish sown=3 grown=2"),
        ("soil", "--guide", "magic"),
        ("soil", "nowhere"),
        ("ready",),
        ("ready", "--smell", "roses"),
        ("ready", "--check", "spade scores=2 depths=3"),
        ("ready", "--manure", "tomorrow week"),
        ("ready", "--weeks", "soon"),
        ("spread",),
        ("spread", "--bed", "A, 3 m2", "--have", "much"),
        ("spread", "--bed", "A, 3 m2", "--bed", "A, 4 m2"),
        ("spread", "--bed", "A, 3 m2", "--method", "magic"),
        ("seasons",),
        ("seasons", "--bed", "A, 3 m2", "--last-frost", "never"),
        ("spread", "--bed", "A, 3 m2", "--method", "collection"),
        ("households", "dead-cly"),
        ("seasons", "--bed", "A, 3 m2", "--frost-free", "--last-frost", "04-20"),
        ("seasons", "--bed", "A, 3 m2", "--last-frost", "04-20", "--first-frost", "04-20"),
        ("seasons", "dead-clay", "--years", "50"),
        ("soil", "dead-clay", "--why", "zz99"),
    ],
)
def test_what_cannot_be_understood_is_one_line(words: tuple[str, ...]) -> None:
    done = heapwright(*words)
    assert done.returncode == 2, done.stdout
    assert done.stdout == ""
    (line,) = done.stderr.splitlines()
    assert "Traceback" not in line


@pytest.mark.parametrize("command", ["soil", "spread", "seasons", "ready"])
def test_json_fits_its_schema(command: str) -> None:
    told = ("--smell", "earthy") if command == "ready" else ("dead-clay",)
    schema = json.loads(heapwright(command, "--schema").stdout)
    answer = json.loads(heapwright(command, *told, "--json").stdout)
    assert set(schema["required"]) <= set(answer) <= set(schema["properties"])


def test_reasons_name_their_sources() -> None:
    text = heapwright("soil", "--check", "spade scores=4 5 depths=8 12", "--why").stdout
    assert "vess-chart" in text
    assert "rule:" in text


@pytest.mark.parametrize("signs", ["ascii", "cp1252"])
def test_an_output_that_lacks_the_signs_of_a_drawing_still_gets_the_words(signs: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "advisor", "soil", "dead-clay"],
        capture_output=True,
        check=False,
        env={**os.environ, "PYTHONIOENCODING": signs},
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    assert "The soil lies in the field of clay." in done.stdout.decode(signs)


# ---------------------------------------------------------------- amounts and days as in the talk


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("spread", "--bed", "A, 4 x 8 ft", "--have", "6 barrows", "--pots", "2 buckets"), "potting mix"),
        (("spread", "--bed", "A, a quarter of an acre", "--have", "half a cubic metre"), "A (1000 m²"),
        (("ready", "--manure", "1 April 2026"), "worked in on 2026-04-01"),
        (("ready", "--manure", "on the 1st of April 2026"), "worked in on 2026-04-01"),
        (("bedding", "--animals", "6 hens", "--weeks", "half a year", "--floor", "3 x 4 m"), "for 26.1 weeks"),
        (("additions", "--litres", "1 m3"), "1 m³"),
        (("additions", "--litres", "8 barrows"), "a heap of 640 L"),
        (("soil", "--check", "worms counts=five, seven side=8", "--units", "us"), "a block of 8 in"),
        (("seasons", "--bed", "A, 4 m2", "--last-frost", "20 April", "--first-frost", "mid October"), "-10-15"),
    ],
)
def test_options_take_amounts_and_days_as_the_talk_does(words: tuple[str, ...], said: str) -> None:
    done = heapwright(*words)
    assert done.returncode == 0, done.stderr
    assert said in " ".join(done.stdout.split())
