"""A figure on a scale: the window that is wanted, where the figure may lie, and where it likeliest lies."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.papers.grid import Grid
from advisor.records import dataclass

if TYPE_CHECKING:
    from advisor.counsel.plan import Gauge

#: The signs of a scale, and what a legend says of them.
LIKELIEST, MAY_BE, WANTED, OPEN, CLOSE, BEYOND = "◆", "━", "░", "[", "]", "→"
SCALE_LEGEND = f"{OPEN}{WANTED}{CLOSE} wanted  {MAY_BE} may be  {LIKELIEST} likeliest"

_SPARE = 0.12  # of the stretch shown, to each side
_FAR = 3.0  # a figure beyond so many times the window's top is off the scale, not a reason to squash it


@dataclass(frozen=True, slots=True)
class Reach:
    """What a scale shows, from its left end to its right."""

    low: float
    high: float
    cells: int

    def cell(self, value: float) -> int:
        """The cell of a value; values off the scale are in the end cells."""
        share = (value - self.low) / (self.high - self.low)
        return min(max(round(share * (self.cells - 1)), 0), self.cells - 1)


def scale(gauge: Gauge, width: int) -> Grid:
    """The gauge as one row of signs. The edges of the window stay visible under the stretch of the figure.

    Args:
        width: cells, 8 or more.
    """
    grid = Grid(width, 1)
    reach = _reach(gauge, width)
    spread, goal = gauge.spread, gauge.goal
    grid.put(0, 0, "·" * width, "label")
    ink = "inside" if gauge.inside else "outside"
    if goal is not None:
        left = reach.cell(goal.low)
        right = reach.cell(goal.high) if goal.high < reach.high else width - 1
        grid.put(left, 0, WANTED * (right - left + 1), "wanted")
    first, last = reach.cell(spread.low), reach.cell(spread.high)
    grid.put(first, 0, MAY_BE * (last - first + 1), ink)
    if goal is not None:
        if goal.low > reach.low:
            grid.put(reach.cell(goal.low), 0, OPEN, "edge")
        if goal.high < reach.high:
            grid.put(reach.cell(goal.high), 0, CLOSE, "edge")
    if spread.high > reach.high:
        grid.put(width - 1, 0, BEYOND, ink)
    grid.put(reach.cell(spread.typical), 0, LIKELIEST, f"{ink} bold")
    return grid


def _reach(gauge: Gauge, cells: int) -> Reach:
    spread, goal = gauge.spread, gauge.goal
    low, high = spread.low, spread.high
    if goal is not None:
        # a window without a real top ("35 % or more", "all the room there is") is shown as far as it matters
        top = goal.high if goal.high <= _FAR * max(goal.aim, 1.0) else max(goal.aim, goal.low)
        low, high = min(low, goal.low), max(min(high, _FAR * top), top)
        high = max(high, min(spread.typical, _FAR * top))
    spare = _SPARE * max(high - low, abs(high) * 0.1, 1e-9)
    return Reach(max(0.0, low - spare), high + spare, cells)
