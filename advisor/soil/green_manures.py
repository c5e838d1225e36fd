"""Green manures: seed for a bed, and the windows for sowing, cutting and planting that the frosts leave.

All dates follow from the last frost of one spring and the first frost of the autumn after it, so that north and south
need no word for which is which.
"""

from __future__ import annotations

from datetime import date, timedelta

from advisor.blend.shapes import Range
from advisor.heap.ranges import Figures, figure, plain, scaled
from advisor.knowledge.soil_shapes import GreenManure
from advisor.records import dataclass


@dataclass(frozen=True, slots=True)
class Season:
    """A growing season, from its last frost to its first.

    Where it never freezes these are the day the year is begun, with the rains or as the heat breaks, and the day its
    main growing ends.
    """

    last_frost: date
    first_frost: date
    freezes: bool = True

    def __post_init__(self) -> None:
        if not self.last_frost < self.first_frost:
            raise ValueError("the first frost of autumn comes after the last of spring")

    @property
    def weeks(self) -> float:
        return (self.first_frost - self.last_frost).days / 7


@dataclass(frozen=True, slots=True)
class Window:
    """From one day up to and including another."""

    opens: date
    closes: date

    def holds(self, day: date) -> bool:
        return self.opens <= day <= self.closes


#: Of a year without frost, the weeks counted as its main growing; the rest is for cover. Our own division.
FROSTLESS_WEEKS = 40


def frostless_season(begins: date) -> Season:
    """A season where it never freezes, from the day on which the year is begun."""
    return Season(begins, begins + timedelta(weeks=FROSTLESS_WEEKS), freezes=False)


def season_of(year: int, last_frost: tuple[int, int], first_frost: tuple[int, int]) -> Season:
    """The season whose last frost falls in a year.

    Args:
        last_frost, first_frost: month and day. A first frost earlier in the calendar falls in the year after: so it is
            in the south.

    Raises:
        ValueError: no such day.
    """
    last = _day(year, last_frost)
    first = _day(year, first_frost)
    return Season(last, first if first > last else _day(year + 1, first_frost))


def _day(year: int, month_day: tuple[int, int]) -> date:
    month, day = month_day
    if (month, day) == (2, 29):
        return date(year, 3, 1) - timedelta(days=1)
    try:
        return date(year, month, day)
    except ValueError:
        raise ValueError(f"there is no day {day} in month {month}") from None


def seed_grams(area_m2: float, crop: GreenManure, figures: Figures, *, mixed: bool = False) -> Range:
    """Seed for a bed, broadcast; `mixed` with another crop, so much of the full rate as two together take.

    Raises:
        ValueError: no area.
    """
    if not area_m2 > 0:
        raise ValueError("a bed has some area")
    share = figure(figures, "green-manure-mix-share-pct").typical / 100 if mixed else 1.0
    return scaled(plain(crop.grams_per_m2), area_m2 * share)


def sowing(crop: GreenManure, season: Season) -> Window | None:
    """When to sow it in a season; None if the season is too short for it."""
    start = season.first_frost if crop.sow == "autumn" else season.last_frost
    end = season.last_frost if crop.sow == "spring" else season.first_frost
    opens, closes = start + timedelta(weeks=crop.sow_from_week), end + timedelta(weeks=crop.sow_until_week)
    return Window(opens, closes) if opens <= closes else None


def cutting(crop: GreenManure, sown: date, next_last_frost: date) -> Window:
    """When to cut what was sown on a day; what stands over winter is cut in the weeks about the next last frost."""
    if crop.cut_days is not None:
        return Window(*(sown + timedelta(days=days) for days in crop.cut_days))
    return Window(next_last_frost - timedelta(weeks=2), next_last_frost + timedelta(weeks=2))


def planting_from(crop: GreenManure, cut: date) -> Window:
    """The first days on which to plant or sow after it: set out plants from the first, sow small seeds by the last."""
    return Window(*(cut + timedelta(weeks=weeks) for weeks in crop.wait_weeks))
