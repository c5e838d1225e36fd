"""What people can lift, spend and stand, what a home can hold, and when there is too little to build with."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from told import household

from advisor.blend.shapes import Range
from advisor.counsel.consult import consult
from advisor.counsel.doubts import prospects
from advisor.counsel.plan import Plan
from advisor.heap.worms import home_bin, worm_bin
from advisor.inference.engine import Engine
from advisor.knowledge.base import Knowledge
from advisor.knowledge.load import shipped

GARDEN = {"place.space": "garden"}
HERE = Path(__file__).parent
PUBLISHED = [
    case
    for name in ("method_cases.toml", "method_cases_from_memory.toml")
    for case in tomllib.loads((HERE / name).read_text(encoding="utf-8"))["case"]
]


def plan(have: list[str], answers: dict[str, object], knowledge: Knowledge, engine: Engine) -> Plan:
    return consult(household(have, answers), knowledge, engine, with_doubts=False)


# ---------------------------------------------------------------- more on hand, through a whole consultation


@settings(max_examples=25, deadline=None)
@given(
    st.dictionaries(
        st.sampled_from(["grass clippings", "dry leaves", "straw", "coffee grounds", "hen manure", "cardboard", "hay"]),
        st.integers(1, 30),
        min_size=1,
        max_size=3,
    ),
    st.integers(2, 5),
)
def test_a_household_with_more_of_everything_gets_no_worse_a_mix(stock: dict[str, int], times: int) -> None:
    from advisor.counsel.consult import shipped_engine

    before, after = (
        plan([f"{factor * count} buckets {name}" for name, count in stock.items()], GARDEN, shipped(), shipped_engine())
        for factor in (1, times)
    )
    if before.recipe.status == "met" and before.choice.method == after.choice.method:
        assert after.recipe.status == "met"


@pytest.mark.parametrize("buckets", [6, 9, 20, 60])
def test_hen_manure_is_measured_by_the_straw_there_is(buckets: int, knowledge: Knowledge, engine: Engine) -> None:
    found = plan([f"{buckets} buckets hen manure", "10 buckets straw"], GARDEN, knowledge, engine)
    assert found.recipe.status == "met"


def test_two_to_one_of_sawdust_and_grounds_is_built(knowledge: Knowledge, engine: Engine) -> None:
    """Oregon newspaper tip: one of grounds in three. Where that starves the heap, more goes in, and it is said."""
    found = plan(["10 buckets coffee grounds", "2 buckets sawdust"], GARDEN, knowledge, engine)
    assert {line.material for line in found.recipe.lines} == {"coffee-grounds", "sawdust"}
    assert any("a third is the most that does well" in line.text for line in found.recipe.misses)


def test_what_to_fetch_can_be_got_and_would_all_be_used(knowledge: Knowledge, engine: Engine) -> None:
    found = plan([], {}, knowledge, engine)
    have = []
    for line in found.recipe.fetch:
        fetch = knowledge.materials[line.material].fetch
        assert fetch is not None
        assert line.litres <= fetch.typical * 1.2
        have.append(f"{line.count:g} {line.measure}s {line.name}")
    again = plan(have, {}, knowledge, engine)
    assert again.recipe.status == "met"
    assert not again.recipe.fetch


# ---------------------------------------------------------------- too little to build with


@pytest.mark.parametrize(
    "have",
    [
        ["1 bucket dog waste", "4 sacks sawdust"],
        ["6 sacks sawdust"],
        ["5 sacks cardboard"],
        ["1 handful coffee grounds", "1 sack sawdust"],
        [],
    ],
)
def test_not_enough_to_build_with_is_an_answer(have: list[str], knowledge: Knowledge, engine: Engine) -> None:
    found = plan(have, GARDEN, knowledge, engine)
    assert found.recipe.status == "nothing"
    assert not found.recipe.lines
    assert found.body is None
    assert found.recipe.water is None
    assert found.recipe.fetch
    assert found.recipe.misses[0].text == "There is not enough to build with yet."


def test_bare_straw_does_not_heat_however_much_there_is(knowledge: Knowledge, engine: Engine) -> None:
    """Straw at a C:N of 75 is far above the 20 to 40 printed as acceptable (The Art and Science of Composting,
    Wisconsin CIAS, 2002, Table 1)."""
    found = plan(["10 bales straw"], GARDEN, knowledge, engine)
    assert found.body is not None
    assert found.body.heats == "no"
    assert "too poor in nitrogen" in found.body.line.text
    assert not any("too small" in line.text for line in (*found.notes, found.body.line))


# ---------------------------------------------------------------- worms, rows, trenches


@given(st.floats(0.2, 500))
def test_no_worm_bin_is_larger_than_a_home_can_hold(weekly_kg: float) -> None:
    figures = shipped().figures
    most = figures["worm-bin-home-m2"].high
    home = home_bin(Range(weekly_kg, weekly_kg, weekly_kg), figures)
    assert home.bin.area_m2.typical <= most * 1.001
    assert 0 < home.share <= 1
    if worm_bin(Range(weekly_kg, weekly_kg, weekly_kg), figures).area_m2.typical <= most:
        assert home.share == 1


def test_a_box_as_the_county_prints_it_is_a_homes(knowledge: Knowledge) -> None:
    """Asotin County, Worm composting: 0.23 kg a day in a box of 60 x 90 cm."""
    weekly = 7 * 0.23
    assert home_bin(Range(weekly, weekly, weekly), knowledge.figures).share == 1


@pytest.mark.parametrize("space", ["garden", "smallholding"])
def test_manure_by_the_cubic_metre_is_a_row(space: str, knowledge: Knowledge, engine: Engine) -> None:
    """University of Minnesota Extension, Managing manure by composting: rows for what bays do not hold."""
    found = plan(["5 m3 cow manure", "2 bales hay"], {"place.space": space}, knowledge, engine)
    assert found.choice.method == "windrow"
    assert any(line.material == "cow-manure" for line in found.recipe.lines)
    assert found.recipe.fetch
    rotted = plan(["20 m3 horse manure with straw"], {"place.space": space}, knowledge, engine)
    assert rotted.choice.method == "windrow"
    assert sum(line.litres for line in rotted.recipe.lines) >= 18_000


DIGS = {"place.digging": "yes", "place.space": "small-garden"}


@pytest.mark.parametrize("money", ["none", "little"])
def test_with_ground_and_little_money_scraps_go_in_a_trench(money: str, knowledge: Knowledge, engine: Engine) -> None:
    """Seattle Public Utilities and Organic Gardener's Composting (1993): a trench costs nothing but the digging."""
    found = plan(["20 L kitchen scraps a week"], {**DIGS, "wish.money": money}, knowledge, engine)
    assert found.choice.method == "trench"


