"""How thick layers are where the sides of a heap lean in: what is laid last lies on less ground."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from advisor.heap.layers import Layer
from advisor.heap.solids import truncated_pyramid

_HALVINGS = 50


def lean(length_m: float, width_m: float, height_m: float, litres: float) -> float:
    """How far the four sides of a heap lean in for each metre of height, found back from what it holds.

    A heap with four sloping sides holds LWh - r(L + W)h2 + 4/3 r2h3; this is the smaller root for r, no less than 0 and
    no more than lets the sides meet at the top.
    """
    if min(length_m, width_m, height_m) <= 0:
        return 0.0
    square, linear = 4 / 3 * height_m**3, -(length_m + width_m) * height_m**2
    rest = length_m * width_m * height_m - litres / 1000
    within = max(0.0, linear**2 - 4 * square * rest)
    root = (-linear - math.sqrt(within)) / (2 * square)
    return min(max(root, 0.0), min(length_m, width_m) / 2 / height_m)


def as_they_stand(
    laid: Sequence[Layer], shape: str, length_m: float, width_m: float, height_m: float
) -> tuple[Layer, ...]:
    """Layers with the thickness they have in the body; together they are as thick as it is high.

    Args:
        laid: from the ground up.
        shape: "heap" leans in on four sides, "windrow" is half round; any other stands upright.
    """
    total = math.fsum(layer.litres for layer in laid)
    if total <= 0 or height_m <= 0:
        return tuple(laid)
    below = _below(shape, length_m, width_m, height_m, total)
    reached, filled, found = 0.0, 0.0, []
    for layer in laid:
        filled += layer.litres
        top = _height_of(filled / total, below)
        found.append(replace(layer, thickness_cm=(top - reached) * height_m * 100))
        reached = top
    return tuple(found)


def _below(shape: str, length_m: float, width_m: float, height_m: float, litres: float) -> Callable[[float], float]:
    """The share of a body that lies below a share of its height."""
    if shape == "windrow":  # half a circle: the area under a chord, by the closed form of the circular segment
        return lambda high: (high * math.sqrt(1 - high**2) + math.asin(high)) / (math.pi / 2)
    if shape == "heap":
        run = lean(length_m, width_m, height_m, litres)
        whole = truncated_pyramid(length_m, width_m, height_m, run)
        return lambda high: truncated_pyramid(length_m, width_m, high * height_m, run) / whole
    return lambda high: high


def _height_of(share: float, below: Callable[[float], float]) -> float:
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if below(middle) < share:
            low = middle
        else:
            high = middle
    return high
