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
    small, cold_air, slowly, dry, sodden, large = (
        figure(figures, name).typical
        for name in (
            "thumb-bare-litres",
            "thumb-cold-air-c",
            "thumb-fed-days",
            "thumb-dry-pct",
            "thumb-sodden-pct",
            "large-heap-litres",
        )
    )
    bare = litres <= small and not insulated and air_c < cold_air
    cold = fed_days > slowly or bare or not dry <= moisture <= sodden
    if cold:
        rise = figure(figures, "thumb-cold-rise-k")
        peak = Range(air_c + rise.low, air_c + rise.typical, air_c + rise.high)
    else:
        peak = scaled(figure(figures, f"thumb-peak-{size}"), 1.0)
    day = figure(figures, "thumb-peak-day-large" if litres >= large else "thumb-peak-day")
    return Thumb(size, cold, peak, scaled(day, 1.0))
