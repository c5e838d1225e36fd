"""What stands in for manure, against sums by hand from published tables and against every mixture there is."""

from __future__ import annotations

import itertools
import math

import pytest

from advisor.blend.offers import Offer
from advisor.blend.shapes import Composition
from advisor.blend.substitute import CLOSE, MOST_KINDS, TOLERANCE, Goal, stand_in


def stuff(nitrogen_pct: float, carbon_nitrogen: float, moisture_pct: float) -> Composition:
    """A material as tables print it, taken to weigh 1 kg a litre so that a litre is a kilogram."""
    return Composition(nitrogen_pct, nitrogen_pct * carbon_nitrogen, moisture_pct, 1000.0)


#: Humanure Handbook, table 3.2 (read): horse manure 1.6 % N, C:N 25 to 30. Moisture 70 %: On-Farm Composting Handbook
#: (NRAES-54), table A.1, 59 to 79 % (from memory), as are the next three: grass clippings 3.4 % N, C:N 17, 82 %;
#: leaves 0.9 % N, C:N 54, 38 %; coffee grounds have 20 as the usual C:N of extension tables, 2 % N, 60 % (from memory).
HORSE_N_PCT, HORSE_CN, HORSE_MOISTURE_PCT = 1.6, 27.5, 70.0
GRASS, LEAVES, COFFEE = stuff(3.4, 17, 82), stuff(0.9, 54, 38), stuff(2.0, 20, 60)


def by_hand(counts: dict[str, float], printed: dict[str, tuple[float, float, float]]) -> tuple[float, float]:
    """Nitrogen in kg and C:N of so many kg of each, from % N of dry mass, C:N and % moisture."""
    nitrogen = {name: kg * (1 - printed[name][2] / 100) * printed[name][0] / 100 for name, kg in counts.items()}
    carbon = math.fsum(nitrogen[name] * printed[name][1] for name in counts)
    return math.fsum(nitrogen.values()), carbon / math.fsum(nitrogen.values())


def test_a_hundred_kilograms_of_horse_manure_in_grass_and_leaves() -> None:
    # By hand: 100 kg at 70 % water are 30 kg dry with 0.48 kg of nitrogen and 13.2 kg of carbon. A kilogram of grass
    # brings 6.12 g of nitrogen, one of leaves 5.58 g; 56.2 kg of grass and 24.4 kg of leaves match both exactly.
    goal = Goal(100 * 0.30 * HORSE_N_PCT / 100, HORSE_CN)
    assert goal.nitrogen_kg == pytest.approx(0.48)
    found = stand_in(goal, [Offer("grass", GRASS, 1.0, 100.0), Offer("leaves", LEAVES, 1.0, 100.0)])
    printed = {"grass": (3.4, 17.0, 82.0), "leaves": (0.9, 54.0, 38.0)}
    nitrogen, ratio = by_hand(dict(found.counts), printed)
    assert found.met
    assert found.nitrogen_kg == pytest.approx(nitrogen)
    assert found.carbon_nitrogen == pytest.approx(ratio)
    assert nitrogen == pytest.approx(0.48, rel=TOLERANCE)
    assert ratio == pytest.approx(27.5, rel=TOLERANCE)
    exact, exact_ratio = by_hand({"grass": 56.17, "leaves": 24.41}, printed)
    assert exact == pytest.approx(0.48, rel=1e-3)
    assert exact_ratio == pytest.approx(27.5, rel=1e-3)


def test_coffee_alone_cannot_be_all_of_it() -> None:
    """A third is the most that grounds should be (oregon-coffee-mix: two parts of leaves to one of grounds)."""
    offers = [Offer("coffee", COFFEE, 1.0, 200.0, share_cap=1 / 3), Offer("leaves", LEAVES, 1.0, 200.0)]
    found = stand_in(Goal(0.48, 20.0), offers)
    counts = dict(found.counts)
    assert counts["coffee"] <= sum(counts.values()) / 3 + 1e-9


