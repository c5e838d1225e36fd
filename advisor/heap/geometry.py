"""The body that a volume takes in the room there is, and whether it is big enough to heat. Metres and
litres."""

from __future__ import annotations

import math
from typing import Literal

from advisor.heap.ranges import Figures, figure
from advisor.heap.solids import LITRES_PER_M3, cylinder, half_round_windrow, truncated_pyramid
from advisor.household.shapes import Room
from advisor.records import dataclass

#: Containers that stand as a box with upright sides.
BOXES = ("open-bin", "closed-bin", "bays")

Shape = Literal["heap", "box", "drum", "windrow", "ring"]
Heats = Literal["yes", "barely", "no"]


@dataclass(frozen=True, slots=True)
class HeapBody:
    """How a volume lies.

    `length_m`, `width_m` and `height_m` bound it, length along the longer side; `footprint_m2` is the ground
    it covers. `litres` is what lies in it: all that was asked if it `fits`, else the most that does.
    `most_litres` is infinite where nothing limits it. `needed_litres` is the least that would heat in this
    shape, were there room.
    """

    shape: Shape
    length_m: float
    width_m: float
    height_m: float
    litres: float
    footprint_m2: float
    fits: bool
    heats: Heats
    most_litres: float
    needed_litres: float


@dataclass(frozen=True, slots=True)
class LeafCages:
    """Rings of wire netting for leaves, all of one size, as high as they are wide at the most."""

    number: int
    across_m: float
    height_m: float


# ---------------------------------------------------------------- heat


def heats(litres: float, narrowest_m: float, figures: Figures) -> Heats:
    """Whether a body is big enough to hold its heat, by volume and by its narrowest side, whichever is worse.

    Below the low figure no; from there to the typical one barely; from there up yes.
    """
    volume, side = figure(figures, "smallest-hot-heap-litres"), figure(figures, "smallest-hot-side-m")
    if litres < volume.low or narrowest_m < side.low:
        return "no"
    return "barely" if litres < volume.typical or narrowest_m < side.typical else "yes"


# ---------------------------------------------------------------- bodies


def body(
    litres: float,
    *,
    method: str,
    figures: Figures,
    container: str | None = None,
    room: Room | None = None,
    container_litres: float | None = None,
) -> HeapBody:
    """The body of a heap of so many litres.

    A free heap has a square base and sloping sides, and grows evenly until ground or height stops it, then
    in length. A bin is a box, by the same rule with upright sides; one that is there already
    (`container_litres`) is taken to be as high as it is wide, and to have its place (of several bays, say
    what one holds). A tumbler is a drum as long as it is wide, of a size that is to be had (`tumbler-litres`)
    unless it is there already, and filled no further than it can tumble. A windrow is half round and grows
    in length. Leaves lie in a ring of netting while one ring holds them, in a box if `container` is one, and
    else in a free heap.

    Args:
        litres: volume as built, 0 or more.
        method: one that makes a body; the bucket, the worm bin and the trench have modules of their own.
        container: a word of place.container; it matters for leaves alone.
        room: free ground; None if nothing is known to limit it.
        container_litres: what the container that will be used holds, if there is one.

    Raises:
        ValueError: a negative or endless volume, or a method that makes no heap.
    """
    if not 0 <= litres < math.inf:
        raise ValueError(f"a heap cannot hold {litres} L")
    form = _form(litres, method, container, room, container_litres, figures)
    inside = min(litres, form.most)
    length, width, height, footprint = form.sides(inside)
    return HeapBody(
        shape=form.shape,
        length_m=length,
        width_m=width,
        height_m=height,
        litres=inside,
        footprint_m2=footprint,
        # a hair's breadth, so that a heap of exactly what the room holds is not refused for rounding
        fits=litres <= form.most * (1 + 1e-9),
        heats=heats(inside, min(length, width, height), figures),
        most_litres=form.most,
        needed_litres=form.needed,
    )


