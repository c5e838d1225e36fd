"""What is poured on counts in the sums, and coarse wood counts with the carbon that feeds."""

from __future__ import annotations

import pytest
from recipe_oracle import STEADY, offer

from advisor.blend import mix
from advisor.blend.offers import Offer
from advisor.blend.recipe import solve
from advisor.blend.shapes import Composition, Part
from advisor.blend.spread import Portion, figures, typical
from advisor.knowledge.load import shipped

#: Annual nutrient table of the Michigan Technological University: 3 to 5 kg of nitrogen and 3 kg of carbon a year, so
#: a C:N of 0.6 to 1; handbooks print 0.8 (Fertilizer obtained from composting latrines, undated).
URINE = Composition(16.5, 16.5 * 0.8, 95.5, 1015.0)


def urine(litres: float) -> Offer:
    return Offer("urine", URINE, 1.0, litres, finest=0.125, storable=True, share_cap=0.05, poured=True)


def test_urine_brings_poor_leaves_into_their_window() -> None:
    alone = solve([offer("leaves", 20)], STEADY)
    fed = solve([offer("leaves", 20), urine(10)], STEADY)
    assert alone.status == "nearest"
    assert fed.status == "met"
    assert fed.reached is not None
    leaves, poured = offer("leaves", 20), dict(fed.counts)["urine"]
    parts = [
        Part(leaves.composition, dict(fed.counts)["leaves"] * 10 * leaves.composition.density_kg_m3 / 1000),
        Part(URINE, poured * 1.015),
    ]
    assert fed.reached.carbon_nitrogen == pytest.approx(mix.carbon_nitrogen(parts))
    assert fed.reached.volume_l == pytest.approx(200), "a liquid fills pores"


def test_no_more_is_poured_than_its_share_nor_where_it_is_not_needed() -> None:
    fed = solve([offer("cardboard", 20), urine(100)], STEADY)
    assert dict(fed.counts)["urine"] <= 0.05 * 200 + 1e-6
    rich = solve([offer("grass", 10), offer("leaves", 20), urine(10)], STEADY)
    assert "urine" not in dict(rich.counts)


def test_urine_alone_is_no_heap() -> None:
    assert solve([urine(10)], STEADY).status == "nothing"


@pytest.mark.parametrize("wood", ["wood-chips", "wood-chips-dry", "wood-chips-fresh", "softwood-bark", "hardwood-bark"])
def test_coarse_wood_counts_with_the_carbon_that_feeds(wood: str) -> None:
    """By Chandler and others (1980, from memory) 0.830 less 0.028 times the lignin in % of it can be degraded: 27 % of
    wood with 20 % of lignin and 7 % with 27 %; Allison (1965, from memory): 12 to 45 % of sawdust in 60 days."""
    material = shipped().materials[wood]
    assert material.feeds is not None
    low, high = 100 * (0.830 - 0.028 * 27), 100 * (0.830 - 0.028 * 20)
    assert material.feeds.low == pytest.approx(low, abs=0.5)
    assert material.feeds.low < high < material.feeds.high
    assert material.carbon_nitrogen is not None
    whole = material.nitrogen.typical * material.carbon_nitrogen.typical
    assert typical(material).carbon_pct == pytest.approx(whole * material.feeds.typical / 100)
    found = figures([Portion(wood, material, 10, "L")]).carbon_nitrogen
    assert found.typical == pytest.approx(material.carbon_nitrogen.typical * material.feeds.typical / 100)
    assert found.low < found.typical < found.high


def test_fine_wood_counts_in_full() -> None:
    """Sawdust and shavings lie open to microbes on all sides; common practice, no source."""
    for name in ("sawdust", "wood-shavings"):
        assert shipped().materials[name].feeds is None
