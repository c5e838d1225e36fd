"""Draws from the spread of each input: 200 by default, the same every time, the first of them typical.

Each quantity is drawn as blend/spread.py draws it (two triangles, half of the draws on each side of typical), at the
midpoints of equal cells, shuffled by a seed that is the quantity's name (a Latin hypercube). So adding a material or a
question never draws the others anew.
"""

from __future__ import annotations

import random
from functools import lru_cache

import numpy as np

from advisor.heap.ranges import Spread
from advisor.heat.air import Floats

DRAWS = 200


class Draws:
    """So many draws of anything that has a low, a typical and a high value. Column 0 holds the typical values."""

    def __init__(self, count: int = DRAWS) -> None:
        self.count = count

    def of(self, spread: Spread, name: str) -> Floats:
        """The draws of a quantity by its name."""
        below, above = _leaning(name, self.count)
        return spread.typical - (spread.typical - spread.low) * below + (spread.high - spread.typical) * above

    def times(self, factor: float, name: str) -> Floats:
        """Draws of a factor whose extremes are `factor` and its inverse, evenly on a scale of ratios."""
        below, above = _leaning(name, self.count)
        result: Floats = np.exp(np.log(factor) * (above - below))
        return result

    def about(self, spread: float, name: str) -> Floats:
        """Draws of a difference whose extremes are plus and minus `spread`."""
        below, above = _leaning(name, self.count)
        return spread * (above - below)


@lru_cache(maxsize=1024)
def _leaning(name: str, count: int) -> tuple[Floats, Floats]:
    """How far each draw leans to low and to high (0 to 1); the first leans nowhere."""
    generator = random.Random(f"heat: {name}")  # only .random() is promised to give the same numbers for ever
    order = np.argsort([generator.random() for _ in range(count)], kind="stable")
    rank = (order + 0.5) / count
    rank[0] = 0.5
    below = 1.0 - np.sqrt(np.minimum(1.0, 2.0 * rank))
    above = 1.0 - np.sqrt(np.minimum(1.0, 2.0 * (1.0 - rank)))
    return below, above
