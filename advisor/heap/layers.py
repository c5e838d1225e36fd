"""The order in which a recipe is built up: coarse stuff below, browns and greens in turn, browns on top."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import zip_longest
from typing import Literal

from advisor.heap.ranges import Figures, figure
from advisor.knowledge.shapes import Role, Structure
from advisor.records import dataclass

#: More layers than a person reads through with a fork in hand.
MOST_LAYERS = 14

_SCATTERED = ("mineral", "starter", "liquid")

Place = Literal["base", "body", "cover"]


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a recipe.

    `step_litres` is the household measure it is counted in, or 0 to split it freely: layers then come in
    whole steps, but for the last, which takes what is over.
    """

    material: str
    litres: float
    structure: Structure
    role: Role
    moisture_pct: float
    step_litres: float = 0.0


@dataclass(frozen=True, slots=True)
class Layer:
    """So many litres of one material, spread over the whole heap.

    `mixed` asks for it to be forked through the layers beside it: stuff that mats, where layers thin enough
    to breathe would be too many to lay.
    """

    material: str
    litres: float
    thickness_cm: float
    place: Place
    mixed: bool = False


def layers(lines: Sequence[Line], footprint_m2: float, figures: Figures, most: int = MOST_LAYERS) -> tuple[Layer, ...]:
    """The recipe in the order it goes on, from the ground up.

    Coarse stuff makes the base. Then come rounds in which the driest brown lies under the wettest green, and
    so on, with minerals, starters and liquids scattered last. A brown, if there is one, covers it all. There
    are as many rounds as keep every layer within `layer-cm` and `matting-layer-cm`, but no more than make
    `most` layers in all (a recipe of very many materials may pass that). Litres of each material add up to
    the recipe's. Thickness is over the footprint: a heap with sloping sides has thicker layers towards the
    top.

    Args:
        lines: the recipe; lines of no litres are passed over.
        footprint_m2: ground that the heap covers, above 0.
        most: how many layers may be listed.

    Raises:
        ValueError: no ground, a negative volume, a material twice, or one that has no place in compost.
    """
    _check(lines, footprint_m2)
    heap = _Heap(footprint_m2, figures)
    rest = [line for line in sorted(lines, key=lambda line: line.material) if line.litres > 0]
    total_cm = sum(heap.cm(line.litres) for line in rest)
    base, rest = heap.base(rest, total_cm)
    below = base[-1].material if base else ""
    cover, body = heap.cover(rest, total_cm)
    inside = heap.rounds(body, most - len(base) - len(cover), below)
    if cover and inside and inside[-1].material == cover[0].material:
        # the last round ends in the brown that covers: let that be the cover, not pile one on the other
        again = heap.rounds(rest, most - len(base), below)
        if again[-1].material == cover[0].material:
            *inside, last = again
            cover = [replace(last, place="cover")]
    stack = _joined((*base, *inside, *cover))
    mats = {line.material for line in lines if line.structure == "matting" and line.role not in _SCATTERED}
    thin_cm = figure(figures, "matting-layer-cm").typical * (1 + 1e-9)
    return tuple(
        replace(layer, mixed=True)
        if len(stack) > 1 and layer.place == "body" and layer.material in mats and layer.thickness_cm > thin_cm
        else layer
        for layer in stack
    )


def _check(lines: Sequence[Line], footprint_m2: float) -> None:
    if not footprint_m2 > 0:
        raise ValueError(f"a heap needs ground to stand on, got {footprint_m2} m2")
    seen = set()
    for line in lines:
        if line.role == "never":
            raise ValueError(f"{line.material} has no place in compost")
        if not 0 <= line.litres < math.inf:
            raise ValueError(f"{line.material}: {line.litres} L cannot be laid")
        if line.material in seen:
            raise ValueError(f"{line.material} stands in the recipe twice")
        seen.add(line.material)


