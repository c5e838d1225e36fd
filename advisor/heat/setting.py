"""A heap of materials in a vessel, made ready for the balance: its pools, its water, its walls and its draught.

Litres, kg, °C; every figure comes from rules/heat.toml and rules/decay.toml, and spreads as they say.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Literal

import numpy as np

from advisor.blend.mix import ASH_KG_M3, ORGANIC_KG_M3, WATER_KG_M3
from advisor.errors import RuleBaseError
from advisor.heap.ranges import Figures, figure
from advisor.heat.air import Floats
from advisor.heat.draws import Draws
from advisor.heat.shapes import Heap, Physics
from advisor.knowledge.heat_shapes import Decay
from advisor.knowledge.shapes import Material
from advisor.records import dataclass

Vessel = Literal["heap", "open-bin", "closed-bin", "tumbler", "insulated-bin", "straw-bales"]
VESSELS: tuple[Vessel, ...] = ("heap", "open-bin", "closed-bin", "tumbler", "insulated-bin", "straw-bales")

_L_PER_M3 = 1000.0
_KJ_DAY_PER_W = 86.4
_HOURS = 24.0
_AIR_KG_M3 = 1.2  # dry air at 20 °C (general tables, from memory)
_LEAST_AIR = 0.05


@dataclass(frozen=True, slots=True)
class Goes:
    """So many kg of a material, as it comes; `own` if the household's own figures are used."""

    name: str
    material: Material
    kg: float


@dataclass(frozen=True, slots=True)
class Setting:
    """A heap to be foreseen.

    Attributes:
        goes: what goes in. water_kg: water added to it.
        litres: the volume of all that goes in, as tipped; it sinks by the share `settles-to-share` within days.
        vessel: what it lies in. insulated_mm: insulation round it, in mm of foam or as good.
        fed_days: days over which it is filled; 0 if it is built at once.
        blown_kg_day: dry air blown in, kg per day. wall_w_k: heat through its walls in W/K, where it was measured.
        start_c: temperature of what goes in; None for that of the air.
        carbon_nitrogen: C:N if it was measured; None to work it out.
    """

    goes: tuple[Goes, ...]
    litres: float
    water_kg: float = 0.0
    vessel: Vessel = "heap"
    insulated_mm: float = 0.0
    fed_days: float = 0.0
    blown_kg_day: float = 0.0
    wall_w_k: float | None = None
    start_c: float | None = None
    carbon_nitrogen: float | None = None


@dataclass(frozen=True, slots=True)
class Tables:
    """What rules/heat.toml and rules/decay.toml say."""

    figures: Figures
    decay: Mapping[str, Decay]


def decay_of(name: str, material: Material, tables: Tables) -> Decay:
    """The class of a material. Raises RuleBaseError if it has none."""
    for decay in tables.decay.values():
        if decay.holds(name, material):
            return decay
    raise RuleBaseError((f"rules/decay.toml: no class holds {name}",))


def moisture_pct(goes: Sequence[Goes], water_kg: float = 0.0) -> float:
    """Moisture of what goes in at typical figures, % of wet weight."""
    wet = math.fsum(each.kg for each in goes) + water_kg
    water = math.fsum(each.kg * each.material.moisture.typical / 100 for each in goes) + water_kg
    return 100 * water / wet if wet > 0 else 0.0


def water_to(goes: Sequence[Goes], moisture: float) -> float:
    """kg of water that bring what goes in to a moisture (% of wet weight); 0 if it is as wet already."""
    wet = math.fsum(each.kg for each in goes)
    water = math.fsum(each.kg * each.material.moisture.typical / 100 for each in goes)
    return max(0.0, (moisture / 100 * wet - water) / (1 - moisture / 100))


def physics(tables: Tables, draws: Draws) -> Physics:
    """The constants of rules/heat.toml, drawn."""

    def of(name: str) -> Floats:
        return draws.of(figure(tables.figures, name), name)

    return Physics(
        least_c=of("decay-least-c"),
        best_c=of("decay-best-c"),
        most_c=of("decay-most-c"),
        mild=of("decay-mild-share"),
        heat_kj_kg=1000.0 * of("heat-mj-per-kg-decayed"),
        oxygen_kg_kg=of("oxygen-kg-per-kg-decayed"),
        water_made_kg_kg=of("water-kg-per-kg-decayed"),
        dry_kj_kg_k=of("dry-matter-kj-per-kg-k"),
        cn_slowing=of("cn-slowing-per-unit"),
        cn_floor=of("cn-slowest-share"),
        settle_days=of("draught-settles-days"),
        settle_floor=of("draught-settled-share"),
        turning_keeps=of("turning-keeps-share"),
        dry_from=of("dry-below-share"),
    )


