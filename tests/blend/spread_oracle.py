"""Blends to try, and an independent reckoning of them: first principles, and scipy's own triangular distribution."""

from __future__ import annotations

import itertools
from dataclasses import fields

import numpy as np
from scipy import stats

from advisor.blend.spread import BlendFigures, Portion
from advisor.knowledge.shapes import Figure, Material

Triple = tuple[float, float, float]


def spread(low: float, middle: float, high: float) -> Figure:
    return Figure.model_validate({"range": [low, middle, high], "published": ["1 our-estimate"]})


def stuff(
    nitrogen: Triple,
    cn: Triple | None,
    moisture: Triple,
    density: Triple,
    *,
    role: str = "brown",
    **more: Triple,
) -> Material:
    given_figures = {
        "nitrogen": nitrogen,
        "carbon_nitrogen": cn,
        "moisture": moisture,
        "density": density,
        **more,
    }
    return Material.model_validate(
        {
            "name": "some stuff",
            "role": role,
            "structure": "medium",
            "keeps": "weeks",
            **{name: spread(*triple) for name, triple in given_figures.items() if triple is not None},
        }
    )


# Leaves: C/N 26.8 to 71.8 with median 48.5, nitrogen median 0.94 %, carbon median 48 %
# (municipal-leaves-1996); the ends of nitrogen follow from that carbon. Moisture 38 %, density 70 kg/m3
# (fact-sheet-table-3), spread by us.
LEAVES = stuff((0.67, 0.94, 1.79), (26.8, 48.5, 71.8), (15, 38, 55), (50, 70, 150), density_packed=(120, 200, 300))
# Grass: 2.4 % N, 77 % water (cornell-schools-moisture), C:N 12 to 19 (humanure-handbook-t3-2), spread by us.
GRASS = stuff((2.0, 3.2, 6.0), (10, 15, 22), (70, 78, 86), (150, 210, 300), role="green")
MANURE = stuff((1.2, 1.7, 3.0), (12, 20, 30), (60, 74, 82), (400, 710, 900), role="green", ash=(10, 20, 45))
CHIPS = stuff((0.06, 0.1, 0.6), (100, 480, 800), (20, 40, 55), (180, 240, 350))
LIME = stuff((0, 0, 0), None, (0, 2, 10), (900, 1100, 1400), role="mineral", carbon=(8, 11, 12))
BUCKET, SACK = spread(8, 11, 15), spread(40, 60, 80)


def buckets(name: str, material: Material, count: float, **more: object) -> Portion:
    return Portion(name, material, count, "bucket", BUCKET, **more)  # type: ignore[arg-type]


BLENDS: dict[str, tuple[list[Portion], float]] = {
    "leaves by the kilogram": ([Portion("leaves", LEAVES, 20, "kg")], 0.0),
    "leaves and grass by the bucket": ([buckets("leaves", LEAVES, 6), buckets("grass", GRASS, 3)], 0.0),
    "four things, vaguely counted, watered": (
        [
            Portion("leaves", LEAVES, 3, "sack", SACK, count_low=2, count_high=4),
            buckets("grass", GRASS, 5, count_low=3, count_high=6),
            buckets("manure", MANURE, 4),
            Portion("chips", CHIPS, 100, "L"),
        ],
        25.0,
    ),
    "stuffed sacks and lime": (
        [
            Portion("leaves", LEAVES, 2, "sack", SACK, packed=True),
            buckets("manure", MANURE, 1),
            Portion("lime", LIME, 2, "kg"),
        ],
        10.0,
    ),
}
NAMES = [field.name for field in fields(BlendFigures)]


# ---------------------------------------------------------------- an independent reckoning


def independent(portions: list[Portion], water: float, value: object) -> dict[str, np.ndarray]:
    """The figures of a blend from first principles; `value` says what each named quantity is."""
    totals: dict[str, object] = dict.fromkeys(("dry", "wet", "n", "c", "litres", "room"), 0.0)
    for number, portion in enumerate(portions):
        m, name = portion.material, portion.material_id
        low = portion.count if portion.count_low is None else portion.count_low
        high = portion.count if portion.count_high is None else portion.count_high
        kg = value(spread(low, portion.count, high), f"count {number}")
        loose = value(m.density, f"{name} density")
        if portion.measure != "kg":
            if portion.measure != "L":
                kg = kg * value(portion.litres, portion.measure)
            packed = portion.packed and m.density_packed is not None
            kg = kg * (value(m.density_packed, f"{name} density") if packed else loose) / 1000
        dry = kg * (1 - value(m.moisture, f"{name} moisture") / 100)
        n = dry * value(m.nitrogen, f"{name} n") / 100
        if m.carbon_nitrogen is not None:
            ratio = value(m.carbon_nitrogen, f"{name} n", turned=True)
            n = np.minimum(n, 0.60 * dry / ratio)
            c = n * ratio
        else:
            c = dry * value(m.carbon, f"{name} c") / 100
        ash = dry * (value(m.ash, f"{name} ash") / 100 if m.ash else float(m.role == "mineral"))
        totals["dry"] += dry
        totals["wet"] += kg
        totals["n"] += n
        totals["c"] += c
        totals["litres"] += kg / loose * 1000
        totals["room"] += (dry - ash) / 1.6 + ash / 2.5 + (kg - dry)
    mass = totals["wet"] + water
    return {
        "carbon_nitrogen": totals["c"] / totals["n"],
        "moisture_pct": 100 * (1 - totals["dry"] / mass),
        "free_air_space_pct": 100 * np.maximum(0, 1 - (totals["room"] + water) / totals["litres"]),
        "nitrogen_kg": totals["n"],
        "volume_l": totals["litres"],
        "mass_kg": mass,
        "bulk_density_kg_m3": mass / totals["litres"] * 1000,
        "dry_kg": totals["dry"],
    }


def two_triangles(figure: Figure, rank: np.ndarray) -> np.ndarray:
    """The stated distribution by another road: the triangular distribution of scipy, half of it each side."""

    def side(c: float, start: float, width: float, share: np.ndarray) -> np.ndarray:
        return stats.triang.ppf(share, c, loc=start, scale=width) if width > 0 else np.full_like(share, start)

    below = side(1, figure.low, figure.typical - figure.low, np.clip(2 * rank, 0, 1))
    above = side(0, figure.typical, figure.high - figure.typical, np.clip(2 * rank - 1, 0, 1))
    return np.where(rank < 0.5, below, above)


def simulated(portions: list[Portion], water: float, draws: int) -> dict[str, np.ndarray]:
    dice, ranks = np.random.default_rng(20240607), {}

    def value(figure: Figure, name: str, turned: bool = False) -> np.ndarray:
        if name not in ranks:
            ranks[name] = dice.random(draws)
        return two_triangles(figure, 1 - ranks[name] if turned else ranks[name])

    return independent(portions, water, value)


def corners(portions: list[Portion], water: float) -> dict[str, np.ndarray]:
    """Every quantity at either end, in all combinations, nitrogen and C:N apart.

    Each figure moves one way in each quantity, so its worst cases are among these.
    """
    names: list[tuple[str, bool]] = []

    def note(figure: Figure, name: str, turned: bool = False) -> float:
        if (name, turned) not in names and figure.low < figure.high:
            names.append((name, turned))
        return figure.typical

    independent(portions, water, note)
    ends = np.array(list(itertools.product((0, 1), repeat=len(names))), dtype=bool)

    def value(figure: Figure, name: str, turned: bool = False) -> object:
        if (name, turned) not in names:
            return figure.typical
        return np.where(ends[:, names.index((name, turned))], figure.high, figure.low)

    return independent(portions, water, value)
