"""The draws of a blend: 800 of them over all its figures at once, by the method that spread.py states in full."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from advisor.blend import mix
from advisor.blend.spread import MOST_CARBON_PCT, Portion, density_of, plain_ash_pct, size_of
from advisor.knowledge.shapes import Figure, Material

_Draws = npt.NDArray[np.float64]

DRAWS = 800

#: Among draws in order of size, those that the range runs from and to: a tenth is left out at each end.
_LOWEST = DRAWS // 10
_HIGHEST = DRAWS - 1 - _LOWEST

_L_PER_M3 = 1000.0


def ends(portions: Sequence[Portion], water_l: float) -> tuple[list[float], list[float]]:
    """Where the range of each figure begins and ends, in the order of BlendFigures.

    Raises:
        ValueError: a portion is counted in a household measure whose litres are not given.
    """
    drawn = np.partition(_figures(portions, water_l), (_LOWEST, _HIGHEST), axis=1)
    return drawn[:, _LOWEST].tolist(), drawn[:, _HIGHEST].tolist()


def _figures(portions: Sequence[Portion], water_l: float) -> _Draws:
    """The formulas of mix.py over all draws at once: a row per figure, in the order of BlendFigures."""
    water, mass = np.full(DRAWS, float(water_l)), np.full(DRAWS, float(water_l))
    dry, carbon, nitrogen, ash, volume = np.zeros((5, DRAWS))
    for portion, kg in zip(portions, _drawn_kg(portions), strict=True):
        material, name = portion.material, portion.material_id
        part_water = kg * _draw(material.moisture, f"{name}: moisture") / 100.0
        part_dry = kg - part_water
        part_nitrogen, part_carbon = _drawn_nutrients(material, name)
        if material.feeds is not None:
            part_carbon = part_carbon * _draw(material.feeds, f"{name}: feeds") / 100.0
        mass += kg
        water += part_water
        dry += part_dry
        nitrogen += part_dry * part_nitrogen / 100.0
        carbon += part_dry * part_carbon / 100.0
        ash_pct = _draw(material.ash, f"{name}: ash") if material.ash is not None else plain_ash_pct(material)
        ash += part_dry * ash_pct / 100.0
        volume += kg / _draw(material.density, f"{name}: density") * _L_PER_M3
    water_room = water / mix.WATER_KG_M3 * _L_PER_M3
    solid_room = ((dry - ash) / mix.ORGANIC_KG_M3 + ash / mix.ASH_KG_M3) * _L_PER_M3
    return np.stack(
        (
            _over(carbon, nitrogen, np.inf),
            100.0 * _over(water, mass, 0.0),
            np.maximum(0.0, 100.0 * (1.0 - _over(water_room + solid_room, volume, 0.0))),
            nitrogen,
            volume,
            mass,
            _over(mass, volume, 0.0) * _L_PER_M3,
            dry,
        )
    )


def _drawn_nutrients(material: Material, name: str) -> tuple[_Draws, _Draws]:
    """Nitrogen and carbon in % of dry mass."""
    below, above = _leaning(f"{name}: nitrogen")
    nitrogen = _drawn(material.nitrogen, below, above)
    if material.carbon_nitrogen is not None:
        # Swapping the two leans turns rank u into 1 - u.
        ratio = _drawn(material.carbon_nitrogen, above, below)
        nitrogen = np.minimum(nitrogen, _over(np.full(DRAWS, MOST_CARBON_PCT), ratio, np.inf))
        return nitrogen, nitrogen * ratio
    if material.carbon is not None:
        return nitrogen, _draw(material.carbon, f"{name}: carbon")
    return nitrogen, np.zeros(DRAWS)


def _drawn_kg(portions: Sequence[Portion]) -> list[_Draws]:
    told: Counter[tuple[str, str]] = Counter()
    found = []
    for portion in portions:
        key = (portion.material_id, portion.measure)
        told[key] += 1
        kg = _drawn_count(portion, f"{portion.material_id}: count {told[key]} in {portion.measure}")
        if portion.measure != "kg":
            size = size_of(portion)
            if size is not None:
                kg = kg * _draw(size, f"the size of a {portion.measure}")
            density = density_of(portion.material, portion.packed)
            kg = kg * _draw(density, f"{portion.material_id}: density") / _L_PER_M3
        found.append(kg)
    return found


def _drawn_count(portion: Portion, name: str) -> _Draws:
    low = portion.count if portion.count_low is None else min(portion.count_low, portion.count)
    high = portion.count if portion.count_high is None else max(portion.count_high, portion.count)
    if low == high:
        return np.full(DRAWS, float(portion.count))
    below, above = _leaning(name)
    return portion.count - (portion.count - low) * below + (high - portion.count) * above


def _draw(figure: Figure, name: str) -> _Draws:
    return _drawn(figure, *_leaning(name))


def _drawn(figure: Figure, below: _Draws, above: _Draws) -> _Draws:
    return figure.typical - (figure.typical - figure.low) * below + (figure.high - figure.typical) * above


@lru_cache(maxsize=2048)
def _leaning(name: str) -> tuple[_Draws, _Draws]:
    """The draws of the quantity of that name: how far each leans to low and to high (0 to 1)."""
    # Of the standard generator only .random() is promised to give the same numbers for ever.
    generator = random.Random(name)
    order = np.argsort([generator.random() for _ in range(DRAWS)], kind="stable")
    rank = (order + 0.5) / DRAWS
    below = 1.0 - np.sqrt(np.minimum(1.0, 2.0 * rank))
    above = 1.0 - np.sqrt(np.minimum(1.0, 2.0 * (1.0 - rank)))
    below.setflags(write=False)
    above.setflags(write=False)
    return below, above


def _over(top: _Draws, bottom: _Draws, otherwise: float) -> _Draws:
    """Top over bottom, and `otherwise` where the bottom is 0."""
    result: _Draws = np.divide(top, bottom, out=np.full(DRAWS, otherwise), where=bottom > 0)
    return result
