"""What the talk plans and diagnoses by itself is what the commands answer of the same household."""

from __future__ import annotations

import io
import json
from contextlib import redirect_stdout
from datetime import date
from pathlib import Path

import pytest

from advisor.cli import main
from advisor.counsel.consult import shipped_engine
from advisor.diary.store import Diary
from advisor.household.files import read_household
from advisor.knowledge.load import shipped
from advisor.places import scenarios_folder
from advisor.talk.session import Talk
from advisor.talk.shelf import Shelf

HOUSEHOLDS = sorted(path.stem for path in scenarios_folder().glob("*.toml"))
SIGNS = "it stinks of ammonia and is slimy"


def talk_of(name: str, folder: Path) -> Talk:
    """A talk that begins with a shipped household."""
    household = read_household(scenarios_folder() / f"{name}.toml", shipped())
    diary = Diary(shipped(), folder / "diary.sqlite3")
    kept = Shelf(folder / "heaps", shipped())
    return Talk(shipped(), shipped_engine(), household=household, shelf=kept, diary=diary, today=date(2026, 1, 10))


def answered(*words: str) -> dict[str, object]:
    """What a command answers as JSON."""
    out = io.StringIO()
    with redirect_stdout(out):
        assert main((*words, "--json")) == 0
    return dict(json.loads(out.getvalue()))


@pytest.mark.parametrize("name", HOUSEHOLDS)
def test_the_plan_of_the_talk_is_that_of_the_command(name: str, tmp_path: Path) -> None:
    talk = talk_of(name, tmp_path)
    talk.open()
    assert talk.plan is not None
    by_command, in_talk = answered("plan", name), talk.plan.model_dump(mode="json")
    for plan in (by_command, in_talk):
        del plan["doubts"]  # the talk asks them one after another
    assert by_command == in_talk


@pytest.mark.parametrize("name", HOUSEHOLDS[::3])
def test_what_the_talk_diagnoses_is_what_the_command_does(name: str, tmp_path: Path) -> None:
    talk = talk_of(name, tmp_path)
    talk.open()
    talk.hear(f"my heap: {SIGNS}")
    found = talk.cure
    assert found is not None
    told = answered("diagnose", name, "--signs", SIGNS)
    assert told["causes"] == found.model_dump(mode="json")["causes"]
    assert told["remedies"] == found.model_dump(mode="json")["remedies"]