def test_in_a_garden_plain_scraps_are_buried(knowledge: Knowledge, engine: Engine) -> None:
    found = plan(["20 L kitchen scraps a week"], {**DIGS, "place.space": "garden"}, knowledge, engine)
    assert found.choice.method == "trench"


# ---------------------------------------------------------------- strength, absence, likes, rats


def turned(found: Plan) -> list[str]:
    return [event.line.text for event in found.events if event.line.text.startswith("Turn it (")]


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from(["garden", "small-garden", "smallholding"]),
    st.sampled_from(["quick", "steady", "least-work", "fungal"]),
    st.sampled_from(["20 buckets horse manure", "20 buckets grass clippings", "1 bucket kitchen scraps a week"]),
)
def test_a_bad_back_turns_nothing(space: str, aim: str, rich: str) -> None:
    from advisor.counsel.consult import shipped_engine

    told = {"place.space": space, "wish.aim": aim, "household.strength": "weak"}
    found = plan([rich, "10 sacks dry leaves"], told, shipped(), shipped_engine())
    assert not turned(found)
    assert found.choice.method not in ("windrow", "trench")
    assert any("half a bucket" in line.text for line in found.cautions)


def test_what_was_told_of_turning_counts_more_than_what_follows(knowledge: Knowledge, engine: Engine) -> None:
    told = {**GARDEN, "household.strength": "weak", "wish.turning": "monthly", "wish.aim": "steady"}
    assert turned(plan(["20 buckets horse manure", "10 sacks dry leaves"], told, knowledge, engine))


