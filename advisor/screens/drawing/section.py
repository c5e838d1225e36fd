"""A heap cut through: what lies on what, in the order it is built, in the outline of its body."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from advisor.papers.grid import Grid, cut
from advisor.papers.vessels import VESSELS
from advisor.screens.drawing.outlines import SIDES, Outline, allot, outline
from advisor.screens.drawing.paint import layer_row, mixed_row
from advisor.screens.drawing.shares import shares
from advisor.screens.drawing.swatches import Swatch
from advisor.screens.drawing.vessels import vessel
from advisor.units import length_text

if TYPE_CHECKING:
    from advisor.counsel.plan import Body, Layer, Plan

#: Rows for a body: fewer cannot show a shape, more only spread it.
FEWEST_BODY_ROWS, MOST_BODY_ROWS = 5, 20

_AROUND = 2  # rows for the top, and for the ground with the measure of the width
_LABELS = 26  # columns for names beside a drawing, where there is room for them
_SHORT_LABELS = 9  # columns for a thickness and a letter
_WIDEST = 48
_NARROWEST = 12


def rows_wanted(plan: Plan) -> int:
    """How many rows a drawing of the plan needs to show every layer; 0 if there is nothing to draw."""
    if plan.choice.method in VESSELS:
        return len(VESSELS[plan.choice.method])
    if not _drawable(plan) or plan.body is None:
        return 0
    if plan.body.shape == "drum":
        return len(plan.recipe.lines) + 1
    return max(len(plan.layers), FEWEST_BODY_ROWS) + _AROUND


def section(plan: Plan, swatches: Mapping[str, Swatch], width: int, height: int) -> Grid | None:
    """The plan's heap in section, no wider and no higher than given; None if there is nothing to draw.

    A heap leans in as much as its volume says, a bin and a ring stand upright, and a row is half round. Beside each
    layer stand its thickness and its name, or its letter where there is little room; what is forked in is drawn in the
    stuff it is forked into. A drum is turned till nothing in it lies in layers, so the shares of its load are drawn. A
    bucket, a worm bin and a trench are drawn as such things are, without measures.
    """
    if plan.choice.method in VESSELS:
        return vessel(VESSELS[plan.choice.method], _heaviest(plan, swatches), width, height)
    body, rows = plan.body, min(MOST_BODY_ROWS, height - _AROUND)
    if body is None or not _drawable(plan) or width < _NARROWEST:
        return None
    if body.shape == "drum":
        return shares(body, _parts(plan, swatches), width, plan.units)
    if rows < 1:
        return None
    named = width >= 22 + _LABELS
    labels = (_LABELS if named else _SHORT_LABELS) if plan.layers else 0
    shape = outline(body, rows, min(width - labels - 4, _WIDEST))
    return _stacked(plan, body, swatches, shape, width, named=named)


def _drawable(plan: Plan) -> bool:
    return plan.body is not None and plan.body.litres > 0 and bool(plan.layers or plan.recipe.lines)


def _stacked(
    plan: Plan, body: Body, swatches: Mapping[str, Swatch], shape: Outline, width: int, *, named: bool
) -> Grid:
    rows = len(shape.inside)
    grid = Grid(width, rows + _AROUND)
    left, right = SIDES[body.shape]
    rows_of_layers = _rows_of_layers(plan.layers, rows)
    for up, inside in enumerate(shape.inside):
        down = rows - up
        start = 1 + (shape.widest - inside) // 2
        grid.put(start, down, left, "outline")
        grid.put(start + 1 + inside, down, right, "outline")
        if not rows_of_layers:
            mixed_row(grid, start + 1, down, inside, _parts(plan, swatches))
            continue
        layer, middle = rows_of_layers[up]
        if layer.forked:
            around = [swatches[each.material] for each in _around(plan.layers, layer)]
            mixed_row(grid, start + 1, down, inside, [(swatch, 1.0) for swatch in (swatches[layer.material], *around)])
        else:
            layer_row(grid, start + 1, down, inside, swatches[layer.material], lettered=middle)
        if middle:
            label = f"{_thickness(layer, plan)} {layer.name if named else swatches[layer.material].letter}"
            grid.put(shape.widest + 4, down, cut(label, width - shape.widest - 4), "label")
    _top(grid, body, shape)
    _foot(grid, body, shape, rows + 1, plan)
    return grid


def _rows_of_layers(layers: tuple[Layer, ...], rows: int) -> list[tuple[Layer, bool]]:
    """For each row from the ground up, its layer, and whether it is the middle one of the rows of that layer."""
    found: list[tuple[Layer, bool]] = []
    for layer, given in zip(layers, allot(rows, [layer.thickness_cm for layer in layers]), strict=True):
        found += [(layer, row == given // 2) for row in range(given)]
    return found


def _around(layers: tuple[Layer, ...], layer: Layer) -> list[Layer]:
    """The layer that one is forked into: that below it, or that above if it is the lowest."""
    place = next(place for place, each in enumerate(layers) if each is layer)
    return [*layers[max(place - 1, 0) : place], *layers[place + 1 : place + 2]][:1]


def _top(grid: Grid, body: Body, shape: Outline) -> None:
    """What closes the body above: nothing over a heap, the rim of a bin, the open mouth of a ring."""
    inside = shape.inside[-1]
    start = 1 + (shape.widest - inside) // 2
    if body.shape == "box":
        grid.put(start, 0, f"╓{'─' * inside}╖", "outline")
    elif body.shape in ("heap", "windrow"):
        grid.put(start + 1, 0, "_" * inside, "outline")


def _foot(grid: Grid, body: Body, shape: Outline, down: int, plan: Plan) -> None:
    across = shape.widest + 4
    grid.put(0, down, "▔" * across, "ground")
    wide = f" {length_text(body.width_m, plan.units)} wide "
    grid.put((across - len(wide)) // 2, down, wide, "label")


def _thickness(layer: Layer, plan: Plan) -> str:
    centimetres = layer.thickness_cm
    return f"{centimetres:>2.0f} cm" if plan.units == "metric" else f"{centimetres / 2.54:>2.0f} in"


def _parts(plan: Plan, swatches: Mapping[str, Swatch]) -> list[tuple[Swatch, float]]:
    return [(swatches[line.material], line.litres) for line in plan.recipe.lines if line.material in swatches]


def _heaviest(plan: Plan, swatches: Mapping[str, Swatch]) -> Swatch | None:
    """What there is most of, browns aside: the stuff of a bucket, a worm bin or a trench."""
    parts = _parts(plan, swatches)
    fresh = [part for part in parts if not part[0].ink.startswith("brown")] or parts
    return max(fresh, key=lambda part: part[1])[0] if fresh else None
