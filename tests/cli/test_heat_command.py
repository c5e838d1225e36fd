"""heat as a person types it."""

from __future__ import annotations

import io
import json
from contextlib import redirect_stderr, redirect_stdout

import pytest

from advisor.cli import main

MIX = ("heat", "--have", "10 sacks shredded leaves, 20 buckets grass clippings", "--month", "June")
LOG = "days=1 2 3 8 degrees=40 58 61 20 turned=5"


def heapwright(*words: str) -> tuple[int, str, str]:
    out, fault = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(fault):
        code = main(words)
    return code, out.getvalue(), fault.getvalue()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (MIX, "It will "),
        (("heat", "six-hens", "--readings", LOG), "hours counted"),
        ((*MIX, "--unturned", "--latitude", "-40"), "latitude 40 south"),
        ((*MIX, "--like", "London", "--why", "v1"), "heat balance"),
        ((*MIX, "--fed", "8 weeks", "--insulated", "5 cm", "--litres", "300 L"), "Filled bit by bit"),
        ((*MIX, "--monthly=5,5,7,10,13,16,18,18,15,12,8,6"), "the months you gave"),
    ],
)
def test_it_is_answered(words: tuple[str, ...], said: str) -> None:
    code, page, fault = heapwright(*words)
    assert (code, fault) == (0, "")
    assert said in page
    assert "Heat foreseen" in page
    assert max(map(len, page.splitlines())) <= 80


def test_fahrenheit_for_those_who_use_it() -> None:
    _, page, _ = heapwright(*MIX, "--units", "us", "--air", "68 F", "--readings", "days=2 degrees=131")
    assert "°C" not in page
    assert "Day 2, 131 °F" in page


def test_json_and_schema_name_the_same() -> None:
    schema = json.loads(heapwright("heat", "--schema")[1])
    answer = json.loads(heapwright(*MIX, "--json", "--readings", LOG)[1])
    assert set(schema["properties"]) == set(answer)
    assert [one["celsius"] for one in answer["readings"]] == [40, 58, 61, 20]
    assert 5 in answer["turnings"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("heat",), "a household is needed"),
        ((*MIX, "--air", "99 C"), "one temperature"),
        ((*MIX, "--air", "warm"), "--air"),
        ((*MIX, "--latitude", "nan"), "cannot be"),
        ((*MIX, "--moisture", "nan"), "no number"),
        ((*MIX, "--insulated", "9 m"), "cannot be"),
        ((*MIX, "--monthly", "1,2,3"), "twelve"),
        ((*MIX, "--month", "Thermidor"), "no month"),
        ((*MIX, "--like", "Mars"), "no climate"),
        ((*MIX, "--litres", "0 L"), "cannot be"),
        ((*MIX, "--fed", "9 years"), "cannot be"),
        ((*MIX, "--turned", "soon"), "--turned"),
        ((*MIX, "--readings", "days=1 2 degrees=50"), "1 readings"),
        ((*MIX, "--readings", "days=-3 degrees=50"), "days are counted"),
        ((*MIX, "--why", "zz"), "no line"),
    ],
)
def test_what_cannot_be_is_one_line(words: tuple[str, ...], said: str) -> None:
    code, page, fault = heapwright(*words)
    assert (code, page) == (2, "")
    (line,) = fault.splitlines()
    assert said in line
