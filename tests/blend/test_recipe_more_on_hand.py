"""More on hand never makes a recipe worse, and a third is a third: properties of every stock."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from recipe_oracle import STEADY, STUFF, litres, offer

from advisor.blend.offers import Offer, Windows
from advisor.blend.recipe import Recipe, solve
from advisor.blend.shapes import Window

#: What rounding to handy measures may lose of what goes in, and of how near the windows come (recipe.py).
ROUND_LOSS, ROUND_MISS = 0.1, 0.01


def by_the_bucket(name: str, buckets: float, **more: object) -> Offer:
    """As the program offers it: halves up to eight, whole ones above, and sixteenths where those are too coarse."""
    return offer(name, buckets, 11.0, 0.5 if buckets <= 8 else 1.0, finest=1 / 16, **more)


def stocks() -> st.SearchStrategy[list[Offer]]:
    amounts = st.dictionaries(st.sampled_from(sorted(STUFF)), st.integers(1, 240).map(lambda n: n / 4), max_size=4)
    capped = st.sets(st.sampled_from(["coffee", "grass", "weeds"]))
    return st.builds(
        lambda some, caps: [
            by_the_bucket(name, count, share_cap=1 / 3 if name in caps else None) for name, count in some.items()
        ],
        amounts,
        capped,
    )


def worst_of_the_mix(recipe: Recipe) -> float:
    return max((miss.short for miss in recipe.misses if miss.what not in ("share", "volume")), default=0.0)


def no_worse(after: Recipe, before: Recipe, stock: list[Offer]) -> None:
    """The mix is as near its windows, and where it is right, as much goes in of what does not keep."""
    if before.status == "nothing":
        return
    assert after.status != "nothing"
    assert before.status != "met" or after.status == "met"
    assert worst_of_the_mix(after) <= worst_of_the_mix(before) + ROUND_MISS + 1e-6
    if before.status == "met":
        spoils = [each for each in stock if each.perishable]
        of_it = litres(spoils, dict(before.counts))
        assert litres(spoils, dict(after.counts)) >= of_it * (1 - ROUND_LOSS) - 1e-6


def again(stock: list[Offer], times: float) -> list[Offer]:
    return [by_the_bucket(each.id, each.at_most * times, share_cap=each.share_cap) for each in stock]


@settings(max_examples=60, deadline=None)
@given(stocks(), st.sampled_from([2, 3, 10]))
def test_twice_as_much_of_everything_is_no_worse(stock: list[Offer], times: int) -> None:
    no_worse(solve(again(stock, times), STEADY), solve(stock, STEADY), stock)


@settings(max_examples=60, deadline=None)
@given(stocks(), st.sampled_from(sorted(STUFF)), st.integers(1, 40))
def test_one_thing_more_is_no_worse(stock: list[Offer], name: str, buckets: int) -> None:
    more = [each for each in stock if each.id != name]
    there = sum(each.at_most for each in stock if each.id == name)
    caps = [each.share_cap for each in stock if each.id == name]
    added = [*more, by_the_bucket(name, there + buckets, share_cap=caps[0] if caps else None)]
    # what spoils and is new has to go in as well, so only the mix itself is compared
    before, after = solve(stock, STEADY), solve(added, STEADY)
    no_worse(after, before, [] if STUFF[name][5] else stock)


@settings(max_examples=40, deadline=None)
@given(stocks(), st.integers(1, 40))
def test_what_is_not_needed_changes_nothing_for_the_worse(stock: list[Offer], buckets: int) -> None:
    """Wood chips keep: whoever has a mix already loses nothing by a load of them."""
    without = [each for each in stock if each.id != "chips"]
    no_worse(solve([*without, by_the_bucket("chips", buckets)], STEADY), solve(without, STEADY), without)


@pytest.mark.parametrize("buckets", [6, 8, 9, 12, 20, 40, 80])
def test_a_rich_manure_is_measured_as_finely_as_it_must_be(buckets: int) -> None:
    """Ten buckets of straw take well under a bucket of hen manure, however much more of it there is."""
    recipe = solve([by_the_bucket("hen-manure", buckets), by_the_bucket("straw", 10)], STEADY)
    assert recipe.status == "met"
    assert dict(recipe.counts)["straw"] == 10
    assert 0.25 <= dict(recipe.counts)["hen-manure"] < 2


def test_one_in_three_meets_a_third() -> None:
    """Oregon newspaper home and garden tip, Coffee grounds rev up the compost pile: two of leaves to one of grounds."""
    recipe = solve([by_the_bucket("coffee", 1, share_cap=1 / 3), by_the_bucket("leaves", 2)], STEADY)
    assert (recipe.status, dict(recipe.counts)) == ("met", {"coffee": 1.0, "leaves": 2.0})


def test_a_share_is_overstepped_and_said_rather_than_starving_the_heap() -> None:
    """Cardboard alone would have a C:N of 450; grounds bring it into its window, and make up more than a third."""
    recipe = solve([by_the_bucket("coffee", 10, share_cap=1 / 3), by_the_bucket("cardboard", 2)], STEADY)
    assert recipe.reached is not None
    assert 25 <= recipe.reached.carbon_nitrogen <= 40
    missed = [(miss.what, miss.of) for miss in recipe.misses]
    assert missed in ([], [("share", "coffee")])
    alone = solve([by_the_bucket("coffee", 10, share_cap=0.1), by_the_bucket("cardboard", 2)], STEADY)
    assert [(miss.what, miss.of) for miss in alone.misses] == [("share", "coffee")]
    assert alone.reached is not None
    assert alone.reached.carbon_nitrogen <= 40


def test_the_right_mix_comes_before_its_size() -> None:
    """A heap that must be large to be hot is not made large by what starves it."""
    large = Windows(Window(25, 30, 35), Window(45, 57, 65), Window(35, 60, 100), Window(600, 1000, 5000))
    recipe = solve([by_the_bucket("scraps", 1), by_the_bucket("leaves", 200)], large)
    assert [miss.what for miss in recipe.misses if miss.what != "volume"] == []
    assert recipe.misses[-1].what == "volume"


@settings(max_examples=40, deadline=None)
@given(stocks())
def test_round_figures_lose_next_to_nothing(stock: list[Offer]) -> None:
    told = solve(stock, STEADY)
    fine = solve([replace(each, step=each.finest or each.step) for each in stock], STEADY)
    assert told.status == fine.status
    assert worst_of_the_mix(told) <= worst_of_the_mix(fine) + ROUND_MISS + 1e-6
