"""A heap's heat foreseen: the peak, its day, the hot days, the turnings, and what a change would bring."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, replace
from typing import Any, Literal, TypeVar

import numpy as np

from advisor.blend.shapes import Range
from advisor.heap.ranges import figure
from advisor.heat.air import Floats
from advisor.heat.balance import Weather, run
from advisor.heat.draws import Draws
from advisor.heat.setting import Setting, Tables, heap, moisture_pct, physics
from advisor.heat.shapes import Heap, Physics, Policy, Run
from advisor.heat.thumb import Thumb, thumb
from advisor.records import dataclass

DAYS = 60
#: Draws for each change that is asked about.
CHANGE_DRAWS = 40
_COMPARED_DAYS = 30.0
_LOW, _HIGH = 0.1, 0.9
_PLATEAU_K = 1.0
#: Over the air by less than this, the doubt of the balance shrinks with the rise.
_FULL_DOUBT_K = 25.0
_HOTTEST_C = 80.0

Air = Callable[[Draws], Weather]
InFront = Literal["balance", "thumb", "both"]
_Arrays = TypeVar("_Arrays", Heap, Physics)


@dataclass(frozen=True, slots=True)
class Band:
    """The heat on a day: 8 heaps in 10 lie from low to high; `left` is the share of the fast food left by then."""

    day: float
    low: float
    typical: float
    high: float
    air: float
    left: float


@dataclass(frozen=True, slots=True)
class Change:
    """What one change does to the peak: its name, the peak then, and the difference, in °C and K."""

    name: str
    peak_c: float
    differs_k: float
    hot_days: float


@dataclass(frozen=True, slots=True)
class Foreseen:
    """A heap's heat foreseen.

    Attributes:
        bands: a band a day, from day 0. peak_c, peak_day: of the balance, with its doubt in the range.
        warm_days, hot_days: days at 40 °C and at 55 °C or more.
        turnings: days on which to turn it.
        thumb: what the rules of thumb say.
        in_front: which of the balance, the rules of thumb and the mean of both has been nearest at this size.
        off_k: the mean error of each at this size, on published courses.
        changes: what if.
    """

    bands: tuple[Band, ...]
    peak_c: Range
    peak_day: Range
    warm_days: Range
    hot_days: Range
    turnings: tuple[float, ...]
    thumb: Thumb
    in_front: InFront
    off_k: Mapping[InFront, float]
    changes: tuple[Change, ...] = ()

    @property
    def front(self) -> Range:
        """The peak that is told first, in °C."""
        if self.in_front == "balance":
            return self.peak_c
        rules, own = self.thumb.peak_c, self.off_k[self.in_front]
        low, typical, high = rules.low, rules.typical, rules.high
        if self.in_front == "both":
            low, typical, high = (
                (mine + theirs) / 2
                for mine, theirs in zip(
                    (self.peak_c.low, self.peak_c.typical, self.peak_c.high), (low, typical, high), strict=True
                )
            )
        # what was read off by so much is not told more closely
        return Range(min(low, typical - own), typical, max(high, typical + own))


def foresee(
    setting: Setting,
    tables: Tables,
    air: Air,
    *,
    turned: Sequence[float] = (),
    may_turn: bool = True,
    changes: Mapping[str, tuple[Setting, Air]] | None = None,
    days: float = DAYS,
    draws: Draws | None = None,
) -> Foreseen:
    """What a heap's heat may be.

    Args:
        air: gives the weather of so many draws.
        turned: days on which it was turned or will be; the forecast adds its own after the last of them.
        may_turn: whether it is turned at all when it asks for it.
        changes: settings and air to compare with, by name.
    """
    draws = draws or Draws()
    weather = air(draws)
    policy = _policy(tables, turned, may_turn)
    found = run(heap(setting, tables, draws), physics(tables, draws), weather, days, policy)
    doubt = figure(tables.figures, "balance-doubt-k").typical
    litres = setting.litres * figure(tables.figures, "settles-to-share").typical
    start_air = float(weather(0.0).flat[0])
    judged = thumb(
        litres,
        start_air,
        tables.figures,
        fed_days=setting.fed_days,
        insulated=setting.insulated_mm >= 20 or setting.vessel in ("insulated-bin", "straw-bales"),
        moisture=moisture_pct(setting.goes, setting.water_kg),
    )
    off: dict[InFront, float] = {
        who: figure(tables.figures, f"off-{who}-{judged.size}").typical for who in ("both", "thumb", "balance")
    }
    peaks, peak_days = _peaks(found)
    rise = peaks[0] - start_air
    return Foreseen(
        bands=tuple(_bands(found, weather, doubt, days)),
        peak_c=_doubted(_range(peaks), rise, doubt),
        peak_day=_range(peak_days),
        warm_days=_range(_days_at(found, figure(tables.figures, "warm-c").typical)),
        hot_days=_range(_days_at(found, figure(tables.figures, "hot-c").typical)),
        turnings=found.turned,
        thumb=judged,
        in_front=min(off, key=lambda who: off[who]),
        off_k=off,
        changes=tuple(_changes(setting, air, tables, changes or {}, days)),
    )


def _policy(tables: Tables, turned: Sequence[float], may_turn: bool) -> Policy:
    if not may_turn:
        return Policy(days=tuple(turned))
    return Policy(
        days=tuple(turned),
        below_c=figure(tables.figures, "turn-below-c").typical,
        above_c=figure(tables.figures, "turn-above-c").typical,
        apart_days=figure(tables.figures, "turn-apart-days").typical,
        most=len(turned) + 4,
    )


def _changes(
    setting: Setting, air: Air, tables: Tables, changes: Mapping[str, tuple[Setting, Air]], days: float
) -> list[Change]:
    """Each change against the heap as it is, all unturned, with the same draws, and in one run."""
    if not changes:
        return []
    draws = Draws(CHANGE_DRAWS)
    cases = [(setting, air), *changes.values()]
    heaps = [heap(one, tables, draws) for one, _ in cases]
    weathers = [over(draws) for _, over in cases]
    found = run(
        beside_one_another(heaps),
        beside_one_another([physics(tables, draws)] * len(cases)),
        lambda day: np.concatenate([each(day) for each in weathers]),
        min(days, _COMPARED_DAYS),
    )
    peaks = np.median(found.celsius.max(axis=0).reshape(len(cases), -1), axis=1)
    hot = np.median(_days_at(found, figure(tables.figures, "hot-c").typical).reshape(len(cases), -1), axis=1)
    return [
        Change(name, float(peak), float(peak - peaks[0]), float(days_hot))
        for name, peak, days_hot in zip(changes, peaks[1:], hot[1:], strict=True)
    ]


def beside_one_another(cases: Sequence[_Arrays]) -> _Arrays:
    """Several heaps, or several sets of constants, as one with the draws of all side by side.

    What is no array (how long it is fed, how warm it starts) is that of the first.
    """
    joined: dict[str, Any] = {
        each.name: np.concatenate([getattr(case, each.name) for case in cases])
        for each in fields(cases[0])
        if isinstance(getattr(cases[0], each.name), np.ndarray)
    }
    return replace(cases[0], **joined)


def bigger(setting: Setting, times: float) -> Setting:
    """The same heap, so many times as much of everything."""
    return replace(
        setting,
        goes=tuple(replace(each, kg=each.kg * times) for each in setting.goes),
        litres=setting.litres * times,
        water_kg=setting.water_kg * times,
    )


def _peaks(found: Run) -> tuple[Floats, Floats]:
    """The hottest of each draw, and its day: the first within 1 K of it, since a plateau has no day of its own."""
    peaks = found.celsius.max(axis=0)
    return peaks, found.days[np.argmax(found.celsius >= peaks - _PLATEAU_K, axis=0)]


def _days_at(found: Run, celsius: float) -> Floats:
    """Days at a heat or more, for each draw, counted by the steps between moments."""
    steps = np.diff(found.days)[:, None]
    both = np.minimum(found.celsius[1:], found.celsius[:-1]) >= celsius
    result: Floats = (steps * both).sum(axis=0)
    return result


def _range(values: Floats) -> Range:
    """Draw 0 as typical, with the range that holds 8 draws in 10, widened to take draw 0 in."""
    low, high = (float(each) for each in np.quantile(values, (_LOW, _HIGH)))
    typical = float(values[0])
    return Range(min(low, typical), typical, max(high, typical))


def _doubted(found: Range, rise: float, doubt: float) -> Range:
    """A range of temperatures with the doubt of the balance itself added: independent, so by the root of squares."""
    own = doubt * min(max(rise, 0.0) / _FULL_DOUBT_K, 1.0)
    low = found.typical - float(np.hypot(found.typical - found.low, own))
    high = found.typical + float(np.hypot(found.high - found.typical, own))
    return Range(low, found.typical, min(high, max(_HOTTEST_C, found.high)))


def _bands(found: Run, weather: Weather, doubt: float, days: float) -> list[Band]:
    bands = []
    for day in range(int(days) + 1):
        place = min(int(np.searchsorted(found.days, day)), len(found.days) - 1)
        air = float(weather(float(day)).flat[0])
        heat = _range(found.celsius[place])
        shown = _doubted(heat, heat.typical - air, doubt)
        bands.append(Band(float(day), shown.low, shown.typical, shown.high, air, float(found.left[place, 0])))
    return bands
