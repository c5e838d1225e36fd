"""Against going through every mix there is, on stocks small enough for that."""

from __future__ import annotations

import pytest
from recipe_oracle import edges, exhaust, some_stock

from advisor.blend.recipe import solve


@pytest.mark.parametrize("seed", range(120))
def test_no_other_mix_is_better(seed: int) -> None:
    stock, windows = some_stock(seed, kinds=(1, 3), at_most=4)
    recipe = solve(stock, windows)
    everything = exhaust(stock, windows)

    counts = {each.id: 0.0 for each in stock} | dict(recipe.counts)
    if not everything.best:
        assert recipe.status == "nothing"
        assert not recipe.counts
        return
    assert (recipe.status == "met") == everything.possible
    assert everything.best == [counts]


@pytest.mark.parametrize("seed", range(0, 120, 3))
def test_what_is_missed_is_what_cannot_be_helped(seed: int) -> None:
    stock, windows = some_stock(seed, kinds=(1, 3), at_most=4)
    recipe = solve(stock, windows)
    everything = exhaust(stock, windows)

    if recipe.reached is None:
        assert not everything.best
        return
    cannot = {lack for lack, share in everything.short.items() if share > 1e-6 and lack != "volume"}
    if recipe.reached.volume_l < edges(windows).get("volume", 0.0) * (1 - 1e-9):
        cannot.add("volume")
    assert {miss.lack for miss in recipe.misses} - {"share"} == cannot