@dataclass(frozen=True, slots=True)
class _Heap:
    ground_m2: float
    figures: Figures

    @property
    def thinnest_cm(self) -> float:
        """Thinner than this a layer is a scattering."""
        return figure(self.figures, "thinnest-layer-cm").typical

    def cm(self, litres: float) -> float:
        return litres / self.ground_m2 / 10  # a litre on a square metre lies a millimetre deep

    def litres(self, cm: float) -> float:
        return cm * self.ground_m2 * 10

    def laid(self, line: Line, litres: float, place: Place) -> Layer:
        return Layer(line.material, litres, self.cm(litres), place)

    def base(self, lines: list[Line], total_cm: float) -> tuple[list[Layer], list[Line]]:
        """The coarse layer at the foot, from two materials at the most, and what is left of the recipe."""
        wanted_cm = min(
            figure(self.figures, "base-layer-cm").typical,
            total_cm * figure(self.figures, "base-most-share-pct").typical / 100,
        )
        coarse = [line for line in lines if line.structure == "coarse" and line.role not in _SCATTERED]
        coarse.sort(key=lambda line: (line.role != "brown", -line.litres, line.material))
        laid: list[Layer] = []
        for line in coarse[:2]:
            # the only brown, or the last, is needed on top as well
            browns = [each for each in lines if each.role == "brown"]
            litres = self._share(line, wanted_cm, spare=browns == [line])
            if litres > 0:
                laid.append(self.laid(line, litres, "base"))
                lines = _without(lines, line, litres)
                wanted_cm -= self.cm(litres)
            if wanted_cm < self.thinnest_cm:
                break
        return laid, lines

    def cover(self, lines: list[Line], total_cm: float) -> tuple[list[Layer], list[Line]]:
        """The brown on top, and what is left of the recipe."""
        browns = [line for line in lines if line.role == "brown"]
        if not browns:
            return [], lines
        line = min(browns, key=lambda line: (line.structure == "coarse", -line.litres, line.material))
        wanted_cm = min(
            figure(self.figures, "cover-layer-cm").typical,
            total_cm * figure(self.figures, "cover-most-share-pct").typical / 100,
        )
        litres = self._share(line, wanted_cm, spare=browns == [line] and len(lines) > 1) or line.litres
        return [self.laid(line, litres, "cover")], _without(lines, line, litres)

    def _share(self, line: Line, wanted_cm: float, spare: bool) -> float:
        """Litres of a line for so thick a layer, in whole steps; at most half of it if it is to be spared."""
        litres = min(line.litres, self.litres(wanted_cm))
        if spare:
            litres = min(litres, line.litres / 2)
        elif self.cm(line.litres - litres) < self.thinnest_cm:
            return line.litres
        step = line.step_litres
        return litres if step <= 0 or litres == line.litres else math.floor(litres / step + 1e-9) * step

    def rounds(self, lines: list[Line], most: int, below: str) -> list[Layer]:
        """The body: rounds of browns and greens in turn."""
        food = [line for line in lines if line.role not in _SCATTERED]
        wanted = max((self._needed(line) for line in food), default=1)
        number = wanted
        while number > 1 and sum(self._times(line, number) for line in lines) > most:
            number -= 1
        parts = [self._split(line, self._times(line, number), number) for line in _in_turn(lines, below)]
        return [part[turn] for turn in range(number) for part in parts if turn in part]

    def _cap_cm(self, line: Line) -> float:
        if line.role in _SCATTERED:
            return math.inf
        if line.structure == "matting":
            return figure(self.figures, "matting-layer-cm").typical
        return figure(self.figures, "layer-cm").high

    def _needed(self, line: Line) -> int:
        """Layers it takes to keep each within the cap."""
        cap_cm = self._cap_cm(line)
        step_cm = self.cm(line.step_litres)
        if step_cm > 0:
            cap_cm = max(step_cm, math.floor(cap_cm / step_cm + 1e-9) * step_cm)
        return max(1, math.ceil(self.cm(line.litres) / cap_cm - 1e-9))

    def _times(self, line: Line, rounds: int) -> int:
        """In how many of the rounds it appears: often enough to be thin, seldom enough to be a layer."""
        times = rounds
        if line.role not in _SCATTERED:
            times = max(self._needed(line), int(self.cm(line.litres) / self.thinnest_cm))
        if line.step_litres > 0:
            times = min(times, int(line.litres / line.step_litres + 1e-9))
        return min(rounds, max(1, times))

    def _split(self, line: Line, times: int, rounds: int) -> dict[int, Layer]:
        """The layers of a line, by the round each belongs to."""
        amounts = _parts(line.litres, times, line.step_litres)
        # the middles of `times` equal stretches, so that scarce stuff is spread through the height
        return {
            (2 * place + 1) * rounds // (2 * times): self.laid(line, litres, "body")
            for place, litres in enumerate(amounts)
        }


def _in_turn(lines: list[Line], below: str) -> list[Line]:
    """The order within a round; it begins with another if the brown would lie on more of the same."""
    by_name = sorted(lines, key=lambda line: line.material)
    browns = sorted((line for line in by_name if line.role == "brown"), key=lambda line: line.moisture_pct)
    greens = sorted((line for line in by_name if line.role == "green"), key=lambda line: -line.moisture_pct)
    pairs: Iterable[tuple[Line | None, Line | None]] = zip_longest(browns, greens)
    if browns and browns[0].material == below:
        pairs = zip_longest(greens, browns) if greens else zip_longest(browns[1:] + browns[:1], greens)
    food = [line for pair in pairs for line in pair if line is not None]
    return food + [line for line in by_name if line.role in _SCATTERED]


def _parts(litres: float, times: int, step: float) -> list[float]:
    """So many litres in so many parts, in whole steps if there is a step; the last takes what is over."""
    if step > 0:
        steps = int(litres / step + 1e-9)
        parts = [(steps // times + (turn < steps % times)) * step for turn in range(times)]
    else:
        parts = [litres / times] * times
    parts[-1] = litres - math.fsum(parts[:-1])
    return parts


def _without(lines: list[Line], taken: Line, litres: float) -> list[Line]:
    left = (replace(line, litres=line.litres - litres) if line == taken else line for line in lines)
    return [line for line in left if line.litres > 0]


def _joined(stack: Sequence[Layer]) -> list[Layer]:
    """Neighbours of one material made one layer."""
    found: list[Layer] = []
    for layer in stack:
        last = found[-1] if found else None
        if last is None or last.material != layer.material:
            found.append(layer)
            continue
        found[-1] = replace(
            layer,
            litres=last.litres + layer.litres,
            thickness_cm=last.thickness_cm + layer.thickness_cm,
            place=last.place if last.place == "base" else layer.place,
        )
    return [replace(found[0], place="body")] if len(found) == 1 else found
