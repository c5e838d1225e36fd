"""Stocks at the edge of sense, and what is said of them."""

from __future__ import annotations

import math
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from recipe_oracle import HOT, STEADY, STUFF, offer

import advisor
from advisor.blend.offers import Offer, Windows
from advisor.blend.recipe import Hold, solve
from advisor.blend.shapes import Composition, Window
from advisor.errors import HouseholdError, RuleBaseError


def room(litres: float) -> Windows:
    return replace(STEADY, volume_l=Window(0, litres, litres))


# ---------------------------------------------------------------- little, or nothing


def test_nothing_on_offer_makes_nothing() -> None:
    recipe = solve([], HOT)
    assert (recipe.status, recipe.counts, recipe.reached, recipe.water_l) == ("nothing", (), None, 0.0)


def test_less_than_a_step_is_nothing() -> None:
    recipe = solve([offer("grass", 0.4, step=0.5)], HOT)
    assert recipe.status == "nothing"
    assert recipe.left_over == (("grass", 0.4),)


@pytest.mark.parametrize("stuff", [Composition(0, 0, 100, 1000), Composition(0, 0, 5, 1000, 95)], ids=["water", "lime"])
def test_what_microbes_cannot_eat_is_no_heap(stuff: Composition) -> None:
    assert solve([Offer("stuff", stuff, 10, 5)], HOT).status == "nothing"


def test_halves_are_used_where_they_make_sense() -> None:
    halves = [offer("scraps", 1.5, step=0.5), offer("leaves", 3.7, step=0.5)]
    assert dict(solve(halves, STEADY).counts) == {"leaves": 3.5, "scraps": 1.5}
    wholes = [replace(each, step=1.0) for each in halves]
    assert dict(solve(wholes, STEADY).counts) == {"leaves": 3, "scraps": 1}


# ---------------------------------------------------------------- none of this or that


def test_without_any_nitrogen_it_lacks_nitrogen() -> None:
    recipe = solve([Offer("paper", Composition(0, 45, 8, 60), 10, 5)], HOT)
    assert recipe.reached is not None
    assert recipe.reached.carbon_nitrogen == math.inf
    assert recipe.short_of == ("nitrogen", "volume")


def test_without_any_carbon_it_lacks_carbon() -> None:
    recipe = solve([Offer("salts", Composition(21, 0, 0, 900), 1, 2)], HOT)
    assert recipe.reached is not None
    assert recipe.reached.carbon_nitrogen == 0
    assert "carbon" in recipe.short_of


def test_without_water_to_add_dry_stuff_stays_dry() -> None:
    recipe = solve([offer("hay", 80)], HOT, water=False)
    assert recipe.water_l == 0
    assert recipe.short_of == ("water",)


def test_without_windows_all_of_it_is_used() -> None:
    stock = [offer("leaves", 7), offer("straw", 3)]
    recipe = solve(stock, Windows())
    assert (recipe.status, dict(recipe.counts)) == ("met", {"leaves": 7, "straw": 3})


# ---------------------------------------------------------------- what goes in, and what stays out


def test_what_spoils_goes_in_first() -> None:
    hay = offer("hay", 10)
    stock = [replace(hay, id="a-hay"), replace(hay, id="b-hay", perishable=True)]
    assert dict(solve(stock, room(100)).counts) == {"b-hay": 10}


def test_browns_that_are_not_needed_are_kept_back() -> None:
    recipe = solve([offer("grass", 10), offer("leaves", 100)], replace(STEADY, volume_l=Window(0, 100, 2000)))
    counts = dict(recipe.counts)
    assert counts["grass"] == 10
    assert counts["leaves"] < 30
    assert dict(recipe.left_over) == {"leaves": 100 - counts["leaves"]}
    assert recipe.binding == ()
    assert recipe.short_of == ()


def test_of_two_browns_the_one_that_takes_less_keeping_is_used() -> None:
    bulky, dense = replace(offer("straw", 40), id="a-straw"), replace(offer("straw", 40), id="z-straw")
    dense = replace(dense, composition=replace(dense.composition, density_kg_m3=78))
    ratio_only = Windows(STEADY.carbon_nitrogen)
    either = solve([offer("grass", 10), bulky, dense], ratio_only)
    only_dense = solve([offer("grass", 10), dense], ratio_only)
    only_bulky = solve([offer("grass", 10), bulky], ratio_only)
    used = [sum(measures for _, measures in recipe.counts) for recipe in (either, only_dense, only_bulky)]
    assert used[0] == used[1] < used[2]


