"""What the heat balance works on and what it gives: arrays over draws, each field with its unit."""

from __future__ import annotations

from advisor.heat.air import Floats
from advisor.records import dataclass


@dataclass(frozen=True, slots=True)
class Heap:
    """A heap as the balance sees it. Each field is an array over draws, or one value for all of them.

    Attributes:
        fast_kg, slow_kg: dry matter that decays fast and slowly; inert_kg: the rest of the dry matter, ash in it.
        water_kg: water, with what was added.
        fast_per_day, slow_per_day: first-order rates at the best temperature, all else being right.
        carbon_nitrogen: by mass. air_share: free air space as built (0 to 1), after settling.
        wall_kj_day_k: heat through walls, crust and ground, in kJ per day and K.
        drawn_kg_day: dry air that the heap draws by itself as built, at 55 °C over air of 10 °C, in kg per day.
        blown_kg_day: dry air blown in, in kg per day. seeping_kg_day: dry air that comes in whatever its heat.
        fed_days: days over which it is filled; 0 if it is built at once.
        start_c: temperature of what goes in; None for that of the air on the day.
    """

    fast_kg: Floats
    slow_kg: Floats
    inert_kg: Floats
    water_kg: Floats
    fast_per_day: Floats
    slow_per_day: Floats
    carbon_nitrogen: Floats
    air_share: Floats
    wall_kj_day_k: Floats
    drawn_kg_day: Floats
    blown_kg_day: Floats
    seeping_kg_day: Floats
    fed_days: float = 0.0
    start_c: float | None = None


@dataclass(frozen=True, slots=True)
class Physics:
    """Constants of decay and heat, each an array over draws or one value; rules/heat.toml has them with sources.

    Attributes:
        least_c, best_c, most_c, mild: of `rates.warmth`.
        heat_kj_kg: heat for each kg of dry matter decayed. oxygen_kg_kg, water_made_kg_kg: used and made by it.
        dry_kj_kg_k: specific heat of dry matter. cn_slowing, cn_floor: of `rates.richness`.
        settle_days, settle_floor: its own draught falls by a factor e in so many days, to this share; a turning
            restores it.
        turning_keeps: what is left, after a turning, of the excess over the air (0 to 1).
        dry_from: share of water below which the air no longer leaves saturated.
    """

    least_c: Floats
    best_c: Floats
    most_c: Floats
    mild: Floats
    heat_kj_kg: Floats
    oxygen_kg_kg: Floats
    water_made_kg_kg: Floats
    dry_kj_kg_k: Floats
    cn_slowing: Floats
    cn_floor: Floats
    settle_days: Floats
    settle_floor: Floats
    turning_keeps: Floats
    dry_from: Floats


@dataclass(frozen=True, slots=True)
class Policy:
    """When the heap is turned while it is foreseen.

    `days` are fixed. With `below_c` it is also turned when, after its peak, draw 0 falls under that, or when it lies
    above `above_c`; never sooner than `apart_days` after the last time, and `most` times in all.
    """

    days: tuple[float, ...] = ()
    below_c: float | None = None
    above_c: float = 1000.0
    apart_days: float = 3.0
    most: int = 0
    waters: bool = True  # each turning brings the water back to what it was


@dataclass(frozen=True, slots=True)
class Run:
    """What the balance gives: a row for each moment of `days`, a column for each draw.

    `left` is the share of the fast pool that is left of all that goes in. The heats are in kJ from the start to the
    end: `stored` + `lost_wall` + `lost_air` = `made` + `brought`, where `brought` is what fillings and turnings carried
    in (less what they carried out), and `stored` the rise of the heap's own heat.
    """

    days: Floats
    celsius: Floats
    left: Floats
    wet_share: Floats
    oxygen_factor: Floats
    turned: tuple[float, ...]
    made: Floats
    brought: Floats
    lost_wall: Floats
    lost_air: Floats
    stored: Floats
