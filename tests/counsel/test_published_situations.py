"""Published household situations get the method their sources recommend or accept, and nothing they warn against."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from told import household

from advisor.counsel.consult import consult
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge

HERE = Path(__file__).parent


def cases(name: str) -> list[dict]:
    return tomllib.loads((HERE / name).read_text(encoding="utf-8"))["case"]


#: Read in the sources named; and recalled from the publications named, marked so in the file.
CASES = cases("method_cases.toml")
RECALLED = cases("method_cases_from_memory.toml")


@pytest.mark.parametrize("case", CASES + RECALLED, ids=[case["id"] for case in CASES + RECALLED])
def test_method_for_a_published_situation(case: dict, knowledge: Knowledge, engine: Engine) -> None:
    plan = consult(household(case["have"], case["answers"]), knowledge, engine, with_doubts=False)
    assert plan.choice.method in {*case["recommended"], *case.get("acceptable", [])}
    assert plan.choice.method not in case.get("never", [])
    out = {
        ranked.method
        for ranked in plan.choice.ranking
        if ranked.ruled_out or ranked.score < plan.choice.ranking[0].score
    }
    assert set(case.get("never", [])) <= out
    for method, materials in case.get("barred", {}).items():
        for material in materials:
            assert method in _barred_from(material, knowledge, engine)


@pytest.mark.parametrize("several", [CASES, RECALLED], ids=["read", "recalled"])
def test_most_situations_get_the_first_recommendation(
    several: list[dict], knowledge: Knowledge, engine: Engine
) -> None:
    first = 0
    for case in several:
        plan = consult(household(case["have"], case["answers"]), knowledge, engine, with_doubts=False)
        first += plan.choice.method in case["recommended"]
    assert first >= 0.85 * len(several)


def _barred_from(material: str, knowledge: Knowledge, engine: Engine) -> set[str]:
    from advisor.counsel.stock import nature

    with engine.consultation() as talk:
        talk.tell(nature(material, knowledge.materials[material]), "a test")
        return {str(word) for word in talk.values("holding", "barred_from", material)}
