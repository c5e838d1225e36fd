"""The shopping list: no fewer kinds would do, and no fewer litres of them."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest
from recipe_oracle import HOT, STEADY, STUFF, Milp, edges, litres, offer, some_stock

from advisor.blend.offers import Offer, Windows
from advisor.blend.recipe import solve
from advisor.blend.shapes import Window
from advisor.errors import HouseholdError


def near(stock: list[Offer]) -> list[Offer]:
    there = {each.id for each in stock}
    amounts = {"leaves": 40, "straw": 20, "coffee": 20, "horse-manure": 30, "grass": 40, "cardboard": 15}
    return [offer(name, amount, step=0.5) for name, amount in amounts.items() if name not in there]


def lacking_stock(seed: int) -> tuple[list[Offer], Windows]:
    """A stock with which the windows are seldom met: all of a kind."""
    stock, windows = some_stock(3000 + seed, kinds=(2, 4), at_most=12)
    stock = [replace(each, share_cap=None) for each in stock if each.storable == (seed % 2 == 0)]
    return stock, replace(windows, volume_l=windows.volume_l and Window(0, 500, 1000))


def least_of(
    stock: list[Offer], extra: list[Offer], windows: Windows, spoils_l: float, size_l: float
) -> tuple[float, float, float] | None:
    """As scipy has it: how much of what does not keep goes in, how large the heap is (both up to what the recipe
    without fetching comes to), and the fewest litres fetched for that."""
    there = Milp([*stock, *extra], 1e5)
    there.windows(windows, edges(windows))
    volume = there.per_step("volume")
    fetched = volume * np.array([each in extra for each in there.stock])
    spoils = volume * np.array([each not in extra and not each.storable for each in there.stock])
    if there.least(0.0) is None:
        return None
    used, size = f"c{there.column(spoils_l)}", f"c{there.column(size_l)}"
    there.keep(-spoils, 0.0, **{used: 1.0})
    there.keep(-volume, 0.0, **{size: 1.0})
    kept_in = there.least_then_held(0.0, **{used: -1.0})
    reached = there.least_then_held(0.0, **{size: -1.0})
    least = there.least_then_held(fetched)
    assert kept_in is not None
    assert reached is not None
    assert least is not None
    return kept_in, reached, least


@pytest.mark.parametrize("seed", range(40))
def test_the_list_is_the_shortest_there_is(seed: int) -> None:
    stock, windows = lacking_stock(seed)
    choice = near(stock)
    recipe = solve(stock, windows, fetchable=choice)
    if recipe.status == "met" or not recipe.counts:
        return
    counts = dict(recipe.counts)
    spoils_l = litres([each for each in stock if not each.storable], counts)
    size_l = litres(stock, counts)

    def possible(kinds: int) -> list[tuple[float, float, float]]:
        lists = (
            least_of(stock, list(some), windows, spoils_l, size_l) for some in itertools.combinations(choice, kinds)
        )
        return [each for each in lists if each is not None]

    if not recipe.fetch:
        assert not possible(len(choice))
        return
    for fewer in range(len(recipe.fetch)):
        assert not possible(fewer)
    *_, least = min(possible(len(recipe.fetch)), key=lambda each: (*np.round(each[:2], 3), each[2]))
    after = recipe.with_fetch
    assert after is not None
    assert litres(choice, dict(recipe.fetch)) == pytest.approx(least, abs=1e-3)
    assert after.status == "met"
    assert dict(recipe.fetch).items() <= dict(after.counts).items()  # all that is fetched goes in


def test_the_lists_looked_at_are_of_one_and_of_two_kinds() -> None:
    lengths = set()
    for seed in range(40):
        stock, windows = lacking_stock(seed)
        lengths.add(len(solve(stock, windows, fetchable=near(stock)).fetch))
    assert {0, 1, 2} <= lengths


def test_leaves_alone_want_something_rich() -> None:
    recipe = solve([offer("leaves", 60)], HOT, fetchable=near([offer("leaves", 60)]))
    assert recipe.status == "nearest"
    assert [name for name, _ in recipe.fetch] in (["coffee"], ["grass"], ["horse-manure"])


def test_grass_alone_wants_something_dry_and_all_of_it_goes_in() -> None:
    recipe = solve([offer("grass", 20)], STEADY, fetchable=[offer("leaves", 60), offer("coffee", 20)])
    assert [name for name, _ in recipe.fetch] == ["leaves"]
    assert recipe.with_fetch is not None
    assert dict(recipe.with_fetch.counts)["grass"] == 20


def test_what_is_on_hand_may_also_be_fetched() -> None:
    recipe = solve([offer("grass", 20), offer("leaves", 3)], HOT, fetchable=[offer("leaves", 200)])
    (name, more), *rest = recipe.fetch
    assert (name, rest) == ("leaves", [])
    assert recipe.with_fetch is not None
    assert dict(recipe.with_fetch.counts)["leaves"] == 3 + more


def test_more_of_the_same_in_another_measure_is_refused() -> None:
    with pytest.raises(HouseholdError, match=r"^leaves: .*one measure.*own id"):
        solve([offer("leaves", 3)], HOT, fetchable=[offer("leaves", 20, unit_l=60)])


def test_with_nothing_on_hand_the_list_makes_a_heap_of_the_size_aimed_at() -> None:
    recipe = solve([], HOT, fetchable=[offer(name, 100) for name in STUFF])
    assert recipe.status == "nothing"
    assert recipe.with_fetch is not None
    assert recipe.with_fetch.reached is not None
    assert recipe.with_fetch.reached.volume_l == pytest.approx(1000, abs=10)


def test_nothing_is_fetched_for_a_recipe_that_is_met_unless_it_uses_up_what_spoils() -> None:
    stock = [offer("grass", 60), offer("leaves", 3)]
    choice = [offer("straw", 60), offer("coffee", 60)]
    met = solve(stock, STEADY, fetchable=choice)
    assert met.status == "met"
    assert not met.fetch
    used = solve(stock, STEADY, fetchable=choice, use_up=True)
    assert [name for name, _ in used.fetch] == ["straw"]
    assert used.with_fetch is not None
    assert dict(used.with_fetch.counts)["grass"] > dict(met.counts)["grass"]


def test_of_two_things_that_would_do_the_smaller_load_is_fetched() -> None:
    bulky, dense = replace(offer("straw", 60), id="a-straw"), replace(offer("straw", 60), id="z-straw")
    dense = replace(dense, composition=replace(dense.composition, density_kg_m3=72))
    recipe = solve([offer("grass", 20)], STEADY, fetchable=[bulky, dense])
    assert [name for name, _ in recipe.fetch] == ["z-straw"]


def test_what_is_fetched_for_a_heap_of_browns_makes_it_no_smaller() -> None:
    windows = replace(STEADY, volume_l=None)
    recipe = solve([offer("leaves", 40)], windows, fetchable=[offer("coffee", 20)])
    assert recipe.with_fetch is not None
    assert recipe.reached is not None
    assert recipe.with_fetch.reached is not None
    assert recipe.with_fetch.reached.volume_l >= recipe.reached.volume_l


def test_among_equals_the_preferred_is_fetched() -> None:
    straw = offer("straw", 60)
    twins = [replace(straw, id="barley-straw"), replace(straw, id="wheat-straw", preference=1.0)]
    recipe = solve([offer("grass", 20)], STEADY, fetchable=twins)
    assert [name for name, _ in recipe.fetch] == ["wheat-straw"]
