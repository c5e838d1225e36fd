"""Dangers are heard where they are told as present, and nowhere else."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from advisor.hearing.dangers import KINDS
from advisor.hearing.hear import hear
from advisor.hearing.vocabulary import vocabulary_for
from advisor.knowledge.load import shipped

WORDS = vocabulary_for(shipped())
LINES = tomllib.loads((Path(__file__).parent / "danger_lines.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize(("kind", "say"), [(kind, say) for kind, says in LINES["danger"].items() for say in says])
def test_a_danger_that_is_told_is_heard(kind: str, say: str) -> None:
    heard = hear(say, shipped())
    assert kind in [danger.kind for danger in heard.dangers]
    assert heard.acts[0] == "danger"


@pytest.mark.parametrize("say", LINES["near"]["none"])
def test_what_only_sounds_like_a_danger_is_none(say: str) -> None:
    assert hear(say, shipped()).dangers == ()


@pytest.mark.parametrize(("kind", "say"), [(kind, say) for kind, says in LINES["feared"].items() for say in says])
def test_what_is_asked_after_is_feared_and_not_told(kind: str, say: str) -> None:
    heard = hear(say, shipped())
    assert heard.dangers == ()
    assert kind in [danger.kind for danger in heard.feared]


@pytest.mark.parametrize(("name", "line", "says"), [one for one in WORDS.examples if one[0] in WORDS.dangers])
def test_examples_of_the_vocabulary(name: str, line: str, says: bool) -> None:
    assert (name.partition("/")[0] in [danger.name for danger in hear(line, shipped()).dangers]) == says


def test_every_danger_is_of_a_known_kind_and_has_examples() -> None:
    assert {danger.kind for danger in WORDS.dangers.values()} <= set(KINDS)
    for name in WORDS.dangers:
        assert sum(1 for one, _, says in WORDS.examples if one == name and says) >= 2, name
        assert any(one == name and not says for one, _, says in WORDS.examples), name