def most_that_fits(
    room: Room | None,
    container_litres: float | None,
    method: str,
    figures: Figures,
    container: str | None = None,
) -> float:
    """The most litres that a method can hold in this room or container; infinite if nothing limits it.

    Raises:
        ValueError: a method that makes no heap.
    """
    return _form(math.inf, method, container, room, container_litres, figures).most


def leaf_cages(litres: float, figures: Figures) -> LeafCages:
    """Rings of netting for so many litres of leaves: as few as will do, then as small as will do.

    Raises:
        ValueError: a negative or endless volume.
    """
    if not 0 <= litres < math.inf:
        raise ValueError(f"rings cannot hold {litres} L")
    size = figure(figures, "leaf-cage-side-m")
    number = max(1, math.ceil(litres / cylinder(size.high, size.high) - 1e-9))
    across = max(size.low, math.cbrt(litres / number / LITRES_PER_M3 * 4 / math.pi))
    return LeafCages(number, across, litres / number / cylinder(across, 1.0))


@dataclass(frozen=True, slots=True)
class _Piled:
    """Square until ground or height stops it, then longer. `run` 0 makes a box of it."""

    shape: Shape
    run: float
    ratio: float  # height to width while it grows evenly
    tallest: float
    widest: float
    longest: float
    needed: float

    @property
    def most(self) -> float:
        if math.isinf(self.longest):
            return math.inf
        return truncated_pyramid(self.longest, self.widest, min(self.tallest, self.ratio * self.widest), self.run)

    def sides(self, litres: float) -> tuple[float, float, float, float]:
        volume = litres / LITRES_PER_M3
        even = min(self.widest, self.tallest / self.ratio)
        if litres <= truncated_pyramid(even, even, self.ratio * even, self.run):
            width = math.cbrt(volume / _share_of_cube(self.run, self.ratio))
            return width, width, self.ratio * width, width**2
        height = self.ratio * even
        if litres <= truncated_pyramid(self.widest, self.widest, height, self.run):
            lean = self.run * height
            width = lean + math.sqrt(volume / height - lean**2 / 3)
            return width, width, height, width**2
        lean = self.run * height
        length = (volume / height + lean * self.widest - 4 / 3 * lean**2) / (self.widest - lean)
        return length, self.widest, height, length * self.widest


@dataclass(frozen=True, slots=True)
class _Standing:
    """A box or a drum that is as high as it is wide and long, and filled so far."""

    shape: Shape
    side: float
    most: float
    needed: float

    def sides(self, litres: float) -> tuple[float, float, float, float]:
        height = self.side if self.shape == "drum" else litres / LITRES_PER_M3 / self.side**2
        return self.side, self.side, height, self.side**2


@dataclass(frozen=True, slots=True)
class _Ring:
    """Netting as high as it is wide, or as what is overhead allows; a little lies lower in the smallest."""

    shape: Shape
    smallest: float
    tallest: float
    most: float
    needed: float

    def sides(self, litres: float) -> tuple[float, float, float, float]:
        quarters = litres / LITRES_PER_M3 * 4 / math.pi
        even = math.cbrt(quarters)
        across = max(self.smallest, even if even <= self.tallest else math.sqrt(quarters / self.tallest))
        ground = cylinder(across, 1.0) / LITRES_PER_M3
        return across, across, litres / LITRES_PER_M3 / ground, ground


@dataclass(frozen=True, slots=True)
class _Row:
    """Half round, never shorter than it is wide: what would be shorter is lower and narrower all round."""

    shape: Shape
    highest: float
    longest: float
    needed: float

    @property
    def most(self) -> float:
        return half_round_windrow(self.longest, self.highest)

    def sides(self, litres: float) -> tuple[float, float, float, float]:
        volume = litres / LITRES_PER_M3
        height = min(self.highest, math.cbrt(volume / math.pi))
        length = volume / (math.pi / 2 * height**2) if height else 0.0
        return length, 2 * height, height, length * 2 * height