def test_what_is_taken_when_said_is_never_asked(knowledge: Knowledge, engine: Engine) -> None:
    asked = {each.question.attribute for each in prospects(household([], GARDEN), knowledge, engine)}
    assert not asked & {"place.tools", "wish.money", "wish.away", "wish.without", "household.strength"}
    weak = household([], {**GARDEN, "household.strength": "weak"})
    assert "wish.turning" not in {each.question.attribute for each in prospects(weak, knowledge, engine)}


def test_no_worms_and_nothing_from_animals(knowledge: Knowledge, engine: Engine) -> None:
    flat = {"place.space": "flat", "wish.without": "worms"}
    found = plan(["4 L vegetable peelings a week"], flat, knowledge, engine)
    assert found.choice.method != "worm-bin"
    assert next(one for one in found.choice.ranking if one.method == "worm-bin").ruled_out
    stuff = ["20 buckets horse manure", "2 buckets feathers", "10 sacks dry leaves", "1 bucket grass clippings"]
    found = plan(stuff, {**GARDEN, "wish.without": "animals"}, knowledge, engine)
    used = {line.material for line in (*found.recipe.lines, *found.recipe.fetch)}
    assert not {name for name in used if "animal" in knowledge.materials[name].traits}
    assert len(found.stays_out) == 2


@pytest.mark.parametrize("grain", ["stale cereal", "bread", "nuts"])
def test_grain_and_bread_stay_out_where_there_are_rats(grain: str, knowledge: Knowledge, engine: Engine) -> None:
    """Test Valley Borough Council, Controlling rats and mice: no bread; what rats eat first draws them to any bin."""
    found = plan([f"1 bucket {grain}", "4 sacks dry leaves"], {**GARDEN, "place.pests": "rats"}, knowledge, engine)
    assert found.stays_out


# ---------------------------------------------------------------- reasons


@pytest.mark.parametrize("case", PUBLISHED, ids=[case["id"] for case in PUBLISHED])
def test_reasons_speak_for_their_method_and_are_said_once(case: dict, knowledge: Knowledge, engine: Engine) -> None:
    choice = plan(case["have"], case["answers"], knowledge, engine).choice
    if choice.runner_up is None or choice.runner_up_line is None:
        return
    weights = {
        one.method: {why.because: why.statement for why in one.why} for one in (*choice.ranking, choice.runner_up)
    }
    line, second = choice.line.text, choice.runner_up_line.text
    for because in (text for text in weights[choice.method] if text and text in line):
        assert because not in second
    tipped = second.partition("What tipped it")[2]
    for because, said in weights[choice.method].items():
        if because and because in tipped:
            assert "+" in said
    for because, said in weights[choice.runner_up.method].items():
        if because and because in second.partition("What tipped it")[0]:
            assert "+" in said


def test_nothing_known_is_no_contradiction(knowledge: Knowledge, engine: Engine) -> None:
    found = plan([], {}, knowledge, engine)
    assert found.recipe.water is None
    quick = plan([], {"wish.aim": "quick", "wish.turning": "often"}, knowledge, engine)
    weeks = knowledge.figures["weeks-hot-heap"]
    assert f"{weeks.typical:g} weeks" in quick.ready.text
    small = plan(
        ["3 buckets grass clippings", "8 buckets dry leaves"],
        {**GARDEN, "wish.aim": "quick", "wish.turning": "often"},
        knowledge,
        engine,
    )
    assert f"{knowledge.figures['weeks-small-turned-heap'].typical:g} weeks" in small.ready.text
