"""`heapwright diagnose`, as it is typed and read."""

from __future__ import annotations

import argparse
import json

import pytest

from advisor.commands.parsing import command
from advisor.diagnosis.diagnose import diagnose, shipped_diagnosis_engine
from advisor.diagnosis.shapes import Diagnosis
from advisor.diagnosis.signs import read_signs
from advisor.errors import HouseholdError, UsageError
from advisor.knowledge.load import shipped
from advisor.papers.page import page


def run(capsys: pytest.CaptureFixture[str], *given: str) -> str:
    parser = argparse.ArgumentParser()
    command("diagnose").add_arguments(parser)
    assert command("diagnose").run(parser.parse_args(given)) == 0
    return capsys.readouterr().out


def test_the_cure_is_in_buckets(capsys: pytest.CaptureFixture[str]) -> None:
    page = run(capsys, "--signs", "ammonia, wet", "--heap", "10 buckets grass clippings")
    assert "brings C:N from about" in " ".join(page.split())


def test_json_reads_back_as_the_same_diagnosis(capsys: pytest.CaptureFixture[str]) -> None:
    text = run(capsys, "--signs", "stinks of rotten eggs, slimy", "--json")
    assert Diagnosis.model_validate_json(text).verdict == "settled"
    assert json.loads(text)["unplaced"] == []


def test_the_schema_is_printed_without_signs(capsys: pytest.CaptureFixture[str]) -> None:
    assert "Suspect" in json.loads(run(capsys, "--schema"))["$defs"]


def test_a_line_says_why(capsys: pytest.CaptureFixture[str]) -> None:
    page = run(capsys, "--signs", "ammonia", "--why", "v1")
    assert "ammonia-smell" in page
    assert "you:" in page


def test_nothing_said_and_lines_that_are_not_there_are_told_plainly(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(UsageError, match="say what you see"):
        run(capsys)
    with pytest.raises(UsageError, match="no line 'zz'"):
        run(capsys, "--signs", "ammonia", "--why", "zz")
    with pytest.raises(HouseholdError):
        run(capsys, "--signs", "ammonia", "--heap", "3 flurbs moonstone")


@pytest.mark.parametrize("width", [40, 80, 100])
@pytest.mark.parametrize(
    "text", ["", "cold", "ammonia, slimy, rats, wasps, manure", "smoke", "bokashi with blue mould"]
)
def test_no_line_is_wider_than_the_page(text: str, width: int) -> None:
    knowledge = shipped()
    found = diagnose(read_signs(text, knowledge)[0], knowledge, shipped_diagnosis_engine())
    for why in (None, ()):
        assert max(map(len, page(found, width=width, why=why).splitlines())) <= max(width, 40)


def test_safety_stands_first() -> None:
    knowledge = shipped()
    found = diagnose(read_signs("smoke from a large dry heap", knowledge)[0], knowledge, shipped_diagnosis_engine())
    lines = page(found).splitlines()
    assert lines[2] == "First of all"  # after the title
    assert "fire service" in " ".join(lines[:6])
