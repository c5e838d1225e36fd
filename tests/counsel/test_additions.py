"""Herbs, starters and minerals: amounts within the published caps, evidence said plainly, and no ash beside manure."""

from __future__ import annotations

import pytest

from advisor.counsel.additions import Additions, additions
from advisor.counsel.consult import consult, shipped_engine
from advisor.counsel.substitutes import shipped_replacing_engine
from advisor.errors import HouseholdError
from advisor.household.amounts import read_phrase
from advisor.household.files import household_from_options
from advisor.household.shapes import Household
from advisor.knowledge.load import shipped
from advisor.papers.page import page

#: The most of each by volume, in %: soil or clay 5 to 10 (organic-gardeners-composting; the second figure is common
#: practice too), ash a cupful to a foot of heap (georgia-ash-column). Of bentonite a fifth of what is
#: good of garden clay, for it holds several times as much and swells (common practice).
CAPS = {"clay": 10.0, "garden-soil": 10.0, "bentonite": 2.0, "wood-ash": 1.0}


def added(have: str = "", litres: float | None = 1000.0) -> Additions:
    household = household_from_options(have, shipped()) if have else Household("nobody")
    return additions(household, shipped(), shipped_engine(), shipped_replacing_engine(), litres=litres)


def litres_of(answer: Additions, material: str) -> float:
    return next(one.litres for one in answer.every() if one.material == material)


@pytest.mark.parametrize("litres", [50.0, 300.0, 1000.0, 5000.0])
def test_nothing_is_more_than_it_should_be(litres: float) -> None:
    answer = added(litres=litres)
    for one in answer.every():
        assert 0 <= one.litres <= CAPS.get(one.material, 10.0) / 100 * litres + 1e-6
        if one.most_litres is not None:
            assert one.litres <= one.most_litres + 1e-6


def test_clay_is_five_to_ten_parts_in_a_hundred() -> None:
    """5 to 10 % of the heap by volume (common practice; organic-gardeners-composting)."""
    assert 50.0 <= litres_of(added(), "clay") <= 100.0


def test_ash_is_about_a_cupful_to_a_foot_of_heap() -> None:
    """A heap of 1 m by 1 m has about 300 L to a foot of height; a cup is a quarter of a litre (georgia-ash-column)."""
    a_foot = litres_of(added(litres=305.0), "wood-ash")
    assert 0.2 <= a_foot <= 0.5


@pytest.mark.parametrize("have", ["1 barrow horse manure, 3 sacks dry leaves", "2 mugs blood meal", "5 L urine"])
def test_no_ash_beside_what_gives_off_ammonia(have: str) -> None:
    answer = added(have)
    assert answer.manure
    assert litres_of(answer, "wood-ash") == 0.0
    assert [one.material for one in answer.leave] == ["wood-ash"]
    assert litres_of(added("3 sacks dry leaves, 2 buckets grass clippings"), "wood-ash") > 0


def test_ash_on_hand_stays_out_of_the_plan_beside_manure() -> None:
    """With fresh manure ash drives off ammonia (georgia-ash-column): the plan and the additions say the same."""
    have = "3 barrows goat manure, 10 sacks dry leaves, 2 buckets wood ash"
    plan = consult(household_from_options(have, shipped()), shipped(), shipped_engine())
    assert any("Ash raises pH" in line.text for line in plan.lines())
    assert not any("ash: all" in line.text for line in plan.lines())
    assert any("Ash raises pH" in line.text for line in added(have).stays_out)


def test_nobody_is_asked_for_eggshells_by_the_hundred() -> None:
    """An egg's shell is 5 to 6 g (memory), some 10 mL crushed: a litre to a cubic metre is a hundred eggs."""
    assert litres_of(added(litres=1000.0), "eggshells") <= 1.0


@pytest.mark.parametrize("litres", [5.0, 20.0, 50.0, 85.0, 170.0, 300.0, 500.0, 1000.0, 5000.0])
def test_an_amount_in_words_and_its_litres_tell_of_the_same(litres: float) -> None:
    for one in added(litres=litres).every():
        if one.litres <= 0:
            continue
        words = one.line.text.split(": ", 1)[1].split(" (")[0]
        teaspoon = shipped().measures["teaspoon"].litres
        if words in ("a pinch", "a dash"):
            assert one.litres < teaspoon.typical, one.line.text
            continue
        read = read_phrase(words, shipped())
        assert read.quantity is not None, words
        size = shipped().measures[read.quantity.measure].litres
        assert read.quantity.count * size.low <= one.litres <= read.quantity.count * size.high, one.line.text


def test_herbs_are_counted_by_the_handful_and_bucket_and_the_lines_in_order() -> None:
    answer = added(litres=500.0)
    for one in answer.herbs:
        assert {"handful", "handfuls", "bucket", "tablespoons"} & set(one.line.text.replace("(", " ").split())
    names = [one.line.id for one in answer.every()]
    assert names == [f"a{number}" for number in range(1, len(names) + 1)]


def test_the_evidence_is_said_and_tradition_promises_nothing() -> None:
    for one in added().every():
        grade = {"measured": "measured", "guidance": "published guidance", "tradition": "no trial that we know shows"}
        if one.litres > 0:
            assert grade[one.evidence] in one.line.text
    by_name = {one.material: one.evidence for one in added().every()}
    assert by_name["yarrow"] == by_name["rock-dust"] == "tradition"


def test_what_could_hurt_is_minded() -> None:
    said = {one.material: " ".join(line.text for line in one.mind) for one in added().every()}
    for material, word in (
        ("wood-ash", "coal"),
        ("comfrey", "skin"),
        ("yarrow", "hemlock"),
        ("bentonite", "mask"),
        ("rock-dust", "mask"),
        ("nettles", "gloves"),
    ):
        assert word in said[material]


def test_coal_ash_on_hand_is_kept_out() -> None:
    answer = added("1 bucket coal ash, 3 sacks dry leaves")
    assert any("oal" in line.text for line in answer.stays_out)


def test_a_small_comfrey_patch_serves_several_heaps() -> None:
    """A 3 by 3 ft patch serves several heaps a year (common practice)."""
    patch = next(line.text for line in added().steeping if "patch" in line.text)
    assert "4½ heaps" in patch


def test_the_plan_says_how_large_the_heap_is() -> None:
    have = "4 barrows grass clippings, 12 sacks dry leaves"
    planned = added(have, litres=None)
    assert planned.heap_litres > 200
    assert "as planned" in planned.heap.text
    assert "cubic metre" in added(litres=None).heap.text


def test_heaps_out_of_all_bounds() -> None:
    with pytest.raises(HouseholdError):
        added(litres=0.0)


def test_the_page_fits_and_every_line_has_a_reason() -> None:
    answer = added("1 barrow horse manure, 6 sacks dry leaves")
    assert max(map(len, page(answer).splitlines())) <= 80
    lines = answer.lines()
    assert len({line.id for line in lines}) == len(lines)
    assert all(line.why for line in lines)
