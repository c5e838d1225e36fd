"""The spade test: a block of soil scored by layers, as the Visual Evaluation of Soil Structure does."""

from __future__ import annotations

import math
from collections.abc import Sequence

from advisor.knowledge.soil_shapes import Band
from advisor.records import dataclass
from advisor.soil.scales import Scales, scale


@dataclass(frozen=True, slots=True)
class SpadeLayer:
    """A layer of the block, from the top down: its score from 1 (friable) to 5 (very compact), and depth in cm."""

    score: float
    depth_cm: float


@dataclass(frozen=True, slots=True)
class SpadeBlock:
    """The score of the block, its class, and the worst layer with the depth at which it begins."""

    score: float
    band: Band
    worst: SpadeLayer
    worst_from_cm: float


#: What each score looks like: 1 was read in vess-farm-page, the others are recalled from vess-chart; our words.
LOOKS = {
    1: "friable: crumbles at a touch, crumbs mostly under 6 mm (a quarter inch), roots all through",
    2: "intact: rounded, porous crumbs from 2 mm to 7 cm (3 in), no closed clods",
    3: "firm: pieces from 2 mm to 10 cm (4 in), less than a third of it under 1 cm, some sharp clods without pores",
    4: "compact: mostly over 10 cm (4 in), hard to break, roots crowded into the cracks",
    5: "very compact: big sharp-edged lumps, few pores, perhaps grey-blue and sour; roots only in cracks if at all",
}


def spade_block(layers: Sequence[SpadeLayer], scales: Scales) -> SpadeBlock:
    """Score of a block: the sum of layer score times layer depth, over the whole depth (VESS).

    Raises:
        ValueError: no layer, a depth of nought, or a score outside 1 to 5.
    """
    if not layers:
        raise ValueError("a block has at least one layer")
    for layer in layers:
        if not 1 <= layer.score <= 5:
            raise ValueError(f"scores run from 1 to 5, not {layer.score:g}")
        if not layer.depth_cm > 0:
            raise ValueError("a layer is some centimetres deep")
    whole = math.fsum(layer.depth_cm for layer in layers)
    score = round(math.fsum(layer.score * layer.depth_cm for layer in layers) / whole, 9)
    worst = max(layers, key=lambda layer: layer.score)
    above = layers[: list(layers).index(worst)]
    return SpadeBlock(score, scale(scales, "spade-score").of(score), worst, math.fsum(each.depth_cm for each in above))


def mean_score(scores: Sequence[float], scales: Scales) -> tuple[float, Band]:
    """The score of a plot from several blocks (3 to 5 on a small plot), and its class. Raises ValueError for none."""
    if not scores:
        raise ValueError("a plot is scored from at least one block")
    mean = round(math.fsum(scores) / len(scores), 9)
    return mean, scale(scales, "spade-score").of(mean)
