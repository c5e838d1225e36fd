"""A year of composting, week by week: what to put by, what to add when, and which batch it goes to.

Weeks belong to months; what is decided once a month (how many sacks to put by or to fetch, where a new batch begins) is
whole numbers, what is forked in each week is any amount. With m a material, t a week, k a month, b a batch:

    perishable      used[m,t] + lost[m,t] = comes[m,t]
    storable        stock[m,t] = stock[m,t-1] + gathered[m,t] - used[m,t],   gathered[m,t] <= comes[m,t]
                    gathered over a month is a whole number of measures; the stocks together fit the storage
    fetched         used[m] over a month is a whole number of measures fetched
    batches         one is open each month, in their order; a bay is free again once its batch has ripened
    in the heap     level[t] >= shrink level[t-1] + used[t], anew where a batch begins;   level[t] <= the container
    windows         for each batch the lines of offers.py: C >= R N, R N >= C, H >= G M, G M >= H, V - S >= F V,
                    each with what it falls short by; for each month C >= R N again, since a heap that is right by the
                    end of the year is none the better for a month of bare grass
    shares          cap V_b >= the material's volume in the batch, always kept

One wish after another, each given up for none that follows (year_program.py): the windows are missed by least, each by
the share of everything that comes; the least of what spoils is left out, by volume, what has no other way to go
weighing more; the fewest measures are fetched; the fewest batches are begun; C:N of each week and moisture of each
batch lie near their aims; the fewest measures are put by; little water; what is put by is used early. Without
`balanced`, the first two change places: rather than leave anything out, a batch is let go wrong.

The balances are the mix formula and the moisture goal of Cornell's compost pages, read (`cornell-mix-formula`,
`cornell-moisture-goal`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from advisor.blend.mix import ASH_KG_M3, ORGANIC_KG_M3
from advisor.blend.shapes import Composition, Window
from advisor.errors import HouseholdError
from advisor.records import dataclass

#: Longer or richer than this is no household's year, and the program would take too long.
MOST_WEEKS, MOST_MATERIALS, MOST_BATCHES = 60, 20, 6
MOST_LITRES = 1e6


@dataclass(frozen=True, slots=True)
class Stream:
    """A material through the year.

    Attributes:
        id: the material.
        composition: what it typically is.
        comes_l: litres that come in each week, loose.
        unit_l: litres of the measure it is put by or fetched in.
        keeps: it can be stored; otherwise it is used in the week it comes, or lost.
        there_l: litres in store at the beginning.
        stored_l_per_l: litres of storage that a loose litre takes up: less than 1 if it is trodden in.
        fetch_most: measures that may be fetched in a month beside what comes; 0 for none.
        share_cap: the largest share of a batch's volume, 0 to 1.
        spare: what leaving a litre of it out weighs beside others; more for what has no other way to go.
    """

    id: str
    composition: Composition
    comes_l: tuple[float, ...]
    unit_l: float
    keeps: bool = False
    there_l: float = 0.0
    stored_l_per_l: float = 1.0
    fetch_most: int = 0
    share_cap: float | None = None
    spare: float = 1.0


@dataclass(frozen=True, slots=True)
class Year:
    """What is to be planned.

    Attributes:
        streams: what comes in.
        month_of: for each week the number of its month, from 0, rising by 0 or 1.
        storage_l: room for what keeps, in litres.
        container_l: what one bay, bin or heap holds.
        bays: how many of them there are.
        ripens_months: months from the last load of a batch until its bay is free again.
        shrink: what is left after a week of what was there, 0 to 1.
        carbon_nitrogen, moisture, air_space: the windows of each batch; None: of no concern.
        most_batches: no more batches than this are begun.
        balanced: a batch within its windows comes before using up what spoils.
    """

    streams: tuple[Stream, ...]
    month_of: tuple[int, ...]
    storage_l: float
    container_l: float
    bays: int = 1
    ripens_months: int = 6
    shrink: float = 0.97
    carbon_nitrogen: Window | None = None
    moisture: Window | None = None
    air_space: Window | None = None
    most_batches: int = 4
    balanced: bool = True

    @property
    def weeks(self) -> int:
        return len(self.month_of)

    @property
    def months(self) -> int:
        return self.month_of[-1] + 1

    @property
    def batches(self) -> int:
        """How many batches may be begun: one bay is fed all year long."""
        return min(1 if self.bays == 1 else self.most_batches, self.months)


@dataclass(frozen=True, slots=True)
class Misses:
    """By how much the windows of a batch are missed: kg of carbon and of water, litres of air. Nought where met."""

    carbon_kg: float = 0.0
    water_kg: float = 0.0
    air_l: float = 0.0

    @property
    def any(self) -> bool:
        """Whether one is missed by more than the solver's own rounding."""
        return self.carbon_kg > 0.01 or self.water_kg > 0.02 or self.air_l > 0.5


@dataclass(frozen=True, slots=True)
class Batch:
    """A batch: the months it is fed in, first and last, and what it comes to; C:N is infinite with no nitrogen."""

    first_month: int
    last_month: int
    litres: float
    carbon_nitrogen: float
    moisture_pct: float
    misses: Misses


