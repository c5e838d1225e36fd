"""What the tests of the heat share."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.heat.air import Floats
from advisor.heat.shapes import Heap, Physics


def one(value: float) -> Floats:
    """A single draw."""
    return np.array([value])


@pytest.fixture
def physics() -> Physics:
    """Constants near those of rules/heat.toml, a single draw; the figures are round and mean nothing by themselves."""
    return Physics(
        least_c=one(5),
        best_c=one(58.6),
        most_c=one(75),
        mild=one(0.6),
        heat_kj_kg=one(18_000),
        oxygen_kg_kg=one(1.3),
        water_made_kg_kg=one(0.55),
        dry_kj_kg_k=one(1.2),
        cn_slowing=one(0.02),
        cn_floor=one(0.35),
        settle_days=one(10),
        settle_floor=one(0.4),
        turning_keeps=one(0.6),
        dry_from=one(0.35),
    )


@pytest.fixture
def cubic_metre() -> Heap:
    """A cubic metre of mixed stuff: 160 kg dry, 240 kg of water."""
    return Heap(
        fast_kg=one(40),
        slow_kg=one(40),
        inert_kg=one(80),
        water_kg=one(240),
        fast_per_day=one(0.25),
        slow_per_day=one(0.02),
        carbon_nitrogen=one(28),
        air_share=one(0.5),
        wall_kj_day_k=one(6 * 86.4),
        drawn_kg_day=one(70),
        blown_kg_day=one(0),
        seeping_kg_day=one(5),
    )
