"""Stocks to make recipes of, and three independent reckonings of them: plain sums, every mix there is, and scipy."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from advisor.blend.offers import Offer, Windows
from advisor.blend.shapes import Composition, Window

#: Made up for the tests, of the kind that tables print: nitrogen in % of dry mass, C:N, moisture in %, kg/m3, ash in %,
#: whether it spoils, whether it keeps.
STUFF = {
    "cardboard": (0.1, 450, 8, 60, 5, False, True),
    "chips": (0.25, 190, 40, 250, 3, False, True),
    "coffee": (2.2, 20, 60, 430, 3, True, False),
    "grass": (3.4, 17, 82, 210, 12, True, False),
    "hay": (1.5, 30, 12, 80, 8, False, False),
    "hen-manure": (4.0, 9, 55, 450, 25, True, False),
    "horse-manure": (1.6, 30, 72, 480, 20, False, False),
    "leaves": (0.9, 54, 38, 90, 10, False, True),
    "scraps": (2.5, 17, 78, 420, 8, True, False),
    "straw": (0.7, 70, 12, 60, 7, False, True),
    "weeds": (2.2, 20, 80, 200, 14, False, False),
}
HOT = Windows(Window(25, 30, 35), Window(45, 57, 65), Window(35, 60, 100), Window(600, 1000, 5000))
STEADY = Windows(Window(25, 32, 40), Window(45, 57, 65), Window(35, 60, 100), Window(0, 1000, 5000))

#: Beyond what is close enough to the aim, C:N and moisture count as straying.
CLOSE_CARBON_NITROGEN, CLOSE_MOISTURE_PCT = 0.5, 1.0


def offer(name: str, at_most: float, unit_l: float = 10.0, step: float = 1.0, **more: object) -> Offer:
    nitrogen, ratio, moisture, density, ash, spoils, keeps = STUFF[name]
    composition = Composition(nitrogen, nitrogen * ratio, moisture, density, ash)
    plain = Offer(name, composition, unit_l, at_most, step, perishable=spoils, storable=keeps)
    return replace(plain, **more)  # type: ignore[arg-type]


def some_stock(seed: int, kinds: tuple[int, int], at_most: int) -> tuple[list[Offer], Windows]:
    """A stock of a few kinds, none quite like the table, and windows for it."""
    rng = random.Random(seed)
    stock: list[Offer] = []
    names = rng.sample(sorted(STUFF), rng.randint(*kinds))
    if seed % 2:  # as people have it: something rich and something dry
        names = [*dict.fromkeys(["leaves", rng.choice(["grass", "scraps"]), *names])][: kinds[1]]
    for name in names:
        plain = offer(name, rng.randint(0, at_most), rng.choice([5, 9, 11, 25, 60, 80]), rng.choice([0.5, 1.0]))
        stuff = plain.composition
        drift = rng.uniform(0.8, 1.2)
        other = replace(
            stuff,
            nitrogen_pct=stuff.nitrogen_pct * drift,
            moisture_pct=stuff.moisture_pct * rng.uniform(0.9, 1.1),
            density_kg_m3=stuff.density_kg_m3 * rng.uniform(0.7, 1.4),
        )
        cap = rng.choice([None, None, None, rng.uniform(0.2, 0.6)])
        stock.append(replace(plain, composition=other, share_cap=cap))
    reach = sum(each.unit_l * each.at_most for each in stock)
    sizes = [
        None,
        Window(0, 0.6 * reach, 2 * reach + 1),
        Window(0.3 * reach, 0.5 * reach, 0.7 * reach + 1),
        Window(1.2 * reach, 1.5 * reach, 2 * reach + 1),
    ]
    return stock, replace(rng.choice([HOT, STEADY]), volume_l=rng.choice(sizes))


# ---------------------------------------------------------------- plain sums


@dataclass(frozen=True)
class Sums:
    """Of a mix without added water: litres, kg, kg of water, of carbon and of nitrogen, and litres that are not air."""

    volume: float
    mass: float
    wet: float
    carbon: float
    nitrogen: float
    filled: float

    def carbon_nitrogen(self) -> float:
        return self.carbon / self.nitrogen if self.nitrogen else math.inf

    def moisture(self, water: float) -> float:
        return 100 * (self.wet + water) / (self.mass + water)

    def air(self, water: float) -> float:
        return 100 * (1 - (self.filled + water) / self.volume)


def sums(stock: Iterable[Offer], measures: Mapping[str, float]) -> Sums:
    volume = mass = wet = carbon = nitrogen = filled = 0.0
    for each in stock:
        litres = each.unit_l * measures.get(each.id, 0.0)
        kg = litres * each.composition.density_kg_m3 / 1000
        kg_wet = kg * each.composition.moisture_pct / 100
        kg_dry = kg - kg_wet
        kg_ash = kg_dry * each.composition.ash_pct / 100
        volume += litres
        mass += kg
        wet += kg_wet
        carbon += kg_dry * each.composition.carbon_pct / 100
        nitrogen += kg_dry * each.composition.nitrogen_pct / 100
        filled += kg_wet / 1.0 + (kg_dry - kg_ash) / 1.6 + kg_ash / 2.5
    return Sums(volume, mass, wet, carbon, nitrogen, filled)


EDGES = ("carbon", "nitrogen", "water", "dryness", "air", "density", "volume")


def edges(windows: Windows, goal_l: float | None = None) -> dict[str, float]:
    """The edges there are, by what the heap lacks beyond them."""
    found = {}
    if windows.carbon_nitrogen:
        found |= {"carbon": windows.carbon_nitrogen.low, "nitrogen": windows.carbon_nitrogen.high}
    if windows.moisture:
        found |= {"water": windows.moisture.low, "dryness": windows.moisture.high}
    if windows.air_space:
        found |= {"air": windows.air_space.low, "density": windows.air_space.high}
    if goal_l is not None:
        found["volume"] = goal_l
    elif windows.volume_l:
        found["volume"] = windows.volume_l.low
    return found


def widened(at: Mapping[str, float], by: Mapping[str, float]) -> dict[str, float]:
    """Edges that give way by a share of themselves."""
    lower = ("carbon", "water", "air", "volume")
    return {
        name: edge * (1 - by.get(name, 0.0)) if name in lower else edge / (1 - by.get(name, 0.0))
        for name, edge in at.items()
    }


def water_range(mix: Sums, at: Mapping[str, float], most: float) -> tuple[float, float] | None:
    """The least and the most water with which a mix keeps within its edges; None if no water does."""
    slack = 1e-9
    if not mix.volume:
        return None
    ratio = mix.carbon_nitrogen()
    if ratio < at.get("carbon", 0) * (1 - slack) or ratio > at.get("nitrogen", math.inf) * (1 + slack):
        return None
    if mix.volume < at.get("volume", 0) * (1 - slack):
        return None
    low, high = 0.0, most
    if "water" in at:
        low = max(low, (at["water"] / 100 * mix.mass - mix.wet) / (1 - at["water"] / 100))
    if at.get("dryness", 100) < 100:
        high = min(high, (at["dryness"] / 100 * mix.mass - mix.wet) / (1 - at["dryness"] / 100))
    if "air" in at:
        high = min(high, mix.volume * (1 - at["air"] / 100) - mix.filled)
    if at.get("density", 100) < 100:
        low = max(low, mix.volume * (1 - at["density"] / 100) - mix.filled)
    return (min(low, high), high) if low <= high + slack * max(1, mix.mass) and high >= -slack * mix.mass else None


# ---------------------------------------------------------------- what is wished for


def most_water(stock: Sequence[Offer], windows: Windows) -> float:
    return sum(each.unit_l * each.at_most for each in stock) if windows.moisture else 0.0


def used_up(stock: Sequence[Offer], windows: Windows) -> list[Offer]:
    """What should be used as far as it goes."""
    rest = [each for each in stock if not each.storable and each.steps > 0]
    return rest if rest or windows.volume_l else list(stock)


def litres(stock: Iterable[Offer], measures: Mapping[str, float]) -> float:
    return math.fsum(each.unit_l * measures.get(each.id, 0.0) for each in stock)


def straying(stock: Sequence[Offer], windows: Windows, mix: Sums, water: float) -> float:
    """How far C:N and moisture lie from their aims, counted by half-widths and as shares of the whole stock."""
    whole = sums(stock, {each.id: math.floor(each.at_most / each.step + 1e-9) * each.step for each in stock})
    total = 0.0
    if (window := windows.carbon_nitrogen) and whole.nitrogen:
        off = abs(mix.carbon - window.aim * mix.nitrogen) - CLOSE_CARBON_NITROGEN * mix.nitrogen
        total += max(0.0, off) / whole.nitrogen / ((window.high - window.low) / 2)
    if (window := windows.moisture) and whole.mass:
        mass, wet = mix.mass + water, mix.wet + water
        off = abs(100 * wet - window.aim * mass) - CLOSE_MOISTURE_PCT * mass
        total += max(0.0, off) / whole.mass / ((window.high - window.low) / 2)
    return total


def aimed_water(windows: Windows, mix: Sums, between: tuple[float, float]) -> float:
    if not windows.moisture:
        return 0.0
    aim = windows.moisture.aim / 100
    return min(max((aim * mix.mass - mix.wet) / (1 - aim), between[0]), between[1])


# ---------------------------------------------------------------- every mix there is


def every_mix(stock: Sequence[Offer]) -> list[dict[str, float]]:
    """All mixes of whole steps, but for nothing at all."""
    ladders = [[step * each.step for step in range(math.floor(each.at_most / each.step + 1e-9) + 1)] for each in stock]
    return [
        dict(zip((each.id for each in stock), rungs, strict=True))
        for rungs in itertools.product(*ladders)
        if any(rungs)
    ]


def fits(stock: Sequence[Offer], windows: Windows, measures: Mapping[str, float]) -> bool:
    return windows.volume_l is None or litres(stock, measures) <= windows.volume_l.high * (1 + 1e-9)


def over(each: Offer, stock: Sequence[Offer], measures: Mapping[str, float]) -> float:
    """By what part an offer oversteps its share."""
    own = litres([each], measures)
    return max(0.0, 1 - (each.share_cap or 0.0) * litres(stock, measures) / own) if own else 0.0


@dataclass
class Exhausted:
    """What going through every mix finds: the misses that cannot be helped, and the mixes that are best within them."""

    possible: bool
    short: dict[str, float]
    best: list[dict[str, float]]


def exhaust(stock: Sequence[Offer], windows: Windows) -> Exhausted:
    """The best of all mixes, for stocks without preferences."""
    stock = sorted(stock, key=lambda each: each.id)
    mixes = [each for each in every_mix(stock) if fits(stock, windows, each)]
    if not mixes:
        return Exhausted(False, {}, [])
    of = {id(each): sums(stock, each) for each in mixes}
    most = most_water(stock, windows)

    def within(at: Mapping[str, float]) -> list[dict[str, float]]:
        return [each for each in mixes if water_range(of[id(each)], at, most)]

    # first the mix itself, whatever its shares and its size
    at = {name: edge for name, edge in edges(windows).items() if name != "volume"}
    short = dict.fromkeys(at, _least(lambda share: within(widened(at, dict.fromkeys(at, share)))))
    for name in EDGES:
        if name in at and short[name]:
            others = dict(short)
            short[name] = _least(lambda share, n=name, o=others: within(widened(at, {**o, n: share})), short[name])
    mixes = within(widened(at, short))
    # then the shares: the worst of them, and each in turn
    capped = [each for each in stock if each.share_cap is not None]
    if capped:
        worst = min(max(over(one, stock, each) for one in capped) for each in mixes) + 1e-8
        allowed = dict.fromkeys((one.id for one in capped), worst)
        for one in capped:
            rest = [each for each in mixes if all(over(two, stock, each) <= allowed[two.id] for two in capped)]
            allowed[one.id] = min(over(one, stock, each) for each in rest) + 1e-8
        mixes = [each for each in mixes if all(over(one, stock, each) <= allowed[one.id] for one in capped)]
    # last the least size
    if windows.volume_l and windows.volume_l.low:
        low = windows.volume_l.low
        least = min(max(0.0, 1 - litres(stock, each) / low) for each in mixes)
        mixes = [each for each in mixes if 1 - litres(stock, each) / low <= least + 1e-8]
        short["volume"] = least
    shared = all(over(one, stock, each) <= 1e-7 for one in capped for each in mixes)
    held = widened(at, {name: share for name, share in short.items() if name in at})
    ranges = {id(each): water_range(of[id(each)], held, most) for each in mixes}
    best = [each for each in mixes if ranges[id(each)]]

    def narrow(cost: Callable[[dict[str, float]], float]) -> float:
        nonlocal best
        costs = [cost(each) for each in best]
        best = [each for each, one in zip(best, costs, strict=True) if one <= min(costs) + 1e-7]
        return min(costs)

    def stray(each: dict[str, float]) -> float:
        mix = of[id(each)]
        return straying(stock, windows, mix, aimed_water(windows, mix, ranges[id(each)]))

    narrow(lambda each: -litres([one for one in stock if one.perishable], each))
    use = used_up(stock, windows)
    narrow(lambda each: -litres(use, each))
    if windows.volume_l:
        narrow(lambda each: -min(windows.volume_l.aim, litres(stock, each)))
    least_stray = narrow(stray)
    narrow(lambda each: litres([one for one in stock if one not in use], each))
    narrow(lambda each: _least_water(stock, windows, of[id(each)], ranges[id(each)], least_stray))
    primes = [2, 3, 5, 7, 11, 13]
    narrow(
        lambda each: math.fsum(
            math.sqrt(prime) * litres([one], each) for prime, one in zip(primes, stock, strict=False)
        )
    )
    return Exhausted(shared and not any(share > 1e-6 for share in short.values()), short, best)


def _least(works: Callable[[float], object], most: float = 1 - 1e-9) -> float:
    """The least share that works, halving the interval; `most` is known to."""
    if works(0.0):
        return 0.0
    low, high = 0.0, most
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (low, middle) if works(middle) else (middle, high)
    return high + 1e-9


def _least_water(
    stock: Sequence[Offer], windows: Windows, mix: Sums, between: tuple[float, float], stray: float
) -> float:
    """The least water with which the straying is no more than it must be: by halving, as it falls up to the aim."""
    low, high = max(0.0, between[0]), aimed_water(windows, mix, between)
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if straying(stock, windows, mix, middle) <= stray + 1e-9 else (middle, high)
    return high


# ---------------------------------------------------------------- scipy


class Milp:
    """A mixed-integer program for scipy, over steps of each offer and litres of water, and further columns."""

    def __init__(self, stock: Sequence[Offer], water: float) -> None:
        self.stock = list(stock)
        self.most = [float(math.floor(each.at_most / each.step + 1e-9)) for each in stock] + [water]
        self.whole = [1] * len(self.stock) + [0]
        self.rows: list[np.ndarray] = []
        self.tops: list[float] = []

    def column(self, most: float, whole: int = 0) -> int:
        self.most.append(most)
        self.whole.append(whole)
        return len(self.most) - 1

    def per_step(self, quantity: str) -> np.ndarray:
        """A quantity of one step of each offer."""
        return np.array([getattr(sums([each], {each.id: each.step}), quantity) for each in self.stock])

    def keep(self, steps: np.ndarray | float, top: float, water: float = 0.0, **columns: float) -> None:
        """sum(steps x) + water W + further columns (c7=1.0 is column 7) <= top."""
        self.rows.append(self._row(steps, water, columns))
        self.tops.append(top)

    def _row(self, steps: np.ndarray | float, water: float, columns: Mapping[str, float]) -> np.ndarray:
        row = np.zeros(len(self.most) + 40)
        row[: len(self.stock)] = steps
        row[len(self.stock)] = water
        for name, weight in columns.items():
            row[int(name[1:])] = weight
        return row

    def least(self, steps: np.ndarray | float, water: float = 0.0, **columns: float) -> np.ndarray | None:
        """The steps, water and further columns that make a sum least; None if nothing is possible."""
        width = len(self.most)
        row = self._row(steps, water, columns)[:width]
        found = milp(
            row,
            integrality=np.array(self.whole),
            bounds=Bounds(np.zeros(width), np.array(self.most)),
            constraints=LinearConstraint(np.array([each[:width] for each in self.rows]), -np.inf, np.array(self.tops)),
            options={"mip_rel_gap": 0.0},
        )
        return None if found.x is None else found.x

    def least_then_held(self, steps: np.ndarray | float, water: float = 0.0, **columns: float) -> float | None:
        """What the sum comes to at the least, which is held from then on."""
        found = self.least(steps, water, **columns)
        if found is None:
            return None
        row = self._row(steps, water, columns)
        value = float(row[: len(found)] @ found)
        self.keep(steps, value + 1e-6 * max(1.0, abs(value)), water, **columns)
        return value

    def windows(self, windows: Windows, at: Mapping[str, float]) -> None:
        """The windows at these edges, the room, the shares, and at least one step of something."""
        volume, mass, wet = self.per_step("volume"), self.per_step("mass"), self.per_step("wet")
        carbon, nitrogen, filled = self.per_step("carbon"), self.per_step("nitrogen"), self.per_step("filled")
        self.keep(-1.0, -1.0)
        if "carbon" in at:
            self.keep(at["carbon"] * nitrogen - carbon, 0.0)
            self.keep(carbon - at["nitrogen"] * nitrogen, 0.0)
        if "water" in at:
            low, high = at["water"] / 100, min(1.0, at["dryness"] / 100)
            self.keep(low * mass - wet, 0.0, low - 1)
            self.keep(wet - high * mass, 0.0, 1 - high)
        if "air" in at:
            low, high = at["air"] / 100, at["density"] / 100
            self.keep(low * volume - (volume - filled), 0.0, 1.0)
            self.keep((volume - filled) - high * volume, 0.0, -1.0)
        if "volume" in at:
            self.keep(-volume, -at["volume"])
        if windows.volume_l:
            self.keep(volume, windows.volume_l.high)
        for number, each in enumerate(self.stock):
            if each.share_cap is not None:
                own = np.zeros(len(self.stock))
                own[number] = volume[number]
                self.keep(own - each.share_cap * volume, 0.0)
