"""Soil texture: the jar test, what falls when, and the classes of the USDA triangle.

Limits of the twelve classes: Soil Survey Manual (Handbook 18), chapter 3 (from memory), those of sand, loamy sand,
loam, clay loam and clay read in the glossary of the Soil Science Society of America.
"""

from __future__ import annotations

import math
from typing import Final

from advisor.records import dataclass

TEXTURES: Final = (
    "sand",
    "loamy-sand",
    "sandy-loam",
    "loam",
    "silt-loam",
    "silt",
    "sandy-clay-loam",
    "clay-loam",
    "silty-clay-loam",
    "sandy-clay",
    "silty-clay",
    "clay",
)

#: Shares may miss 100 % by so much, for people round.
ROUNDING_PCT: Final = 1.5

#: Upper size of silt and of clay, in micrometres (USDA).
SILT_UM: Final = 50.0
CLAY_UM: Final = 2.0

_GRAVITY: Final = 9.80665  # m/s2
_QUARTZ: Final = 2650.0  # kg/m3
_WATER: Final = 998.0  # kg/m3 at 20 °C


@dataclass(frozen=True, slots=True)
class Texture:
    """Shares in % of the mineral soil (they make 100), and the class they fall into."""

    sand_pct: float
    silt_pct: float
    clay_pct: float
    name: str


def texture(sand_pct: float, silt_pct: float, clay_pct: float) -> Texture:
    """The texture class of three shares.

    Args:
        sand_pct, silt_pct, clay_pct: 0 to 100 each, together 100 give or take 1.5; scaled to make 100 exactly.

    Raises:
        ValueError: a share below zero, or a sum that is not about 100.
    """
    shares = (sand_pct, silt_pct, clay_pct)
    total = math.fsum(shares)
    if not all(share >= 0 for share in shares):
        raise ValueError("a share of the soil is not below zero")
    if not abs(total - 100) <= ROUNDING_PCT:
        raise ValueError(f"sand, silt and clay make {total:g} %, not 100 %")
    # Limits are whole numbers: without rounding, 0.1 + 0.2 would decide on which side of one a soil lies.
    sand, silt, clay = (round(share * 100 / total, 9) for share in shares)
    return Texture(sand, silt, clay, _class(sand, silt, clay))


def _class(sand: float, silt: float, clay: float) -> str:
    if clay < 20 and (light := _light(sand, silt, clay)):
        return light
    if 7 <= clay < 27 and 28 <= silt < 50 and sand <= 52:
        return "loam"
    if (silt >= 50 and 12 <= clay < 27) or (50 <= silt < 80 and clay < 12):
        return "silt-loam"
    if silt >= 80 and clay < 12:
        return "silt"
    if 20 <= clay < 35 and silt < 28 and sand > 45:
        return "sandy-clay-loam"
    if 27 <= clay < 40 and sand <= 45:
        return "clay-loam" if sand > 20 else "silty-clay-loam"
    if clay >= 35 and sand > 45:
        return "sandy-clay"
    return "silty-clay" if silt >= 40 else "clay"


def _light(sand: float, silt: float, clay: float) -> str:
    """Sand, loamy sand or sandy loam; empty if it is none of them."""
    if round(silt + 1.5 * clay, 9) < 15:
        return "sand"
    if round(silt + 2 * clay, 9) < 30:
        return "loamy-sand"
    if (clay >= 7 and sand > 52) or (clay < 7 and silt < 50):
        return "sandy-loam"
    return ""


# ---------------------------------------------------------------- the jar


def jar(sand_mark: float, silt_mark: float, top_mark: float) -> Texture:
    """The texture from three marks on one jar, each measured up from the bottom, in any one unit.

    Args:
        sand_mark: height of what lies there after a minute.
        silt_mark: height after some hours, sand and silt together.
        top_mark: height once the water is clear, all of it.

    Raises:
        ValueError: marks that do not rise, or nothing in the jar.
    """
    if not 0 <= sand_mark <= silt_mark <= top_mark or top_mark <= 0:
        raise ValueError("the marks rise from sand to silt to the top of all")
    return texture(
        100 * sand_mark / top_mark, 100 * (silt_mark - sand_mark) / top_mark, 100 * (top_mark - silt_mark) / top_mark
    )


def fall_seconds(depth_cm: float, grain_um: float, celsius: float = 20.0) -> float:
    """Seconds for a grain of quartz to fall so deep through still water, by Stokes' law.

    Raises:
        ValueError: a depth or grain of nought or less, or water that is not water (0 to 40 °C).
    """
    if not (depth_cm > 0 and grain_um > 0 and 0 <= celsius <= 40):
        raise ValueError("needs a depth, a grain, and water between 0 and 40 °C")
    return depth_cm / 100 / (_metres_a_second(celsius) * (grain_um * 1e-6) ** 2)


def finest_settled_um(depth_cm: float, seconds: float, celsius: float = 20.0) -> float:
    """The smallest grain that has reached the bottom from the top after so long, in micrometres.

    A mark drawn too early counts the silt that is still falling as clay.

    Raises:
        ValueError: as for `fall_seconds`.
    """
    if not (depth_cm > 0 and seconds > 0 and 0 <= celsius <= 40):
        raise ValueError("needs a depth, a time, and water between 0 and 40 °C")
    return math.sqrt(depth_cm / 100 / seconds / _metres_a_second(celsius)) * 1e6


def _metres_a_second(celsius: float) -> float:
    """Speed of fall for a grain of 1 m, were there one: multiply by the square of its width in metres."""
    viscosity = 2.414e-5 * 10 ** (247.8 / (celsius + 273.15 - 140))  # Pa s; see `settling-law`
    return (_QUARTZ - _WATER) * _GRAVITY / (18 * viscosity)