_Form = _Piled | _Standing | _Ring | _Row


def _form(
    litres: float,
    method: str,
    container: str | None,
    room: Room | None,
    container_litres: float | None,
    figures: Figures,
) -> _Form:
    ground = room or Room(math.inf, math.inf)
    width, length = sorted((ground.length_m, ground.width_m))
    overhead = math.inf if ground.height_m is None else ground.height_m
    if method == "tumbler":
        return _drum(min(width, overhead), container_litres, litres, figures)
    if method == "bin" or (method == "leaf-heap" and container in BOXES):
        if container_litres is not None:
            return _Standing("box", math.cbrt(container_litres / LITRES_PER_M3), container_litres, _least(figures, 1.0))
        return _piled("box", width, length, overhead, figures)
    if method == "open-heap":
        return _piled("heap", width, length, overhead, figures)
    if method == "windrow":
        highest = figure(figures, "windrow-height-m").typical
        widest = figure(figures, "windrow-width-m").typical
        row = min(highest, widest / 2, width / 2, overhead)
        return _Row("windrow", row, length, _least(figures, math.pi))
    if method == "leaf-heap":
        return _leaves(litres, width, length, overhead, figures)
    raise ValueError(f"{method} makes no heap")


def _piled(
    shape: Shape,
    width: float,
    length: float,
    overhead: float,
    figures: Figures,
    limits: tuple[float, float] | None = None,
) -> _Piled:
    free = shape == "heap"
    run = figure(figures, "heap-side-run-per-rise").typical if free else 0.0
    ratio = figure(figures, "heap-height-per-width").typical if free else 1.0
    tallest, widest = limits or (
        figure(figures, "highest-still-heap-m").typical,
        figure(figures, "widest-still-heap-m").typical,
    )
    # the narrowest side is the height where the heap is wider than high
    needed = _least(figures, _share_of_cube(run, ratio) / min(1.0, ratio) ** 3)
    return _Piled(shape, run, ratio, min(overhead, tallest), min(width, widest), length, needed)


def _share_of_cube(run: float, ratio: float) -> float:
    """What a square heap so many times as high as wide holds, as a share of the cube on its width."""
    return truncated_pyramid(1.0, 1.0, ratio, run) / LITRES_PER_M3


def _drum(room_m: float, container_litres: float | None, litres: float, figures: Figures) -> _Standing:
    share = figure(figures, "tumbler-fill-share-pct").typical / 100
    needed = _least(figures, math.pi / 4 * share)
    if container_litres is not None:
        return _Standing(
            "drum",
            math.cbrt(container_litres / LITRES_PER_M3 * 4 / math.pi),
            share * container_litres,
            needed,
        )
    largest = math.cbrt(figure(figures, "tumbler-litres").high / LITRES_PER_M3 * 4 / math.pi)
    room_m = min(room_m, largest)
    wanted = math.cbrt(litres / share / LITRES_PER_M3 * 4 / math.pi)
    return _Standing("drum", min(wanted, room_m), share * cylinder(room_m, room_m), needed)


def _leaves(litres: float, width: float, length: float, overhead: float, figures: Figures) -> _Ring | _Piled:
    size = figure(figures, "leaf-cage-side-m")
    across = min(size.high, width)
    held = cylinder(across, min(across, overhead))
    limits = (figure(figures, "leaf-heap-height-m").high, figure(figures, "leaf-heap-width-m").high)
    heap = _piled("heap", width, length, overhead, figures, limits)
    if litres <= held or heap.most <= held:
        most = max(held, heap.most)
        return _Ring("ring", min(size.low, across), overhead, most, _least(figures, math.pi / 4))
    return heap


def _least(figures: Figures, share_of_cube: float) -> float:
    """The least that heats in a shape which takes up that share of the cube on its narrowest side."""
    side = figure(figures, "smallest-hot-side-m").typical
    return max(figure(figures, "smallest-hot-heap-litres").typical, share_of_cube * side**3 * LITRES_PER_M3)
