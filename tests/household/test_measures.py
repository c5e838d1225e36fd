"""The shipped household measures, against the definitions and standards behind them."""

from __future__ import annotations

import math

import pytest
from scipy import constants

from advisor.household.names import key_words
from advisor.knowledge.load import read
from advisor.knowledge.shapes import Measure
from advisor.places import rules_folder


@pytest.fixture(scope="module")
def measures() -> dict[str, Measure]:
    return dict(read(rules_folder())[0].measures)


DEFINED = {
    "gallon": constants.gallon * 1000,
    "quart": constants.gallon * 1000 / 4,
    "cubic-foot": constants.foot**3 * 1000,
    "cubic-yard": constants.yard**3 * 1000,
    "cubic-metre": 1000.0,
    # The US bushel is 2150.42 cubic inches (NIST Handbook 44, Appendix C; from memory).
    "bushel": 2150.42 * constants.inch**3 * 1000,
}


@pytest.mark.parametrize("id_", DEFINED)
def test_a_defined_measure_is_what_the_definition_says(id_: str, measures: dict[str, Measure]) -> None:
    assert measures[id_].litres.typical == pytest.approx(DEFINED[id_], rel=5e-4)


@pytest.mark.parametrize(("id_", "nominal"), [("wheelie-bin-120", 120), ("wheelie-bin-140", 140), ("wheelie-bin", 240)])
def test_a_wheelie_bin_holds_no_more_than_its_nominal_size(
    id_: str, nominal: float, measures: dict[str, Measure]
) -> None:
    """Nominal volumes of two-wheeled bins after EN 840-1 (from memory)."""
    assert 0.85 * nominal <= measures[id_].litres.low <= measures[id_].litres.typical <= nominal
    assert measures[id_].litres.high == nominal


BY_GEOMETRY = {
    # Sides as makers give them (common practice), in metres; the volume is that of the body.
    "straw-bale": 0.36 * 0.46 * 1.0,
    "hay-bale": 0.36 * 0.46 * 1.0,
    "builders-bag": 0.9 * 0.9 * 0.9,
    "round-bale": math.pi / 4 * 1.35**2 * 1.2,
    "five-gallon-bucket": 5 * constants.gallon,
    "paper-yard-bag": 30 * constants.gallon,
}


@pytest.mark.parametrize("id_", BY_GEOMETRY)
def test_a_measure_holds_what_its_sides_say(id_: str, measures: dict[str, Measure]) -> None:
    litres = BY_GEOMETRY[id_] * 1000
    assert measures[id_].litres.low <= litres <= measures[id_].litres.high


def test_there_are_measures_enough(measures: dict[str, Measure]) -> None:
    assert len(measures) >= 35


def test_bales_are_packed_and_nothing_else_is(measures: dict[str, Measure]) -> None:
    assert {id_ for id_, measure in measures.items() if measure.packed} == {
        id_ for id_ in measures if id_.endswith("bale")
    }


def test_no_two_measures_claim_the_same_words(measures: dict[str, Measure]) -> None:
    owners: dict[tuple[str, ...], str] = {}
    for id_, measure in measures.items():
        for name in (id_, measure.name, *measure.aliases):
            assert owners.setdefault(key_words(name), id_) == id_, name


def test_a_heap_is_not_counted_in_anything_under_four_litres(measures: dict[str, Measure]) -> None:
    for id_, measure in measures.items():
        assert measure.small == (measure.litres.typical < 4), id_


LADDERS = [
    ("teaspoon", "tablespoon", "mug", "jar", "jug", "bucket", "tub-trug", "sack", "wheelie-bin", "builders-bag"),
    ("handful", "double-handful", "spadeful", "shovelful", "forkful", "armful"),
    ("kitchen-caddy", "bucket", "five-gallon-bucket", "wheelbarrow", "garden-cart", "car-boot", "trailer", "pickup"),
    ("carrier-bag", "bin-liner", "sack", "paper-yard-bag", "builders-bag"),
]


@pytest.mark.parametrize("ladder", LADDERS, ids=[ladder[0] for ladder in LADDERS])
def test_measures_stand_in_the_order_everybody_knows(ladder: tuple[str, ...], measures: dict[str, Measure]) -> None:
    sizes = [measures[id_].litres.typical for id_ in ladder]
    assert sizes == sorted(sizes)