def test_of_two_browns_the_one_that_takes_less_water_is_used() -> None:
    dry, damp = replace(offer("straw", 40), id="a-straw"), replace(offer("straw", 40), id="z-straw")
    dry = replace(dry, composition=replace(dry.composition, moisture_pct=5, density_kg_m3=57 / 0.95))
    damp = replace(damp, composition=replace(damp.composition, moisture_pct=15, density_kg_m3=57 / 0.85))
    recipe = solve([offer("grass", 10), dry, damp], replace(STEADY, volume_l=Window(0, 400, 1000)))
    assert recipe.water_l > 0
    assert "a-straw" not in dict(recipe.counts)


def test_browns_are_used_to_reach_the_size_aimed_at() -> None:
    recipe = solve([offer("grass", 30), offer("leaves", 200)], STEADY)
    assert recipe.reached is not None
    assert recipe.reached.volume_l == pytest.approx(1000)


def test_only_what_fits_the_room_is_used() -> None:
    recipe = solve([offer("hay", 50)], room(123))
    assert dict(recipe.counts) == {"hay": 12}
    assert recipe.binding == (Hold("hay", "room"),)
    assert recipe.short_of == ("room",)


def test_a_room_smaller_than_one_measure_holds_nothing() -> None:
    recipe = solve([offer("hay", 50)], room(5))
    assert (recipe.status, recipe.counts) == ("nothing", ())
    assert recipe.short_of == ("room",)


def test_what_held_it_back_is_told() -> None:
    recipe = solve([offer("grass", 60), offer("leaves", 10)], STEADY)
    assert recipe.status == "met"
    assert {hold.offer for hold in recipe.binding} == {"grass"}
    assert {hold.lack for hold in recipe.binding} <= {"dryness", "carbon"}


def test_water_is_added_up_to_the_aim() -> None:
    recipe = solve([offer("hay", 20)], STEADY)
    assert recipe.reached is not None
    assert recipe.reached.moisture_before_pct == pytest.approx(12)
    assert recipe.reached.moisture_pct == pytest.approx(57)


# ---------------------------------------------------------------- shares


def test_no_more_of_a_thing_than_its_share() -> None:
    stock = [offer("coffee", 30, share_cap=0.2), offer("leaves", 60)]
    recipe = solve(stock, replace(STEADY, carbon_nitrogen=Window(20, 30, 50)))
    counts = dict(recipe.counts)
    assert counts["coffee"] / (counts["coffee"] + counts["leaves"]) <= 0.2
    assert Hold("coffee", "share", "coffee") in recipe.binding


def test_a_group_shares_its_cap() -> None:
    stock = [offer("chips", 10, group="woody"), offer("cardboard", 10, group="woody"), offer("grass", 30)]
    free = dict(solve(stock, Windows()).counts)
    assert free == {"grass": 30}  # kept back: no size asks for them
    larger = Windows(volume_l=Window(0, 500, 500))
    capped = dict(solve(stock, larger, group_caps={"woody": 0.25}).counts)
    woody = capped.get("chips", 0) + capped.get("cardboard", 0)
    assert woody == 10
    assert capped["grass"] == 30


def test_a_share_that_nothing_could_keep_to_is_told_as_missed() -> None:
    recipe = solve([offer("grass", 10, share_cap=0.4)], STEADY)
    assert dict(recipe.counts) == {"grass": 10}
    missed = [(miss.what, miss.of, miss.value, miss.window.high) for miss in recipe.misses if miss.what == "share"]
    assert missed == [("share", "grass", 100.0, 40.0)]


def test_a_share_of_nothing_keeps_it_out_whatever_else_there_is() -> None:
    assert solve([offer("grass", 10, share_cap=0.0)], STEADY).status == "nothing"
    barred = solve([offer("grass", 10, group="out")], STEADY, group_caps={"out": 0.0})
    assert barred.status == "nothing"


# ---------------------------------------------------------------- always the same


def test_between_twins_the_preferred_is_used_and_else_the_first_by_name() -> None:
    straw = offer("straw", 20)
    stock = [offer("grass", 10), replace(straw, id="a-straw"), replace(straw, id="b-straw")]
    small = replace(STEADY, volume_l=Window(0, 100, 1000))
    assert "b-straw" not in dict(solve(stock, small).counts)
    stock[2] = replace(stock[2], preference=1.0)
    assert "a-straw" not in dict(solve(stock, small).counts)


