"""The commands as a person types them."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from commanded import heapwright, in_a_process

from advisor.places import scenarios_folder

SHIPPED = sorted(path.stem for path in scenarios_folder().glob("*.toml"))


def refusal(*words: str) -> str:
    """The one line that a refused command prints."""
    done = heapwright(*words)
    assert done.returncode == 2, done.stderr
    assert done.stdout == ""
    (line,) = done.stderr.splitlines()
    assert "Traceback" not in line
    return line


def test_version() -> None:
    assert re.fullmatch(r"heapwright \d+\.\d+\.\d+\n", in_a_process("--version").stdout)


def test_help_names_every_command() -> None:
    done = heapwright("--help")
    assert done.returncode == 0
    for command in ("plan", "talk", "households", "materials", "rules", "check"):
        assert command in done.stdout


def test_a_household_typed_by_hand() -> None:
    done = heapwright(
        "plan",
        "--have",
        "3 sacks dry leaves, 1 bucket coffee grounds",
        "--room",
        "1.2x1.2",
        "--container",
        "none",
        "--space",
        "garden",
    )
    assert done.returncode == 0, done.stderr
    assert "The method" in done.stdout
    assert "sacks of dry autumn leaves" in done.stdout
    assert re.search(r"carbon to nitrogen \d+ \(\d+ to \d+\)", done.stdout)
    assert max(map(len, done.stdout.splitlines())) <= 80


@pytest.mark.parametrize("name", SHIPPED)
def test_every_shipped_household_gets_a_plan(name: str) -> None:
    done = heapwright("plan", name, "--json")
    assert done.returncode == 0, done.stderr
    plan = json.loads(done.stdout)
    assert plan["choice"]["method"]
    assert plan["steps"]


def test_the_same_household_gets_the_same_plan() -> None:
    assert in_a_process("plan", "seaside").stdout == in_a_process("plan", "seaside").stdout


def test_united_states_units() -> None:
    shown = heapwright("plan", "seaside", "--units", "us").stdout
    assert " gal" in shown and " lb" in shown
    assert not re.search(r"\d (L|kg|cm|m³)\b", shown), shown


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("plan", "six-hens", "--spce", "flat"), "'--spce' is not understood here (did you mean --space?)"),
        (("plan", "six-hens", "other"), "'other' is not understood here (see heapwright plan --help)"),
        (("diary", "--last", "few"), "--last: 'few' is not a whole number"),
        (("heat", "six-hens", "--latitude", "north"), "--latitude: 'north' is not a number"),
        (("completion", "bush"), "shell: 'bush' is not one of its words (did you mean 'bash'?)"),
        (("--units", "us"), "'--units' is not understood here (say a command first; heapwright --help lists them)"),
    ],
)
def test_words_of_the_command_line_that_are_not_understood(words: tuple[str, ...], said: str) -> None:
    assert refusal(*words).strip() == f"heapwright: {said}"


def test_why_shows_rules_facts_and_sources() -> None:
    shown = heapwright("plan", "six-hens", "--why", "m1").stdout
    assert "rule: " in shown and "you: " in shown
    assert re.search(r"\[[a-z-]+; (measured|guidance|tradition); [a-z0-9, -]+\]", " ".join(shown.split()))


def test_the_json_follows_the_documented_schema() -> None:
    schema = json.loads(heapwright("plan", "--schema").stdout)
    plan = json.loads(heapwright("plan", "seaside", "--json").stdout)
    assert schema["title"] == "Plan"
    assert set(schema["required"]) <= set(plan)
    assert set(plan) <= set(schema["properties"])


def test_no_terminal_codes_in_a_pipe() -> None:
    assert "\x1b" not in in_a_process("plan", "seaside").stdout


def test_rules_and_households_can_be_read() -> None:
    assert "citrus-and-worms" in heapwright("rules").stdout
    one = heapwright("rules", "citrus-and-worms").stdout
    assert "holding.trait == 'citrus'" in one and "source" in one
    assert "six-hens" in heapwright("households").stdout
    assert 'name = "' in heapwright("households", "six-hens").stdout


def test_the_rule_base_is_in_order() -> None:
    done = heapwright("check", "--quiet")
    assert done.returncode == 0, done.stdout
    assert done.stdout.startswith("0 faults")


def test_a_broken_rule_base_is_refused_with_its_place(tmp_path: Path) -> None:
    from shutil import copytree

    from advisor.places import rules_folder

    folder = tmp_path / "rules"
    copytree(rules_folder(), folder)
    text = (folder / "safety.toml").read_text(encoding="utf-8").replace("wish.care == 'yes'", "wish.care == 'maybe'")
    (folder / "safety.toml").write_text(text, encoding="utf-8")
    done = heapwright("check", str(folder), "--quiet")
    assert done.returncode == 3
    assert "rules/safety.toml: weak-lungs" in done.stdout
    assert "maybe" in done.stdout


def test_refusals_are_one_clear_line() -> None:
    assert "did you mean rules?" in refusal("ruls")
    assert "did you mean citrus-and-worms?" in refusal("rules", "citrus-an-worms")
    assert "no file and no household 'six-hen'" in refusal("plan", "six-hen")
    assert "did you mean six-hens?" in refusal("plan", "six-hen")
    assert "a household is needed" in refusal("plan")
    assert "not both" in refusal("plan", "six-hens", "--have", "1 sack leaves")
    assert "NAME=SIZE" in refusal("plan", "--have", "1 sack leaves", "--measure", "bucket 12")
    assert "no line 'zz9'" in refusal("plan", "six-hens", "--why", "zz9")
    assert "garden" in refusal("plan", "--have", "1 sack leaves", "--space", "gardn")
    assert "straw" in refusal("plan", "--have", "1 sack strawww")
    assert "missing.toml" in refusal("plan", "missing.toml")


def test_a_reader_that_stops_early_is_no_error() -> None:
    shell = f"{sys.executable} -m advisor rules | head -n 1"
    done = subprocess.run(["bash", "-c", f"set -o pipefail; {shell}"], capture_output=True, text=True, check=False)
    assert done.stderr == ""
    assert len(done.stdout.splitlines()) == 1
