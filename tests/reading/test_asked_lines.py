"""What kind of thing a line is, by its form and by what it names: lines of tests/reading/asked_lines.toml."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from advisor.hearing.hear import hear
from advisor.knowledge.load import shipped

LINES = tomllib.loads((Path(__file__).parent / "asked_lines.toml").read_text(encoding="utf-8"))


def _pairs(table: str) -> list[tuple[str, str]]:
    return [(act, line) for act, lines in LINES[table].items() for line in lines]


@pytest.mark.parametrize(("act", "line"), _pairs("first"))
def test_a_line_is_first_of_its_kind(act: str, line: str) -> None:
    assert hear(line, shipped()).acts[:1] == (act,)


@pytest.mark.parametrize(("act", "line"), _pairs("never"))
def test_what_only_resembles_it_is_none(act: str, line: str) -> None:
    assert act not in hear(line, shipped()).acts[:1]


def test_a_question_is_handed_on_as_one_of_the_stuff_named_before_it() -> None:
    heard = hear("the wife cuts the kids' hair in the kitchen, would that matter?", shipped())
    assert [question.act for question in heard.asked] == ["ask_material"]


def test_what_was_thought_once_is_no_fact_and_no_danger() -> None:
    heard = hear("thought the bin was alight, it was the sun on the lid", shipped())
    assert not heard.dangers
    assert not any(fact.stance == "told" and fact.name == "sign.warmth" for fact in heard.facts)
