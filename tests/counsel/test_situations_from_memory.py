"""Household situations from memory of published guides; test_published_situations.py runs them with the others.

At first sight 46 of the 58 got the recommended method, 11 an acceptable one, and one named a material in words that
were not known; none got what its source warns against. Rules changed since then say so by their reasons.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

from told import household

from advisor.counsel.consult import consult
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge

CASES = tomllib.loads((Path(__file__).parent / "method_cases_from_memory.toml").read_text(encoding="utf-8"))["case"]


def test_every_case_names_real_methods_and_its_source(knowledge: Knowledge) -> None:
    assert len(CASES) >= 45
    assert len({case["id"] for case in CASES}) == len(CASES)
    for case in CASES:
        named = {*case["recommended"], *case.get("acceptable", []), *case.get("never", [])}
        assert named <= set(knowledge.methods), case["id"]
        assert not {*case["recommended"], *case.get("acceptable", [])} & set(case.get("never", [])), case["id"]
        assert case["source"].endswith("from memory"), case["id"]


def test_food_stays_out_of_a_heap_where_the_town_says_so(knowledge: Knowledge, engine: Engine) -> None:
    have = ["1 bucket kitchen scraps", "6 sacks dry leaves", "5 buckets grass clippings"]
    plan = consult(
        household(have, {"place.space": "garden", "place.local_limits": "no-food"}),
        knowledge,
        engine,
        with_doubts=False,
    )
    assert plan.choice.method in {"bin", "open-heap"}
    assert "kitchen-scraps" not in {line.material for line in plan.recipe.lines}
