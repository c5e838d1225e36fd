"""The rules of thumb for how hot a heap gets, by size, feeding and season alone."""

from __future__ import annotations

from advisor.blend.shapes import Range
from advisor.heap.ranges import Figures, figure, scaled
from advisor.records import dataclass

#: Sizes by the name that rules/heat.toml gives them, each with the litres (as it lies) up to which it holds.
SIZES: tuple[tuple[str, float], ...] = (
    ("to-20-l", 20.0),
    ("to-100-l", 100.0),
    ("to-400-l", 400.0),
    ("to-1000-l", 999.0),
    ("beyond", float("inf")),
)

_COLD_AIR_C, _BARE_L = 10.0, 300.0
_FED_DAYS = 100.0  # fed by less than 1 % of the volume a day
_DRY_PCT, _SODDEN_PCT = 40.0, 80.0
_LARGE_L = 3000.0


@dataclass(frozen=True, slots=True)
class Thumb:
    """What the rules of thumb say: the size's name, whether it stays cold, the peak in °C, and its day."""

    size: str
    cold: bool
    peak_c: Range
    peak_day: Range


def thumb(
    litres: float, air_c: float, figures: Figures, *, fed_days: float = 0.0, insulated: bool = False, moisture: float
) -> Thumb:
    """The rules of thumb for a heap of so many litres as it lies, in air of so many °C, of a moisture in %."""
    size = next(name for name, most in SIZES if litres <= most)
    bare = litres <= _BARE_L and not insulated and air_c < _COLD_AIR_C
    cold = fed_days > _FED_DAYS or bare or not _DRY_PCT <= moisture <= _SODDEN_PCT
    if cold:
        rise = figure(figures, "thumb-cold-rise-k")
        peak = Range(air_c + rise.low, air_c + rise.typical, air_c + rise.high)
    else:
        peak = scaled(figure(figures, f"thumb-peak-{size}"), 1.0)
    day = figure(figures, "thumb-peak-day-large" if litres >= _LARGE_L else "thumb-peak-day")
    return Thumb(size, cold, peak, scaled(day, 1.0))
