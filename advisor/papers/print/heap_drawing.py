"""A heap cut through, drawn to scale in black on white: what lies on what, and how thick."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from advisor.heap.standing import lean
from advisor.papers.paper import Heap
from advisor.papers.print.elements import Element, add, element
from advisor.papers.print.patterns import patterns
from advisor.papers.sections import thickness
from advisor.units import length_text

_WIDTH, _LABELS = 640.0, 270.0  # units of the drawing: all of it, and what the names at the right take
_LEFT, _TOP, _FOOT = 58.0, 10.0, 30.0
_MOST_HIGH = 250.0
_ROW = 15.0  # from one name to the next, at the least
_PLACES: Final = {"base": " (base)", "cover": " (cover)", "body": ""}


def heap_drawing(heap: Heap) -> Element:
    """The drawing: layers in the outline of the body; the shares of the load where it is turned in a drum."""
    if heap.body.shape == "drum" or not heap.layers:
        return _shares(heap)
    return _section(heap)


def _section(heap: Heap) -> Element:
    body = heap.body
    room = _WIDTH - _LABELS - _LEFT
    scale = min(room / max(body.width_m, 1e-6), _MOST_HIGH / max(body.height_m, 1e-6))
    wide, high = scale * body.width_m, scale * body.height_m
    bottom = _TOP + max(high, _ROW * len(heap.layers))
    top = bottom - high
    drawing = _sheet(bottom + _FOOT, f"The heap cut through, {len(heap.layers)} layers")
    defs = add(drawing, "defs")
    fills = patterns(defs, [layer.material for layer in heap.layers])
    outline = _outline(heap, _LEFT, bottom, wide, high)
    clip = add(defs, "clipPath", id="body")
    add(clip, "polygon", points=outline)
    layers = add(drawing, "g", clip_path="url(#body)")
    total = math.fsum(layer.thickness_cm for layer in heap.layers) or 1.0
    ends: list[tuple[float, float]] = []
    y = bottom
    for layer in heap.layers:
        thick = high * layer.thickness_cm / total
        add(layers, "rect", x=_LEFT, y=y - thick, width=wide, height=thick, fill=fills[layer.material], stroke="#000",
            stroke_width=0.8)  # fmt: skip
        inward = _inward(heap, (bottom - y + thick / 2) / high) * wide
        ends.append((_LEFT + wide - inward, y - thick / 2))
        y -= thick
    add(drawing, "polygon", points=outline, fill="none", stroke="#000", stroke_width=2)
    add(drawing, "line", x1=0, y1=bottom, x2=_LEFT + wide + 40, y2=bottom, stroke="#000", stroke_width=2.5)
    names = [
        f"{thickness(layer.thickness_cm, heap.units)}  {layer.name}{_PLACES[layer.place]}" for layer in heap.layers
    ]
    _names(drawing, names, ends, _LEFT + wide)
    add(drawing, "text", f"{length_text(body.width_m, heap.units)} wide", x=_LEFT + wide / 2, y=bottom + 18,
        text_anchor="middle", font_size=12)  # fmt: skip
    _height(drawing, top, bottom, length_text(body.height_m, heap.units))
    return drawing


def _outline(heap: Heap, left: float, bottom: float, wide: float, high: float) -> str:
    """The corners of the body, up its left side and down its right."""
    curved = heap.body.shape == "windrow"
    shares = [math.sin(math.pi / 2 * step / 16) for step in range(17)] if curved else [0.0, 1.0]
    inward = [(share, _inward(heap, share) * wide) for share in shares]
    points = [(left + by, bottom - high * share) for share, by in inward]
    points += [(left + wide - by, bottom - high * share) for share, by in reversed(inward)]
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in points)


def _inward(heap: Heap, share: float) -> float:
    """How far a side has come in at a share of the height, as a share of the width.

    A row is half round, a heap leans in, the rest stand upright.
    """
    body = heap.body
    if body.shape == "windrow":
        return 0.5 * (1 - math.sqrt(max(0.0, 1 - share**2)))
    if body.shape == "heap":
        leans = lean(body.length_m, body.width_m, body.height_m, body.litres)
        return min(leans * body.height_m * share / max(body.width_m, 1e-6), 0.5)
    return 0.0


def _names(drawing: Element, names: Sequence[str], ends: Sequence[tuple[float, float]], edge: float) -> None:
    """The names at the right from the ground up, each with a line to the end of its layer, none upon another."""
    rows: list[float] = []
    for _, y in ends:
        rows.append(min(y, rows[-1] - _ROW) if rows else y)
    down = max(0.0, _TOP + 4 - rows[-1])
    for name, (x, y), row in zip(names, ends, rows, strict=True):
        bent = f"{x - 6:.1f},{y:.1f} {edge + 14:.1f},{y:.1f} {edge + 30:.1f},{row + down:.1f}"
        add(drawing, "polyline", points=f"{bent} {edge + 38:.1f},{row + down:.1f}", fill="none", stroke="#000",
            stroke_width=0.7)  # fmt: skip
        add(drawing, "text", name, x=edge + 42, y=row + down + 4, font_size=12)


def _height(drawing: Element, top: float, bottom: float, said: str) -> None:
    x = _LEFT - 12
    add(drawing, "line", x1=x, y1=top, x2=x, y2=bottom, stroke="#000", stroke_width=0.7)
    for y in (top, bottom):
        add(drawing, "line", x1=x - 4, y1=y, x2=x + 4, y2=y, stroke="#000", stroke_width=0.7)
    middle = (top + bottom) / 2
    add(drawing, "text", said, x=x - 6, y=middle + 4, text_anchor="end", font_size=12)


def _shares(heap: Heap) -> Element:
    """A bar for each thing that goes in, as long as its share by volume."""
    parts = sorted(heap.parts, key=lambda part: -part[1])
    total = math.fsum(litres for _, litres in parts) or 1.0
    longest = max((litres for _, litres in parts), default=0.0) or 1.0
    drawing = _sheet(_TOP + 26 * len(parts), "What goes in, by volume")
    fills = patterns(add(drawing, "defs"), [name for name, _ in parts])
    room = _WIDTH - _LABELS - 20
    for number, (name, litres) in enumerate(parts):
        y = _TOP + 26 * number
        add(drawing, "rect", x=2, y=y, width=room * litres / longest, height=20, fill=fills[name], stroke="#000",
            stroke_width=1.2)  # fmt: skip
        share = f"{100 * litres / total:.0f} %  {name}"
        add(drawing, "text", share, x=room * litres / longest + 12, y=y + 14, font_size=12)
    return drawing


def _sheet(high: float, about: str) -> Element:
    return element(
        "svg", xmlns="http://www.w3.org/2000/svg", viewBox=f"0 0 {_WIDTH:.0f} {high:.0f}", role="img", aria_label=about
    )
