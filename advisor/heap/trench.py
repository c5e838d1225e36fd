"""Scraps buried in a trench: how long a trench, how deep, and how it moves along a bed."""

from __future__ import annotations

import math

from advisor.blend.shapes import Range
from advisor.heap.ranges import Figures, Spread, figure, over, plain, scaled, times
from advisor.heap.solids import LITRES_PER_M3
from advisor.records import dataclass


@dataclass(frozen=True, slots=True)
class Trench:
    """A trench that takes so much each week. Lengths of trench are metres a week."""

    depth_cm: Range
    width_cm: Range
    scraps_cm: Range
    cover_cm: Range
    metres_a_week: Range
    wait_weeks: Range
    metres_in_turn: Range  # of trench, so that it is back at its beginning when that may be planted


@dataclass(frozen=True, slots=True)
class Rotation:
    """How a trench moves along a bed in rows a trench and a path of soil apart."""

    rows: int
    metres: float  # of trench that the bed holds
    weeks: Range  # until the bed is full
    long_enough: bool  # whether its beginning may be planted by then, typically


def trench(weekly_litres: Spread, figures: Figures) -> Trench:
    """A trench for so many litres of loose scraps a week.

    Length is volume over width and thickness of the scraps in it.

    Raises:
        ValueError: there is nothing to bury.
    """
    if not weekly_litres.typical > 0:
        raise ValueError("there is nothing to bury")
    wait = figure(figures, "trench-wait-weeks")
    metres = trench_metres(weekly_litres, figures)
    return Trench(
        depth_cm=plain(figure(figures, "trench-depth-cm")),
        width_cm=plain(figure(figures, "trench-width-cm")),
        scraps_cm=plain(figure(figures, "trench-scraps-thickness-cm")),
        cover_cm=plain(figure(figures, "trench-cover-cm")),
        metres_a_week=metres,
        wait_weeks=plain(wait),
        metres_in_turn=times(metres, wait),
    )


def trench_metres(litres: Spread, figures: Figures) -> Range:
    """Metres of trench for so many litres, in a layer `trench-scraps-thickness-cm` thick."""
    section_cm2 = times(figure(figures, "trench-width-cm"), figure(figures, "trench-scraps-thickness-cm"))
    return over(litres, scaled(section_cm2, LITRES_PER_M3 / 1e4))


def rotation(bed_length_m: float, bed_width_m: float, each: Trench) -> Rotation:
    """How long a bed lasts, in rows along it as wide as the trench, with as much soil left between them.

    Raises:
        ValueError: the bed is narrower than the trench.
    """
    width_m = each.width_cm.typical / 100
    rows = math.floor((bed_width_m / width_m + 1) / 2 + 1e-9)
    if rows < 1 or not bed_length_m > 0:
        raise ValueError(f"a bed of {bed_length_m:g} by {bed_width_m:g} m has no room for a trench {width_m:g} m wide")
    metres = rows * bed_length_m
    weekly = each.metres_a_week
    longest = metres / weekly.low if weekly.low else math.inf
    weeks = Range(metres / weekly.high, metres / weekly.typical, longest)
    return Rotation(rows, metres, weeks, weeks.typical >= each.wait_weeks.typical)
