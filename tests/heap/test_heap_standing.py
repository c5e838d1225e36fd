"""Layers as they stand: together as thick as the body is high, whatever its sides do."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.heap.layers import Layer
from advisor.heap.solids import half_round_windrow, truncated_pyramid
from advisor.heap.standing import as_they_stand, lean


def laid(*litres: float) -> list[Layer]:
    return [Layer(f"m{number}", each, 0.0, "body") for number, each in enumerate(litres)]


def test_a_box_shares_its_height_by_volume() -> None:
    found = as_they_stand(laid(100, 300), "box", 1, 1, 0.4)
    assert [layer.thickness_cm for layer in found] == pytest.approx([10, 30])


def test_a_pyramid_of_three_slices() -> None:
    # a heap 2 m square at the foot and 1 m at the top, 1 m high (run 0.5), cut at a third and two thirds: the slices by
    # the prismoidal formula h/6 (A1 + 4 Am + A2), Bronshtein and Semendyayev, Handbook of Mathematics (from memory)
    sides = [2 - each / 6 for each in range(7)]
    slices = [1 / 3 / 6 * (sides[at] ** 2 + 4 * sides[at + 1] ** 2 + sides[at + 2] ** 2) * 1000 for at in (0, 2, 4)]
    assert sum(slices) == pytest.approx(truncated_pyramid(2, 2, 1, 0.5))
    found = as_they_stand(laid(*slices), "heap", 2, 2, 1)
    assert [layer.thickness_cm for layer in found] == pytest.approx([100 / 3] * 3)


def test_half_a_half_round_row_lies_below_two_fifths_of_its_height() -> None:
    # a chord at 0.404 of the radius halves a half circle: tables of circular segments (sagitta 0.596 r, area pi/4 r2)
    litres = half_round_windrow(3, 1)
    low, high = as_they_stand(laid(litres / 2, litres / 2), "windrow", 3, 2, 1)
    assert low.thickness_cm == pytest.approx(40.4, abs=0.05)
    assert low.thickness_cm + high.thickness_cm == pytest.approx(100)


@given(
    st.lists(st.floats(0.1, 500), min_size=1, max_size=9),
    st.sampled_from(["box", "heap", "windrow"]),
    st.floats(0.5, 3),
    st.floats(0.2, 0.99),
)
def test_layers_are_together_as_thick_as_the_body_is_high(
    litres: list[float], shape: str, side: float, share: float
) -> None:
    # a heap that leans in holds more than a third of the box around it
    height = math.fsum(litres) / 1000 / side**2 / (0.4 + 0.6 * share)
    found = as_they_stand(laid(*litres), shape, side, side, height)
    assert math.fsum(layer.thickness_cm for layer in found) == pytest.approx(height * 100)
    assert all(layer.thickness_cm >= 0 for layer in found)
    assert lean(side, side, height, math.fsum(litres)) >= 0
