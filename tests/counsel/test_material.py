"""One material by itself: what the rules say of it, against what published guides say.

Where a guide is named, the statement was read in it; it stands in rules/sources.toml under the id in brackets.
"""

from __future__ import annotations

import pytest

from advisor.counsel.material import verdict_on
from advisor.counsel.plan import Because
from advisor.counsel.stock import nature
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge


@pytest.mark.parametrize(
    ("material", "stays_out_of"),
    [
        ("citrus-peel", {"worm-bin"}),  # How to compost in small spaces [small-spaces-australia]
        ("meat-scraps", {"worm-bin", "open-heap", "bin"}),  # the same; Merriam's code [merriam-code]
        ("dairy", {"open-heap", "bin"}),  # [merriam-code]
        ("cooked-leftovers", {"open-heap", "bin"}),  # Test Valley on rats [test-valley-rats]
        ("dog-waste", {"open-heap", "bin", "tumbler", "worm-bin"}),  # City of Moberly [moberly-materials]
        ("wood-ash", {"worm-bin"}),  # from memory [general-extension-memory]
        ("grass-clippings", {"fermented-bucket"}),  # Channel magazine, Auckland [auckland-composting]
    ],
)
def test_what_the_guides_keep_out_stays_out(
    material: str, stays_out_of: set[str], knowledge: Knowledge, engine: Engine
) -> None:
    verdict = verdict_on(material, knowledge, engine)
    assert stays_out_of <= set(verdict.stays_out_of)
    assert verdict.goes_into
    assert not set(verdict.goes_into) & set(verdict.stays_out_of)


@pytest.mark.parametrize(
    "material", ["coal-ash", "briquette-ash", "plastic", "nappies", "treated-wood-ash", "poison-ivy"]
)
def test_what_no_home_can_compost_is_refused_outright(material: str, knowledge: Knowledge, engine: Engine) -> None:
    verdict = verdict_on(material, knowledge, engine)
    assert verdict.never
    assert verdict.headline.endswith("no, keep it out of all composting at home.")
    assert "It stays out of all composting at home." in verdict.lines[0].text


def test_coffee_grounds_are_no_more_than_a_third(knowledge: Knowledge, engine: Engine) -> None:
    # Two parts of leaves to one of grounds: the published mix of [oregon-coffee-mix].
    texts = [line.text for line in verdict_on("coffee-grounds", knowledge, engine).lines]
    assert any(text.startswith("No more than a third of the heap") for text in texts)


def test_manure_brings_the_days_before_harvest(knowledge: Knowledge, engine: Engine) -> None:
    # 7 CFR 205.203(c)(1): raw manure 120 or 90 days before harvest [usda-nop-205-203].
    texts = [line.text for line in verdict_on("horse-manure", knowledge, engine).lines]
    assert any("120 days" in text and "90 days" in text for text in texts)


def test_leaves_alone_go_into_a_leaf_heap(knowledge: Knowledge, engine: Engine) -> None:
    assert "leaf-heap" in verdict_on("dry-leaves", knowledge, engine).goes_into
    for material in ("straw", "citrus-peel", "horse-manure"):
        verdict = verdict_on(material, knowledge, engine)
        assert "leaf-heap" not in {*verdict.goes_into, *verdict.stays_out_of}


def test_american_units_are_written_out(knowledge: Knowledge, engine: Engine) -> None:
    metric, american = (verdict_on("seaweed", knowledge, engine, units=units) for units in ("metric", "us"))
    assert [line.id for line in metric.lines] == [line.id for line in american.lines]


def test_every_material_has_an_answer_with_reasons_and_it_is_that_of_the_consultation(
    knowledge: Knowledge, engine: Engine
) -> None:
    for name, material in knowledge.materials.items():
        verdict = verdict_on(name, knowledge, engine)
        assert verdict.headline
        assert len({line.id for line in verdict.lines}) == len(verdict.lines)
        assert all("{" not in line.text for line in verdict.lines)
        for line in verdict.lines:
            assert any(_sources(because) for because in line.why), (name, line.text)
        with engine.consultation() as talk:
            talk.tell(nature(name, material), "a test")
            barred = {str(word) for word in talk.values("holding", "barred_from", name)}
        ways = {*verdict.goes_into, *verdict.stays_out_of}
        assert set(verdict.stays_out_of) == (ways if "all" in barred else barred & ways), name


def _sources(because: Because) -> set[str]:
    found = set(because.sources)
    for child in because.rests_on:
        found |= _sources(child)
    return found