@dataclass(frozen=True, slots=True)
class YearPlan:
    """How the year goes. Amounts in loose litres, by stream in order and then by week or month.

    Attributes:
        used_l, lost_l, stock_l: by stream and week.
        gathered, fetched: measures by stream and month.
        left_l: by stream: litres of what keeps that came and were not put by.
        water_l: by month.
        short_kg: by month: carbon that its loads want to reach the lower edge of C:N by themselves.
        level_l: what is in the open batch at the end of each week.
        batch_of: the number of the batch open in each month.
        batches: each batch that got anything or was begun.
        wishes: what each wish came to, in the order of their weight.
    """

    used_l: tuple[tuple[float, ...], ...]
    lost_l: tuple[tuple[float, ...], ...]
    stock_l: tuple[tuple[float, ...], ...]
    gathered: tuple[tuple[int, ...], ...]
    fetched: tuple[tuple[int, ...], ...]
    left_l: tuple[float, ...]
    water_l: tuple[float, ...]
    short_kg: tuple[float, ...]
    level_l: tuple[float, ...]
    batch_of: tuple[int, ...]
    batches: tuple[Batch, ...]
    wishes: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class PerLitre:
    """What a loose litre brings: kg of mass, water, carbon and nitrogen, litres that are not air."""

    mass: float
    water: float
    carbon: float
    nitrogen: float
    filled: float


def per_litre(stuff: Composition) -> PerLitre:
    """A litre of it, by the balances of offers.py."""
    mass = stuff.density_kg_m3 / 1000.0
    water = mass * stuff.moisture_pct / 100.0
    dry = mass - water
    ash = stuff.ash_pct / 100.0
    filled = water + dry * 1000.0 * ((1.0 - ash) / ORGANIC_KG_M3 + ash / ASH_KG_M3)
    return PerLitre(mass, water, dry * stuff.carbon_pct / 100.0, dry * stuff.nitrogen_pct / 100.0, filled)


def check(year: Year) -> None:
    """Refuse what cannot be reckoned with.

    Raises:
        HouseholdError: an amount is out of all bounds, or the weeks and what comes in them do not go together.
    """
    if not 1 <= year.weeks <= MOST_WEEKS:
        raise HouseholdError(f"a year of {year.weeks} weeks", hint=f"it has 1 to {MOST_WEEKS}")
    if len(year.streams) > MOST_MATERIALS:
        raise HouseholdError(f"{len(year.streams)} materials", hint=f"plan with no more than {MOST_MATERIALS} at once")
    steps = [after - before for before, after in zip(year.month_of, year.month_of[1:], strict=False)]
    if year.month_of[0] != 0 or not set(steps) <= {0, 1}:
        raise HouseholdError("the months of the weeks are not in order")
    _bounds("storage", year.storage_l, 0.0, MOST_LITRES)
    there = sum(stream.there_l * stream.stored_l_per_l for stream in year.streams)
    if there > year.storage_l * (1 + 1e-9):
        raise HouseholdError(f"{there:g} L in store at the beginning", hint=f"the store holds {year.storage_l:g} L")
    _bounds("container", year.container_l, 1.0, MOST_LITRES)
    _bounds("bays", year.bays, 1, 20)
    _bounds("most batches", year.most_batches, 1, MOST_BATCHES)
    _bounds("shrink", year.shrink, 0.0, 1.0)
    for stream in year.streams:
        if len(stream.comes_l) != year.weeks:
            raise HouseholdError(f"{len(stream.comes_l)} weeks of it in a year of {year.weeks}", where=stream.id)
        for litres in (*stream.comes_l, stream.there_l):
            _bounds("amount", litres, 0.0, MOST_LITRES, stream.id)
        _bounds("measure", stream.unit_l, 0.01, 20_000.0, stream.id)
        _bounds("weight", stream.spare, 0.0, 100.0, stream.id)


def _bounds(name: str, value: float, low: float, high: float, where: str = "") -> None:
    if not low <= value <= high:
        raise HouseholdError(f"{name} of {value:g}", where=where, hint=f"it lies between {low:g} and {high:g}")


def plan_year(year: Year) -> YearPlan:
    """The best year, one wish after another (see above). The same year always gets the same plan.

    Raises:
        HouseholdError: it cannot be reckoned with (see `check`).
    """
    check(year)
    from advisor.blend.year_program import YearProgram

    return YearProgram(year).solve()


def weeks_of(months: Sequence[int]) -> dict[int, list[int]]:
    """The weeks of each month."""
    found: dict[int, list[int]] = {}
    for week, month in enumerate(months):
        found.setdefault(month, []).append(week)
    return found


def ratio(carbon: float, nitrogen: float) -> float:
    """C:N; infinite with no nitrogen."""
    return carbon / nitrogen if nitrogen > 1e-9 else math.inf


def everything(year: Year, stuff: Sequence[PerLitre]) -> tuple[float, float, float]:
    """Carbon, mass and volume of all that comes, by which misses are weighed."""
    litres = [sum(stream.comes_l) + stream.there_l for stream in year.streams]
    carbon = sum(amount * one.carbon for amount, one in zip(litres, stuff, strict=True))
    mass = sum(amount * one.mass for amount, one in zip(litres, stuff, strict=True))
    return max(carbon, 1e-6), max(mass, 1e-6), max(sum(litres), 1e-6)


def weighed(year: Year, stuff: Sequence[PerLitre]) -> tuple[float, float]:
    """Nitrogen and mass of all that comes, by which strays are weighed."""
    litres = [sum(stream.comes_l) + stream.there_l for stream in year.streams]
    nitrogen = sum(amount * one.nitrogen for amount, one in zip(litres, stuff, strict=True))
    mass = sum(amount * one.mass for amount, one in zip(litres, stuff, strict=True))
    return max(nitrogen, 1e-6), max(mass, 1e-6)
