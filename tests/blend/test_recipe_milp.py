"""Against scipy, which is given the same programs, built here from the definitions."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from recipe_oracle import (
    CLOSE_CARBON_NITROGEN,
    CLOSE_MOISTURE_PCT,
    Milp,
    edges,
    litres,
    most_water,
    some_stock,
    straying,
    sums,
    used_up,
    widened,
)

from advisor.blend.offers import Offer, Windows
from advisor.blend.recipe import Recipe, solve


def stock_of(seed: int) -> tuple[list[Offer], Windows]:
    return some_stock(1000 + seed, kinds=(2, 6), at_most=20)


def program(stock: list[Offer], windows: Windows) -> Milp:
    return Milp(stock, most_water(stock, windows))


def within_the_windows(stock: list[Offer], windows: Windows) -> bool:
    there = program(stock, windows)
    there.windows(windows, edges(windows))
    return there.least(0.0) is not None


@pytest.mark.parametrize("seed", range(150))
def test_a_recipe_meets_the_windows_whenever_any_mix_does(seed: int) -> None:
    stock, windows = stock_of(seed)
    assert (solve(stock, windows).status == "met") == within_the_windows(stock, windows)


@pytest.mark.parametrize("seed", range(150))
def test_every_wish_is_granted_as_far_as_the_earlier_ones_let_it(seed: int) -> None:
    stock, windows = stock_of(seed)
    recipe = solve(stock, windows)
    if recipe.status != "met":
        return
    for name, reached, best in zip(WISHES, granted(recipe, stock, windows), wished(stock, windows), strict=True):
        assert reached == pytest.approx(best, rel=1e-5, abs=1e-4), name


WISHES = ("spoiling litres", "litres not to be kept", "size", "straying", "litres kept")


def granted(recipe: Recipe, stock: list[Offer], windows: Windows) -> list[float]:
    """How far the recipe grants each wish, by plain sums."""
    counts = dict(recipe.counts)
    use = used_up(stock, windows)
    size = windows.volume_l.aim if windows.volume_l else 0.0
    return [
        litres([each for each in stock if each.perishable], counts),
        litres(use, counts),
        min(size, litres(stock, counts)),
        straying(stock, windows, sums(stock, counts), recipe.water_l),
        litres([each for each in stock if each not in use], counts),
    ]


def wished(stock: list[Offer], windows: Windows) -> list[float]:
    """How far each wish can be granted, one after another."""
    there = program(stock, windows)
    there.windows(windows, edges(windows))
    volume, mass, wet = there.per_step("volume"), there.per_step("mass"), there.per_step("wet")
    carbon, nitrogen = there.per_step("carbon"), there.per_step("nitrogen")
    there_is = [float(math.floor(each.at_most / each.step + 1e-9)) for each in stock]
    use = used_up(stock, windows)
    spoils = volume * [each.perishable for each in stock]
    used = volume * [each in use for each in stock]
    best = [-(there.least_then_held(-spoils) or 0.0), -(there.least_then_held(-used) or 0.0)]

    size = f"c{there.column(windows.volume_l.aim if windows.volume_l else 0.0)}"
    there.keep(-volume, 0.0, **{size: 1.0})
    best.append(-(there.least_then_held(0.0, **{size: -1.0}) or 0.0))

    stray = {}
    if window := windows.carbon_nitrogen:
        name = f"c{there.column(math.inf)}"
        low, high = window.aim - CLOSE_CARBON_NITROGEN, window.aim + CLOSE_CARBON_NITROGEN
        there.keep(carbon - high * nitrogen, 0.0, **{name: -1.0})
        there.keep(low * nitrogen - carbon, 0.0, **{name: -1.0})
        stray[name] = 2 / (window.high - window.low) / float(nitrogen @ there_is)
    if window := windows.moisture:
        name = f"c{there.column(math.inf)}"
        low, high = window.aim - CLOSE_MOISTURE_PCT, window.aim + CLOSE_MOISTURE_PCT
        there.keep(100 * wet - high * mass, 0.0, 100 - high, **{name: -1.0})
        there.keep(low * mass - 100 * wet, 0.0, low - 100, **{name: -1.0})
        stray[name] = 2 / (window.high - window.low) / float(mass @ there_is)
    best.append(there.least_then_held(0.0, **stray) or 0.0)
    best.append(there.least_then_held(volume - used) or 0.0)
    return best


@pytest.mark.parametrize("seed", range(40))
def test_the_worst_miss_is_as_small_as_any_even_widening_of_the_windows_allows(seed: int) -> None:
    stock, windows = stock_of(seed)
    stock = [each for each in stock if each.perishable == (seed % 2 == 0)]
    recipe = solve(stock, windows)
    if recipe.status != "nearest" or recipe.reached is None:
        return
    # the mix itself comes before its size and the shares in it, which are left open here
    at = {name: edge for name, edge in edges(windows).items() if name != "volume"}
    free = [replace(each, share_cap=None) for each in stock]

    def possible(share: float) -> bool:
        there = program(free, windows)
        there.windows(windows, widened(at, dict.fromkeys(at, share)))
        return there.least(0.0) is not None

    low, high = 0.0, 1.0 - 1e-6
    for _ in range(16):
        middle = (low + high) / 2
        low, high = (low, middle) if possible(middle) else (middle, high)
    mix = sums(stock, dict(recipe.counts))
    reached = {
        "carbon": mix.carbon_nitrogen() / at["carbon"],
        "nitrogen": at["nitrogen"] / mix.carbon_nitrogen(),
        "water": mix.moisture(recipe.water_l) / at["water"],
        "dryness": at["dryness"] / mix.moisture(recipe.water_l),
        "air": mix.air(recipe.water_l) / at["air"],
    }
    worst = max(0.0, *(1 - share for share in reached.values()))
    assert worst == pytest.approx(high, abs=1e-4)
