"""What holds of every recipe, whatever is on hand."""

from __future__ import annotations

import math
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from recipe_oracle import HOT, STEADY, STUFF, litres, offer, sums

from advisor.blend.offers import Offer, Windows
from advisor.blend.recipe import Recipe, solve
from advisor.blend.shapes import Composition, Window


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False).map(lambda value: float(f"{value:.4g}"))


def compositions() -> st.SearchStrategy[Composition]:
    """Anything from lime and urine to sawdust and urea, with nothing of this or that."""
    return st.builds(
        Composition,
        nitrogen_pct=st.sampled_from([0.0, 46.0]) | numbers(0.05, 8),
        carbon_pct=st.just(0.0) | numbers(20, 55),
        moisture_pct=st.sampled_from([0.0, 100.0]) | numbers(5, 95),
        density_kg_m3=numbers(20, 1500),
        ash_pct=numbers(0, 60),
    )


def stocks(most: int = 5) -> st.SearchStrategy[list[Offer]]:
    one = st.builds(
        Offer,
        id=st.sampled_from(["ash", "bran", "clover", "dung", "eggshells", "ferns"]),
        composition=compositions(),
        unit_l=st.sampled_from([1.0, 5.0, 11.0, 60.0, 80.0]),
        at_most=numbers(0, 40),
        step=st.sampled_from([0.5, 1.0]),
        perishable=st.booleans(),
        storable=st.booleans(),
        share_cap=st.none() | numbers(0, 1),
        group=st.sampled_from(["", "woody"]),
        preference=st.sampled_from([0.0, 0.0, 1.0]),
    )
    return st.lists(one, max_size=most, unique_by=lambda offer: offer.id)


def garden_stocks() -> st.SearchStrategy[list[Offer]]:
    """What a garden has, in plenty, so that most windows can be met."""
    amounts = st.dictionaries(st.sampled_from(sorted(STUFF)), numbers(0.5, 60), min_size=1, max_size=4)
    plenty = st.fixed_dictionaries({"leaves": numbers(20, 90), "grass": numbers(0.5, 30)})
    return st.builds(
        lambda some, rest, unit_l, step: [offer(name, most, unit_l, step) for name, most in {**rest, **some}.items()],
        plenty,
        amounts,
        st.sampled_from([5.0, 11.0, 80.0]),
        st.sampled_from([0.5, 1.0]),
    )


def windows() -> st.SearchStrategy[Windows]:
    size = st.none() | st.lists(st.integers(0, 3000), min_size=3, max_size=3).map(lambda edges: Window(*sorted(edges)))
    return st.builds(
        lambda kind, volume, lean: replace(kind, volume_l=volume, **dict.fromkeys(lean)),
        st.sampled_from([HOT, STEADY]),
        size,
        st.sets(st.sampled_from(["carbon_nitrogen", "moisture", "air_space"]), max_size=2),
    )


@settings(max_examples=150)
@given(stocks() | garden_stocks(), windows(), st.booleans())
def test_a_met_recipe_lies_in_every_window(stock: list[Offer], wanted: Windows, water: bool) -> None:
    recipe = solve(stock, wanted, water=water, group_caps={"woody": 0.7})
    if recipe.status == "met":
        lies_in_every_window(recipe, stock, wanted)
        assert not recipe.misses


def lies_in_every_window(recipe: Recipe, stock: list[Offer], wanted: Windows) -> None:
    counts = dict(recipe.counts)
    mix = sums(stock, counts)
    values = {
        "carbon_nitrogen": mix.carbon_nitrogen(),
        "moisture": mix.moisture(recipe.water_l),
        "air_space": mix.air(recipe.water_l),
        "volume_l": mix.volume,
    }
    for name, value in values.items():
        window = getattr(wanted, name)
        if window is not None:
            assert window.low - 1e-6 * max(1, window.low) <= value <= window.high + 1e-6 * max(1, window.high), name
    for each in stock:
        if each.share_cap is not None:
            assert litres([each], counts) <= each.share_cap * mix.volume + 1e-6
    woody = litres([each for each in stock if each.group == "woody"], counts)
    assert woody <= 0.7 * mix.volume + 1e-6


@settings(max_examples=150)
@given(stocks(), windows(), st.booleans())
def test_a_recipe_uses_whole_steps_of_what_there_is_and_fits_the_room(
    stock: list[Offer], wanted: Windows, water: bool
) -> None:
    recipe = solve(stock, wanted, water=water)
    counts = dict(recipe.counts)
    there_is = {each.id: each for each in stock}
    for name, measures in recipe.counts:
        assert 0 < measures <= there_is[name].at_most + 1e-9
        assert measures / there_is[name].step == int(measures / there_is[name].step)
    if wanted.volume_l is not None:
        assert litres(stock, counts) <= wanted.volume_l.high + 1e-6
    assert not any(there_is[name].share_cap == 0 for name in counts)
    for name, measures in recipe.left_over:
        assert math.isclose(measures, there_is[name].at_most - counts.get(name, 0.0), abs_tol=1e-6)
    assert recipe.water_l >= 0
    assert recipe.water_l == 0 or (water and wanted.moisture is not None)


@settings(max_examples=150)
@given(stocks(), windows())
def test_what_it_says_it_comes_to_and_what_it_misses_are_true(stock: list[Offer], wanted: Windows) -> None:
    recipe = solve(stock, wanted)
    if recipe.reached is None:
        assert recipe.status == "nothing"
        assert not recipe.counts
        return
    mix = sums(stock, dict(recipe.counts))
    reached = recipe.reached
    assert math.isclose(reached.carbon_nitrogen, mix.carbon_nitrogen(), rel_tol=1e-9, abs_tol=1e-9)
    assert math.isclose(reached.moisture_pct, mix.moisture(recipe.water_l), rel_tol=1e-9, abs_tol=1e-9)
    assert math.isclose(reached.moisture_before_pct, mix.moisture(0.0), rel_tol=1e-9, abs_tol=1e-9)
    assert math.isclose(reached.air_space_pct, max(0.0, mix.air(recipe.water_l)), rel_tol=1e-9, abs_tol=1e-9)
    assert math.isclose(reached.volume_l, mix.volume, rel_tol=1e-9)
    assert (recipe.status == "nearest") == bool(recipe.misses)
    for miss in recipe.misses:
        edge = miss.window.low if miss.value < miss.window.low else miss.window.high
        assert abs(miss.value - edge) == miss.by > 0
        assert (miss.value < edge) == (miss.lack in ("carbon", "water", "air", "volume"))


@settings(max_examples=75)
@given(st.data(), windows())
def test_the_order_in_which_things_are_told_makes_no_difference(data: st.DataObject, wanted: Windows) -> None:
    stock = data.draw(stocks() | garden_stocks())
    shuffled = data.draw(st.permutations(stock))
    nothing_of_it = Offer("zzz", Composition(3, 45, 60, 300), 11, 0.4)
    assert solve(stock, wanted) == solve(shuffled, wanted)
    assert solve([*stock, replace(nothing_of_it, at_most=0.0)], wanted) == solve(stock, wanted)


@settings(max_examples=75)
@given(stocks(4) | garden_stocks(), windows(), st.integers(2, 5))
def test_what_can_be_met_can_be_met_with_more_of_everything(stock: list[Offer], wanted: Windows, times: int) -> None:
    if solve(stock, wanted).status != "met":
        return
    size = wanted.volume_l
    larger = replace(wanted, volume_l=size and Window(size.low * times, size.aim * times, size.high * times))
    more = [replace(each, at_most=each.at_most * times) for each in stock]
    assert solve(more, larger).status == "met"