def heap(setting: Setting, tables: Tables, draws: Draws) -> Heap:
    """A setting as the balance takes it, drawn."""
    fast, slow, inert, water, ash, carbon, nitrogen, fast_rate, slow_rate = np.zeros((9, draws.count))
    for each in setting.goes:
        material, name = each.material, each.name
        decay = decay_of(name, material, tables)
        kg = each.kg * draws.of(material.density, f"{name} density") / material.density.typical
        wet = draws.of(material.moisture, f"{name} moisture") / 100
        dry = kg * (1 - wet)
        own_ash = dry * (draws.of(material.ash, f"{name} ash") / 100 if material.ash else _plain_ash(material))
        kind = f"{decay.name} decay"
        decays = (dry - own_ash) * draws.of(decay.degradable, f"{kind}: degradable") / 100
        quick = decays * draws.of(decay.fast, f"{kind}: fast") / 100
        fast, slow, inert = fast + quick, slow + decays - quick, inert + dry - decays
        water, ash = water + kg * wet, ash + own_ash
        fast_rate = fast_rate + quick * draws.of(decay.fast_per_day, f"{kind}: fast rate")
        slow_rate = slow_rate + (decays - quick) * draws.of(decay.slow_per_day, f"{kind}: slow rate")
        if material.carbon_nitrogen is not None:
            feeds = material.feeds.typical / 100 if material.feeds else 1.0
            own_nitrogen = dry * material.nitrogen.typical / 100
            nitrogen, carbon = nitrogen + own_nitrogen, carbon + own_nitrogen * material.carbon_nitrogen.typical * feeds
    water = water + setting.water_kg
    sinks = figure(tables.figures, "settles-to-share")
    volume = setting.litres / _L_PER_M3 * sinks.typical
    solid = (fast + slow + inert - ash) / ORGANIC_KG_M3 + ash / ASH_KG_M3 + water / WATER_KG_M3
    settles = draws.of(sinks, "settles-to-share") / sinks.typical
    air_share = np.maximum(1 - solid / (volume * settles), _LEAST_AIR)
    ratio = carbon / np.maximum(nitrogen, 1e-9)
    if setting.carbon_nitrogen is not None:
        ratio = np.full(draws.count, setting.carbon_nitrogen)
    speed = draws.times(figure(tables.figures, "rate-doubt-factor").typical, "rate doubt")
    return Heap(
        fast_kg=fast,
        slow_kg=slow,
        inert_kg=inert,
        water_kg=water,
        fast_per_day=speed * fast_rate / np.maximum(fast, 1e-12),
        slow_per_day=speed * slow_rate / np.maximum(slow, 1e-12),
        carbon_nitrogen=ratio,
        air_share=air_share,
        wall_kj_day_k=_walls(setting, volume, tables, draws),
        drawn_kg_day=_draught(setting, volume, air_share, tables, draws),
        blown_kg_day=np.full(draws.count, setting.blown_kg_day),
        seeping_kg_day=(
            draws.of(figure(tables.figures, "seeping-m3-per-m2-hour"), "seeping-m3-per-m2-hour")
            * _HOURS * _AIR_KG_M3 * surface_m2(volume, tables)
            * (0.0 if setting.blown_kg_day else 1.0)
        ),
        fed_days=setting.fed_days,
        start_c=setting.start_c,
    )  # fmt: skip


def surface_m2(volume_m3: float, tables: Tables) -> float:
    """All faces of a body, the ground's too: a cube up to the height that heaps have, and then a row as high and wide.

    Source: geometry.
    """
    side = min(math.cbrt(volume_m3), figure(tables.figures, "foreseen-height-m").typical)
    return 2 * side**2 + 4 * volume_m3 / side


def _walls(setting: Setting, volume: float, tables: Tables, draws: Draws) -> Floats:
    """Heat from the core to the air, kJ per day and K: through the compost itself, the wall, and the film of air.

    With even heating a ball of half-size L is warmer at its core than at its face by q L² / (6 lambda), so that the
    compost resists with L / (2 lambda) for each m² of face. Source: conduction with even heating, Carslaw and Jaeger,
    Conduction of Heat in Solids, Oxford, 1959 (from memory).
    """
    if setting.wall_w_k is not None:
        return np.full(draws.count, setting.wall_w_k * _KJ_DAY_PER_W)
    named = tables.figures

    def of(name: str) -> Floats:
        return draws.of(figure(named, name), name)

    area = surface_m2(volume, tables)
    half = 3 * volume / area
    resists = of(f"wall-{setting.vessel}-m2-k-per-w")
    resists = resists + setting.insulated_mm / 1000 / figure(named, "foam-w-per-m-k").typical
    resists = resists + half / (2 * of("compost-w-per-m-k")) + 1 / of("film-w-per-m2-k")
    ground = min(math.cbrt(volume), figure(named, "foreseen-height-m").typical)
    ground = volume / ground
    faces = area - ground + of("ground-share") * ground
    result: Floats = _KJ_DAY_PER_W * faces / resists
    return result


def _draught(setting: Setting, volume: float, air_share: Floats, tables: Tables, draws: Draws) -> Floats:
    """Dry air that a warm heap draws by itself, kg per day, at 55 °C in air of 10 °C."""
    named = tables.figures
    if setting.blown_kg_day:
        return np.zeros(draws.count)
    base = volume / min(math.cbrt(volume), figure(named, "foreseen-height-m").typical)
    middle = draws.of(figure(named, "draught-m3-per-m2-hour"), "draught-m3-per-m2-hour")
    steep = draws.of(figure(named, "draught-per-air-share"), "draught-per-air-share")
    speed = middle * np.exp(steep * np.minimum(np.maximum(air_share, 0.2), 0.65) - 0.5 * steep)
    vent = draws.of(figure(named, f"vent-{setting.vessel}-share"), f"vent {setting.vessel}")
    result: Floats = base * _HOURS * _AIR_KG_M3 * speed * vent
    return result


def _plain_ash(material: Material) -> float:
    return 1.0 if material.role == "mineral" else 0.0  # as blend/spread.py takes it
