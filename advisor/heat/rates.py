"""How fast a heap decays at a temperature, a moisture, an air space, a C:N and an air flow, each as a factor."""

from __future__ import annotations

import numpy as np

from advisor.heat.air import OXYGEN_PCT, Floats

#: °C up to which decay by the life of mild warmth grows in a straight line (stombaugh-nokes-1996).
_MILD_C = 30.0


def warmth(celsius: Floats, least: Floats, best: Floats, most: Floats, mild: Floats) -> Floats:
    """Decay at a temperature, as a share of that at the best: two forms of life, of which the faster counts.

    The life of heat follows the cardinal temperatures of Rosso and co-workers: outside of least to most it is 0, else
    f = (T - most)(T - least)² / {(best - least)[(best - least)(T - best) - (best - most)(best + least - 2T)]}.
    The life of mild warmth rises in a straight line from 0 at 0 °C to `mild` at 30 °C, as in the model of Stombaugh and
    Nokes, and holds it up to the best. Cardinal temperatures alone start far too slowly.
    Sources: cardinal-temperatures, cardinal-temperatures-waste, stombaugh-nokes-1996.

    >>> one = np.array
    >>> [round(float(warmth(one(t), one(5.0), one(58.6), one(71.6), one(0.0))), 2) for t in (20.0, 40.0, 58.6, 70.0)]
    [0.12, 0.6, 1.0, 0.33]
    """
    inside = np.minimum(np.maximum(celsius, least), most)
    above = inside - least
    width = best - least
    bottom = width * (width * (inside - best) - (best - most) * (best + least - 2.0 * inside))
    hot: Floats = (inside - most) * above * above / bottom
    warm = mild * np.minimum(np.maximum(celsius / _MILD_C, 0.0), 1.0)
    return np.where(celsius < best, np.maximum(hot, warm), hot)


def moistness(wet_share: Floats) -> Floats:
    """Decay at a share of water (0 to 1, by wet weight), as a factor: 1 / (1 + exp(7.0622 - 17.684 share)).

    Source: haug-1993.

    >>> [round(float(moistness(np.array(share))), 2) for share in (0.2, 0.4, 0.6)]
    [0.03, 0.5, 0.97]
    """
    result: Floats = 1.0 / (1.0 + np.exp(7.0622 - 17.684 * wet_share))
    return result


def openness(air_share: Floats) -> Floats:
    """Decay at a share of free air space (0 to 1), as a factor: 1 / (1 + exp(3.4945 - 23.675 share)).

    Source: haug-1993.

    >>> [round(float(openness(np.array(share))), 2) for share in (0.05, 0.15, 0.25)]
    [0.09, 0.51, 0.92]
    """
    result: Floats = 1.0 / (1.0 + np.exp(3.4945 - 23.675 * air_share))
    return result


def richness(carbon_nitrogen: Floats, slowing: Floats, floor: Floats) -> Floats:
    """Decay at a C:N, as a factor: 1 up to 20, then exp(-slowing (C:N - 20)), never under `floor`.

    Source: small-reactor-thesis, which prints a slowing of 0.4 / 7.

    >>> round(float(richness(np.array(30.0), np.array(0.4 / 7), np.array(0.0))), 2)
    0.56
    """
    result: Floats = np.maximum(np.exp(-slowing * np.maximum(carbon_nitrogen - 20.0, 0.0)), floor)
    return result


def oxygen(needed: Floats, half_pct: float = 2.0) -> Floats:
    """Decay with the oxygen that air brings, as a factor f = x / (x + half), x being the oxygen left, in % of volume.

    What is left follows from the use itself, x = 20.9 (1 - needed f), so f is the root of a quadratic equation.

    Args:
        needed: oxygen that decay would use with plenty of air, over the oxygen that the air brings; 0 or more.
        half_pct: the oxygen at which decay runs at half its speed.

    Source: haug-1993 (half speed at 2 %).

    >>> [round(float(oxygen(np.array(needed))), 2) for needed in (0.0, 0.5, 10.0)]
    [0.91, 0.86, 0.1]
    """
    middle = OXYGEN_PCT * (1.0 + needed) + half_pct
    result: Floats = 2.0 * OXYGEN_PCT / (middle + np.sqrt(middle * middle - 4.0 * OXYGEN_PCT**2 * needed))
    return result