def test_a_large_and_varied_stock_is_no_trouble() -> None:
    stock = [offer(name, 500, unit_l=7.3 + number) for number, name in enumerate(STUFF)]
    large = replace(HOT, volume_l=Window(600, 30_000, 40_000))
    recipe = solve(stock, large)
    assert recipe.status == "met"
    assert recipe == solve(stock[::-1], large)


# ---------------------------------------------------------------- what is refused


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"at_most": 1e9}, "grass: amount of 1e+09 measures"),
        ({"at_most": math.nan}, "grass: amount of nan measures"),
        ({"at_most": -1.0}, "grass: amount of -1 measures"),
        ({"unit_l": 0.0}, "grass: measure of 0 litres"),
        ({"unit_l": math.inf}, "grass: measure of inf litres"),
        ({"step": 0.0}, "grass: step of 0 of a measure"),
        ({"share_cap": 40.0}, "grass: share cap of 40 of the heap"),
        ({"composition": Composition(3, 51, 182, 210)}, "grass: moisture of 182 %"),
        ({"composition": Composition(3, 151, 82, 210)}, "grass: carbon of 151 %"),
        ({"composition": Composition(3, 51, 82, 0)}, "grass: density of 0 kg/m3"),
    ],
)
def test_absurd_amounts_are_refused(change: dict[str, object], said: str) -> None:
    with pytest.raises(HouseholdError) as caught:
        solve([replace(offer("grass", 3), **change)], HOT)  # type: ignore[arg-type]
    assert str(caught.value).startswith(said)
    assert "it lies between" in caught.value.hint


def test_one_thing_offered_twice_is_refused() -> None:
    with pytest.raises(HouseholdError, match=r"^grass: it is offered twice"):
        solve([offer("grass", 3), offer("grass", 4)], HOT)


@pytest.mark.parametrize(
    ("windows", "said"),
    [
        (Windows(carbon_nitrogen=Window(35, 30, 25)), "target carbon-nitrogen: needs 0 <= low <= aim <= high"),
        (Windows(volume_l=Window(0, 10, math.inf)), "target volume: needs 0 <= low <= aim <= high"),
        (Windows(moisture=Window(45, 57, 165)), "target moisture: is in %"),
    ],
)
def test_windows_out_of_order_are_refused(windows: Windows, said: str) -> None:
    with pytest.raises(RuleBaseError, match=f"^{said}"):
        solve([offer("grass", 3)], windows)


def test_a_cap_in_percent_is_refused() -> None:
    with pytest.raises(RuleBaseError, match="cap of woody: a share lies between 0 and 1, not 30"):
        solve([offer("grass", 3)], HOT, group_caps={"woody": 30})


# ---------------------------------------------------------------- loading


def run(code: str) -> str:
    folder = str(Path(advisor.__file__).parent.parent)
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONPATH": folder},
    )
    return done.stdout + done.stderr


def test_the_solver_is_loaded_only_when_a_recipe_is_asked_for() -> None:
    assert run("import advisor.blend.recipe, sys; print('highspy' in sys.modules)").strip() == "False"


def test_another_user_of_the_solver_in_the_same_process_does_not_spoil_the_recipe() -> None:
    code = (
        "import highspy\n"
        "other = highspy.Highs()\n"
        "other.setOptionValue('output_flag', False)\n"
        "other.setOptionValue('threads', 2)\n"
        "other.addCol(1, 0, 5, 0, [], [])\n"
        "other.run()\n"
        "from advisor.blend.offers import Offer, Windows\n"
        "from advisor.blend.recipe import solve\n"
        "from advisor.blend.shapes import Composition, Window\n"
        "print(solve([Offer('hay', Composition(1.5, 45, 12, 80), 10, 5)], Windows(Window(20, 25, 40))).counts)"
    )
    assert run(code).endswith("(('hay', 5.0),)\n")


def test_the_solver_says_nothing_on_the_screen() -> None:
    code = (
        "from advisor.blend.offers import Offer, Windows\n"
        "from advisor.blend.recipe import solve\n"
        "from advisor.blend.shapes import Composition, Window\n"
        "solve([Offer('hay', Composition(1.5, 45, 12, 80), 10, 5)], Windows(Window(20, 25, 28)))"
    )
    assert run(code) == ""
