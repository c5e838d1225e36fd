"""Figures and days on the command line that nobody can mean: one line, with what can be."""

from __future__ import annotations

import io
from contextlib import redirect_stderr, redirect_stdout

import pytest

from advisor.cli import main


def refused(*words: str) -> str:
    out, fault = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(fault):
        code = main(words)
    assert (code, out.getvalue()) == (2, "")
    (line,) = fault.getvalue().splitlines()
    return line


HEAP = ("heat", "--have", "1 sack leaves")
HENS = ("bedding", "--animals", "6 hens")
BED = ("seasons", "--bed", "A, 3 m2")
YEAR = ("year", "--have", "nothing", "--comes", "May: 3 buckets grass a week")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((*HENS, "--weeks", "1e-9"), "1 to 60"), ((*HENS, "--weeks", "nan"), "1 to 60"),
        ((*HENS, "--weeks", "1e308"), "1 to 60"), ((*HENS, "--weeks", "-3"), "1 to 60"),
        ((*HENS, "--indoors", "1e-9"), "percent, 1 to 100"), ((*HENS, "--indoors", "nan"), "percent, 1 to 100"),
        ((*HENS, "--floor", "1e-9"), "0.1 to 10000 m2"), ((*HENS, "--floor", "inf"), "0.1 to 10000 m2"),
        ((*HENS, "--longest", "1e-9"), "1 to 1000 m"), ((*HENS, "--longest", "nan"), "1 to 1000 m"),
        ((*HEAP, "--litres", "0.5 L"), "1 L to"), ((*HEAP, "--fed", "9 years"), "0 to 2 years"),
        ((*HEAP, "--latitude", "inf"), "-90 to 90"), ((*HEAP, "--moisture", "1e308"), "0 to 100"),
        ((*HEAP, "--air", "90 C"), "-60 to 60"), ((*HEAP, "--insulated", "2 m"), "0 to 1 m"),
        (("kitchen", "--people", "nan"), "1 to 50"), (("kitchen", "--people", "1e-9"), "1 to 50"),
        (("additions", "--litres", "1e-9"), "1 to "), (("additions", "--litres", "nan"), "1 to "),
        (("plan", "--have", "1 sack leaves", "--start", "9999-12-31"), "1900 to 2200"),
        (("plan", "--have", "1 sack leaves", "--start", "0001-01-01"), "1900 to 2200"),
        (("plan", "--have", "1 sack leaves", "--holds", "0.001 L"), "1 and 100000 L"),
        ((*BED, "--from", "9999-12-31"), "1900 to 2200"), ((*BED, "--from", "0001-01-01"), "1900 to 2200"),
        ((*BED, "--years", "9999999999"), "1 to 10"), (("ready", "--manure", "9999-12-31"), "1900 to 2200"),
        (("ready", "--weeks", "nan"), "weeks"), (("ready", "--weeks", "-1"), "weeks"),
        (("soil", "--check", "hole hours=5", "--on", "9999-12-31"), "1900 to 2200"),
        (("plan", "x" * 5000), "no file and no household"), (("soil", "x" * 5000), "no file and no soil file"),
        (("diagnose", "x" * 5000, "--signs", "slimy"), "no file"), (("talk", "--plain", "x" * 5000), "too long"),
        (("log", "heap turned", "--on", "9999-12-31"), "1900 to 2200"), (("log", "heap 99999999999 C"), "hotter"),
        (("log", "turned", "--vessel", "x" * 5000), "no name"), (("diary", "x" * 5000), "no heap or bin"),
        ((*YEAR, "--storage", "10000 m3"), "0 to 1000 m3"), ((*YEAR, "--bays", "99"), "1 to 12"),
        ((*YEAR, "--storage", "1e300 L"), "not a volume"), (("additions", "--litres", "1e300 L"), "not a volume"),
        (("diary", "--take-back", "9" * 30), "no entry"), (("today", "--away", "9999999999 years"), "no span"),
        (("import", "x" * 5000), "too long"), (("export", "x" * 5000), "no heap or bin"),
        (("households", "x" * 5000), "no household"), (("materials", "x" * 5000), "no material"),
        (("rules", "x" * 5000), "no rule"), (("x" * 5000,), "no command"), (("check", "x" * 5000), "no folder"),
    ],
    ids=lambda value: " ".join(value)[:40] if isinstance(value, tuple) else None,
)  # fmt: skip
def test_what_nobody_can_mean(words: tuple[str, ...], said: str) -> None:
    line = refused(*words)
    assert said in line
    assert len(line) < 900
