"""blend as a person types it."""

from __future__ import annotations

import json

import pytest
from commanded import heapwright

MIX = ("blend", "--have", "3 buckets grass clippings, 1 bucket sawdust")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (MIX, "C:N"),
        (("blend", "six-hens"), "What it comes to"),
        (("blend", "--parts", "3 parts green to 1 brown", "--fill", "300 L"), "To fill 300 L"),
        (("blend", "--have", "100 kg cow manure", "--add", "sawdust"), "To add, for the C:N"),
        (("blend", "--have", "10 buckets grass clippings", "--cn", "30"), "Best:"),
        (("blend", "--dried", "14,6.3,4", "--weighed", "10,1,20"), "Moisture: 77 %"),
        (("plan", "--have", "3 sacks straw", "--own", "straw: moisture 40 %"), "straw"),
    ],
)
def test_it_is_answered(words: tuple[str, ...], said: str) -> None:
    page = heapwright(*words)
    assert page.returncode == 0, page.stderr
    assert said in page.stdout
    assert max(map(len, page.stdout.splitlines())) <= 80


def test_json_and_schema_name_the_same() -> None:
    schema = json.loads(heapwright("blend", "--schema").stdout)
    answer = json.loads(heapwright(*MIX, "--json", "--units", "us").stdout)
    assert set(schema["properties"]) == set(answer)
    assert answer["units"] == "us"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("blend",), "say one mix"),
        ((*MIX, "--parts", "1 part straw"), "say one mix"),
        ((*MIX, "--cn", "500"), "cannot be"),
        ((*MIX, "--add", "moonshine"), "moonshine"),
        ((*MIX, "--own", "straw"), "--own takes"),
        ((*MIX, "--own", "straw: colour 5"), "not a figure"),
        (("blend", "--dried", "6,14"), "cannot dry"),
        (("blend", "--weighed", "ten"), "three figures"),
    ],
)
def test_a_refusal_is_one_line(words: tuple[str, ...], said: str) -> None:
    done = heapwright(*words)
    assert done.returncode == 2
    assert done.stdout == ""
    (line,) = done.stderr.splitlines()
    assert said in line
