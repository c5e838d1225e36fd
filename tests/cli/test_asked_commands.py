"""substitutes, year, bedding and additions as a person types them."""

from __future__ import annotations

import json

import pytest
from commanded import heapwright

ANSWERED = [
    (("substitutes", "six-hens", "--for", "1 barrow horse manure", "--month", "5"), "Choice A"),
    (("year", "terrace-through-the-year", "--weeks"), "What goes in, by the week"),
    (("bedding", "hens-on-leaves", "--animals", "6 hens"), "dry autumn leaves"),
    (("additions", "goats-and-a-pony"), "Not in this heap"),
]


@pytest.mark.parametrize(("words", "said"), ANSWERED, ids=[words[0] for words, _ in ANSWERED])
def test_a_page_in_eighty_columns(words: tuple[str, ...], said: str) -> None:
    done = heapwright(*words)
    assert done.returncode == 0, done.stderr
    assert said in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80


@pytest.mark.parametrize("words", [words for words, _ in ANSWERED], ids=[words[0] for words, _ in ANSWERED])
def test_json_in_united_states_units_and_with_reasons(words: tuple[str, ...]) -> None:
    plain = [word for word in words if word != "--weeks"]
    answer = json.loads(heapwright(*plain, "--json", "--units", "us").stdout)
    assert answer["units"] == "us"
    schema = json.loads(heapwright(words[0], "--schema").stdout)
    assert set(schema["required"]) <= set(answer) <= set(schema["properties"])
    assert "sum:" in heapwright(*plain, "--why").stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("substitutes",), "say how much manure it would have been"),
        (("substitutes", "--for", "2 barrows grass clippings"), "no manure"),
        (("substitutes", "--for", "1 barrow cow manure", "--month", "13"), "1 to 12"),
        (("substitutes", "--for", "1 barrow cow manure", "--why", "zz"), "no line"),
        (("year",), "a household is needed"),
        (("year", "terrace-through-the-yer"), "did you mean terrace-through-the-year?"),
        (("year", "flat-bucket-and-comfrey"), "mixes nothing"),
        (("bedding",), "say which animals"),
        (("bedding", "--animals", "6 hins"), "did you mean hen"),
        (("bedding", "--animals", "6 hens", "--weeks", "400"), "weeks"),
        (("additions", "--litres", "0"), "a heap of 0 L"),
    ],
)
def test_a_refusal_is_one_line(words: tuple[str, ...], said: str) -> None:
    done = heapwright(*words)
    assert done.returncode == 2
    assert done.stdout == ""
    (line,) = done.stderr.splitlines()
    assert said in line
