"""Several spots of one bed on one day, read as one check: three blocks of the spade, three rings, five holes for worms.

A published way for the spade (the mean score of the blocks) and for worms (the mean of the blocks). For the ring the
middle one stands: one worm hole or one stone makes a mean useless (common practice).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from statistics import median
from typing import Final

from advisor.inference.facts import Fact
from advisor.knowledge.base import Knowledge
from advisor.soil.infiltration import MM_PER_INCH
from advisor.soil.spade import mean_score
from advisor.soil.worms_count import worm_count
from advisor.soil_counsel.ground import CheckTold
from advisor.soil_counsel.reading import CheckRead
from advisor.soil_counsel.soil_checks import rate_text, worms_text
from advisor.units import Units

Read = tuple[CheckTold, CheckRead]


def gathered(read: Sequence[Read], knowledge: Knowledge, units: Units) -> list[Read]:
    """The checks in their order, those of one kind and day that are spots of one bed made into one."""
    found: dict[object, list[Read]] = {}
    for place, (check, one) in enumerate(read):
        key = (check.guide, check.on) if check.guide in _JOINED else place
        found.setdefault(key, []).append((check, one))
    return [
        spots[0]
        if len(spots) == 1
        else (spots[0][0], _JOINED[spots[0][0].guide]([one for _, one in spots], knowledge, units))
        for spots in found.values()
    ]


def _spade(spots: Sequence[CheckRead], knowledge: Knowledge, _units: Units) -> CheckRead:
    scores = [spot.tracked_value for spot in spots]
    mean, band = mean_score(scores, knowledge.scales)
    text = f"spade score {mean:.1f} from {len(scores)} blocks ({min(scores):.1f} to {max(scores):.1f}), {band.say}"
    return _as_one(spots, text, mean, band.word, "structure", "The mean of the scores of the blocks.")


def _ring(spots: Sequence[CheckRead], knowledge: Knowledge, units: Units) -> CheckRead:
    rates = [spot.tracked_value for spot in spots]
    middle = median(rates)
    band = knowledge.scales["ring-rate"].of(round(middle / MM_PER_INCH, 9))
    text = (
        f"water goes in at {rate_text(middle, units)}, the middle of {len(rates)} spots "
        f"({rate_text(min(rates), units)} to {rate_text(max(rates), units)}): {band.say}"
    )
    return _as_one(spots, text, middle, band.word, "intake", "The middle one stands: a worm hole upsets a mean.")


def _worms(spots: Sequence[CheckRead], knowledge: Knowledge, units: Units) -> CheckRead:
    mean = math.fsum(spot.tracked_value for spot in spots) / len(spots)
    found = worm_count([mean], knowledge.scales, side_cm=100)
    return _as_one(spots, worms_text(found, units), mean, found.band.word, "worms", "The mean of all that was counted.")


def _as_one(spots: Sequence[CheckRead], text: str, value: float, word: str, attribute: str, because: str) -> CheckRead:
    others = tuple(fact for fact in spots[0].facts if fact.attribute != attribute)
    return replace(
        spots[0],
        text=text,
        facts=(*others, Fact("check", attribute, "", word)),
        value=value,
        word=word,
        tracked_value=value,
        because=because,
    )


_JOINED: Final[Mapping[str, Callable[[Sequence[CheckRead], Knowledge, Units], CheckRead]]] = {
    "spade": _spade,
    "ring": _ring,
    "worms": _worms,
}