def test_what_is_not_there_is_short() -> None:
    found = stand_in(Goal(0.48, 27.5), [Offer("grass", GRASS, 1.0, 10.0)])
    assert not found.met
    assert found.nitrogen_kg == pytest.approx(0.0612)


def test_nothing_to_choose_from() -> None:
    assert stand_in(Goal(0.48, 27.5), []).counts == ()


def test_no_amount_to_replace() -> None:
    with pytest.raises(ValueError, match="no amount"):
        stand_in(Goal(0.0, 27.5), [])


TINY = [
    [Offer("grass", GRASS, 10.0, 4.0), Offer("leaves", LEAVES, 10.0, 4.0)],
    [
        Offer("grass", GRASS, 10.0, 4.0, share_cap=0.5),
        Offer("leaves", LEAVES, 10.0, 4.0),
        Offer("coffee", COFFEE, 10.0, 3.0, share_cap=0.33),
    ],
    [Offer("grass", GRASS, 10.0, 2.0, step=0.5), Offer("coffee", COFFEE, 5.0, 4.0)],
]


@pytest.mark.parametrize("offers", TINY)
@pytest.mark.parametrize("goal", [Goal(0.15, 20.0), Goal(0.25, 30.0), Goal(0.4, 27.0), Goal(0.1, 60.0)])
def test_no_mixture_there_is_does_better(offers: list[Offer], goal: Goal) -> None:
    """Every mixture is weighed by the wishes in turn; none comes before the one found."""
    trouble = {offer.id: float(number) for number, offer in enumerate(offers)}
    found = stand_in(goal, offers, trouble)
    best = min(
        wishes
        for counts in itertools.product(*(range(offer.steps + 1) for offer in offers))
        if (wishes := weighed(counts, offers, goal, trouble)) is not None
    )
    steps = {offer.id: offer.step for offer in offers}
    mine = weighed(
        [round(dict(found.counts).get(offer.id, 0.0) / steps[offer.id]) for offer in offers], offers, goal, trouble
    )
    assert mine is not None
    assert mine == pytest.approx(best, abs=1e-5)


def weighed(counts: object, offers: list[Offer], goal: Goal, trouble: dict[str, float]) -> tuple[float, ...] | None:
    """The wishes by plain sums; None for a mixture that is not allowed."""
    steps = list(counts)  # type: ignore[call-overload]
    litres = [count * offer.step_l for count, offer in zip(steps, offers, strict=True)]
    dry = [litre * (1 - offer.composition.moisture_pct / 100) for litre, offer in zip(litres, offers, strict=True)]
    nitrogen = sum(kg * offer.composition.nitrogen_pct / 100 for kg, offer in zip(dry, offers, strict=True))
    carbon = sum(kg * offer.composition.carbon_pct / 100 for kg, offer in zip(dry, offers, strict=True))
    if nitrogen > 1.1 * goal.nitrogen_kg + 1e-9 or sum(count > 0 for count in steps) > MOST_KINDS:
        return None
    for litre, offer in zip(litres, offers, strict=True):
        if offer.share_cap is not None and litre > offer.share_cap * sum(litres) + 1e-9:
            return None
    short = max(0.0, 0.9 * goal.nitrogen_kg - nitrogen)
    stray = max(0.0, carbon - 1.1 * goal.carbon_nitrogen * nitrogen, 0.9 * goal.carbon_nitrogen * nitrogen - carbon)
    bother = sum(trouble[offer.id] for count, offer in zip(steps, offers, strict=True) if count)
    kinds = float(sum(count > 0 for count in steps))
    off = max(0.0, abs(nitrogen / goal.nitrogen_kg - 1) - CLOSE)
    off += max(0.0, abs(carbon / (goal.nitrogen_kg * goal.carbon_nitrogen) - 1) - CLOSE)
    volume = 1e-5 * sum(litres) / goal.nitrogen_kg  # a tenth more volume, at most, for what is nearer by a hundredth
    return (*(round(one, 6) for one in (short, stray)), 10 * bother + kinds + off + volume)
