"""Solids of the trade in litres, by the closed forms of geometry. Lengths are metres; 1 m3 is 1000 L."""

from __future__ import annotations

import math

LITRES_PER_M3 = 1000.0


def box(length_m: float, width_m: float, height_m: float) -> float:
    """Litres in a box."""
    return length_m * width_m * height_m * LITRES_PER_M3


def cylinder(across_m: float, height_m: float) -> float:
    """Litres in an upright cylinder of that diameter."""
    return math.pi / 4 * across_m**2 * height_m * LITRES_PER_M3


def cone(across_m: float, height_m: float) -> float:
    """Litres in a cone of that diameter at the foot: a third of the cylinder round it."""
    return cylinder(across_m, height_m) / 3


def truncated_pyramid(length_m: float, width_m: float, height_m: float, run: float) -> float:
    """Litres in a heap with four sides leaning in by `run` metres for each metre of height.

    The area at height z is (length - 2 run z)(width - 2 run z); this is its integral.

    Raises:
        ValueError: the sides meet below the height given.
    """
    if 2 * run * height_m > min(length_m, width_m) * (1 + 1e-12):
        raise ValueError(f"sides leaning in {run:g} m a metre meet below {height_m:g} m")
    upright = length_m * width_m * height_m
    lost = run * (length_m + width_m) * height_m**2
    corners = 4 / 3 * run**2 * height_m**3
    return (upright - lost + corners) * LITRES_PER_M3


def half_round_windrow(length_m: float, height_m: float) -> float:
    """Litres in a windrow that is half a circle across: area pi h^2 / 2, width 2 h (New Jersey, 2009).

    The ends count as cut square, so a windrow with sloping ends is a little longer.
    """
    return math.pi / 2 * height_m**2 * length_m * LITRES_PER_M3


def parabolic_windrow(length_m: float, width_m: float, height_m: float) -> float:
    """Litres in a windrow with a parabola for its cross-section: area 2/3 of width by height."""
    return 2 / 3 * width_m * height_m * length_m * LITRES_PER_M3


def trapezoid_windrow(length_m: float, width_m: float, top_m: float, height_m: float) -> float:
    """Litres in a windrow with a flat top: area the mean of the two widths by the height."""
    return (width_m + top_m) / 2 * height_m * length_m * LITRES_PER_M3
