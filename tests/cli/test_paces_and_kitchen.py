"""paces and kitchen as a person types them."""

from __future__ import annotations

import json

import pytest
from commanded import heapwright

ANSWERED = [(("paces", "goats-and-a-pony"), "What it does not do"), (("kitchen", "--people", "3"), "In a worm bin")]
IDS = ["paces", "kitchen"]


@pytest.mark.parametrize(("words", "said"), ANSWERED, ids=IDS)
def test_page_json_and_reasons(words: tuple[str, ...], said: str) -> None:
    page = heapwright(*words)
    assert page.returncode == 0, page.stderr
    assert said in page.stdout
    assert max(map(len, page.stdout.splitlines())) <= 80
    answer = json.loads(heapwright(*words, "--json", "--units", "us").stdout)
    assert answer["units"] == "us"
    assert "sum:" in heapwright(*words, "--why").stdout


@pytest.mark.parametrize("words", [words for words, _ in ANSWERED], ids=IDS)
def test_the_schema_names_every_part_of_the_answer(words: tuple[str, ...]) -> None:
    schema = json.loads(heapwright(words[0], "--schema").stdout)
    assert set(schema["properties"]) == set(json.loads(heapwright(*words, "--json").stdout))


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("paces",), "a household is needed"),
        (("paces", "goats-and-a-pny"), "did you mean goats-and-a-pony?"),
        (("paces", "flat-nothing-outdoors"), "no heap can be built here"),
        (("paces", "goats-and-a-pony", "--aim", "quick"), "not both"),
        (("paces", "goats-and-a-pony", "--why", "zz"), "no line"),
        (("kitchen",), "say how many people"),
        (("kitchen", "--people", "0"), "people, 1 to 50"),
        (("kitchen", "--people", "some"), "no number"),
        (
            ("kitchen", "--people", "3", "--space", "castle"),
            "--space: 'castle' is not one of its words (there is flat,",
        ),
        (("kitchen", "six-hens", "--people", "3"), "not both"),
        (("kitchen", "leaves-in-autumn"), "no kitchen scraps"),
    ],
)
def test_a_refusal_is_one_line(words: tuple[str, ...], said: str) -> None:
    done = heapwright(*words)
    assert done.returncode == 2
    assert done.stdout == ""
    (line,) = done.stderr.splitlines()
    assert said in line
