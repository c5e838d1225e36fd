"""What is kept of lines for the diary, as people may write them."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from in_short import short

from advisor.diary.entries import Vessel
from advisor.diary.from_words import noted
from advisor.hearing.vessels import vessel_kind
from advisor.knowledge.load import shipped

KNOWLEDGE = shipped()
GROUPS: list[dict[str, Any]] = tomllib.loads(Path(__file__).with_name("log_lines.toml").read_text("utf-8"))["group"]


def cases(which: str) -> Iterator[tuple[date, list[str], str, list[str]]]:
    for group in GROUPS:
        for say, *kept in group.get(which, []):
            yield group["today"], group["have"], say, kept


@cache
def vessel(name: str) -> Vessel:
    return Vessel.model_validate({"name": name, "kind": vessel_kind(name, KNOWLEDGE)})


def read(today: date, have: list[str], say: str) -> list[str]:
    found = noted(say, KNOWLEDGE, today, [vessel(name) for name in have])
    if found.asks:
        return ["asks"]
    begun = [f"{one.name} is begun @{one.begun}" for one in found.vessels]
    return [*(short(one, today) for one in found.entries), *begun]


@pytest.mark.parametrize(
    ("today", "have", "say", "kept"), [*cases("seen"), *cases("held"), *cases("fresh"), *cases("mended")]
)
def test_a_line_is_kept_as_it_was_meant(today: date, have: list[str], say: str, kept: list[str]) -> None:
    assert sorted(read(today, have, say)) == sorted(kept)


def missed() -> Iterator[Any]:
    """The lines that are not kept so yet, each with its reason."""
    for today, have, say, [*kept, because] in cases("missed"):
        reason = because.removeprefix("because: ")
        assert reason != because, say
        yield pytest.param(today, have, say, kept, marks=pytest.mark.xfail(strict=True, reason=reason))


@pytest.mark.parametrize(("today", "have", "say", "kept"), [*missed()])
def test_a_line_that_is_missed(today: date, have: list[str], say: str, kept: list[str]) -> None:
    assert sorted(read(today, have, say)) == sorted(kept)


def test_half_of_the_lines_were_held_back() -> None:
    seen, held = ([*cases(which)] for which in ("seen", "held"))
    assert len(seen) + len(held) >= 150
    assert abs(len(seen) - len(held)) < 10
