"""The outline of a body in section: how far it reaches to each side at each height."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from advisor.heap.standing import lean
from advisor.records import dataclass

if TYPE_CHECKING:
    from advisor.counsel.plan import Body

#: A cell of a terminal is about twice as high as it is wide.
CELL_RATIO = 2.0

#: The signs at the left and right side, by the shape of the body.
SIDES = {"heap": ("/", "\\"), "windrow": ("(", ")"), "box": ("║", "║"), "ring": ("¦", "¦")}


@dataclass(frozen=True, slots=True)
class Outline:
    """A body drawn in so many rows: how many cells lie inside in each, from the ground up."""

    shape: str
    inside: tuple[int, ...]

    @property
    def widest(self) -> int:
        """Cells inside in the widest row."""
        return max(self.inside, default=0)


def outline(body: Body, rows: int, most_across: int) -> Outline:
    """The outline of a body in so many rows, as wide as its width asks for and the sheet allows.

    Args:
        rows: 1 or more.
        most_across: cells inside, at the most; 6 or more.
    """
    height, width = max(body.height_m, 1e-6), max(body.width_m, 1e-6)
    wanted = round(rows * CELL_RATIO * width / height)
    across = max(6, min(most_across, wanted)) // 2 * 2
    return Outline(body.shape, tuple(_inside(body, (row + 0.5) / rows, across) for row in range(rows)))


def _inside(body: Body, share_of_height: float, across: int) -> int:
    """Cells inside at a height; always an even number, so that both sides step in together."""
    if body.shape == "heap":
        lean = 2 * _lean(body) * body.height_m * share_of_height / max(body.width_m, 1e-6)
        return max(2, round(across / 2 * (1 - lean)) * 2)
    if body.shape == "windrow":
        return max(2, round(across / 2 * math.sqrt(max(0.0, 1 - share_of_height**2))) * 2)
    return across


def _lean(body: Body) -> float:
    return lean(body.length_m, body.width_m, body.height_m, body.litres)


def allot(rows: int, thicknesses: list[float]) -> list[int]:
    """Rows for layers by their thickness, each at least one, as long as there are as many rows as layers.

    With fewer rows than layers, one each for the thickest and none for the others.
    """
    if not thicknesses:
        return []
    if rows < len(thicknesses):
        thickest = sorted(range(len(thicknesses)), key=lambda place: -thicknesses[place])[:rows]
        return [int(place in thickest) for place in range(len(thicknesses))]
    total = sum(thicknesses) or 1.0
    spare = rows - len(thicknesses)
    # what each deserves beyond its one row, then the largest remainders
    due = [max(0.0, rows * thickness / total - 1) for thickness in thicknesses]
    scale = spare / sum(due) if sum(due) else 0.0
    whole = [int(share * scale) for share in due]
    left = spare - sum(whole)
    order = sorted(range(len(due)), key=lambda place: (-(due[place] * scale - whole[place]), place))
    for place in range(left):
        whole[order[place % len(order)]] += 1
    return [1 + extra for extra in whole]
