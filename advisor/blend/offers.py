"""What a recipe may be made of, what it should come to, and how both read as straight lines.

Everything the recipe reckons with grows in proportion to the measures used and the water added, so every window is an
inequality between two such lines. With `x_i` measures of offer `i` and `W` litres (kg) of water:

    mass            M = sum x_i m_i + W             m_i = unit_l density / 1000                          kg
    water           H = sum x_i m_i w_i + W                                                              kg
    carbon          C = sum x_i m_i (1 - w_i) c_i,  nitrogen N likewise                                  kg
    volume          V = sum x_i unit_l                                                                   L
    filled          S = sum x_i m_i [w_i + (1 - w_i)(1 - a_i)/1.6 + (1 - w_i) a_i/2.5] + W               L

    carbon to nitrogen at least R:  C >= R N            at most R:  R N >= C
    moisture at least G:            H >= G M            at most G:  G M >= H
    free air space at least F:      V - S >= F V        at most F:  F V >= V - S
    volume at least, at most; a share of the heap:  cap V >= its volume

Sources: the balances of C:N and moisture are the mix formula and the moisture goal of Cornell's compost pages, read
(`cornell-mix-formula`, `cornell-moisture-goal`); free air space with densities of 1000, 1600 and 2500 kg/m3 for water,
organic matter and ash is from memory (`air-space-comparison`). Volumes are added up as tipped; water, and whatever
else is poured on, fills pores and adds no volume.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Literal

from advisor.blend.mix import ASH_KG_M3, ORGANIC_KG_M3, WATER_KG_M3
from advisor.blend.shapes import Composition, Window
from advisor.errors import HouseholdError, RuleBaseError
from advisor.records import dataclass

#: What a figure lacks to lie in its window; "density" stands for too airy, "share" for too much of one thing.
Lack = Literal["nitrogen", "carbon", "water", "dryness", "air", "density", "volume", "room", "share"]
What = Literal["carbon-nitrogen", "moisture", "air-space", "volume", "share"]

#: Beyond these an amount is a slip of the tongue. Our own estimate: a thousand cubic metres of one material, in
#: measures no larger than a lorry load.
MOST_MEASURES, LARGEST_MEASURE_L = 100_000.0, 20_000.0


#: An edge holds if no more than this share of it is missing: what rounding in the last digits can bring about.
EXACT = 1e-8


@dataclass(frozen=True, slots=True)
class Offer:
    """A material that may go in, by the measure.

    Attributes:
        id: the material; with a suffix if one material comes in two measures.
        composition: what it typically is.
        unit_l: litres that one measure holds.
        at_most: measures there are.
        step: the fraction of a measure that people count in, 1 or 0.5.
        finest: the smallest fraction that can still be measured out; used where counting in `step` would make the
            heap worse. None: no finer than `step`.
        poured: a liquid that fills pores and takes up no room; its share is its litres against the heap's volume.
        perishable: it spoils, so it is used first.
        storable: it keeps, so what the heap does not need is kept back.
        share_cap: the largest share of the heap's volume it may make up, 0 to 1; 0 keeps it out.
        group: offers of one group share the cap named for it in `group_caps`.
        preference: decides between recipes that are otherwise as good; weighs each litre.
    """

    id: str
    composition: Composition
    unit_l: float
    at_most: float
    step: float = 1.0
    perishable: bool = False
    storable: bool = False
    share_cap: float | None = None
    group: str = ""
    preference: float = 0.0
    finest: float | None = None
    poured: bool = False

    @property
    def steps(self) -> int:
        """How many steps there are at most."""
        return math.floor(self.at_most / self.step + 1e-9)

    @property
    def step_l(self) -> float:
        """Litres in one step."""
        return self.unit_l * self.step


@dataclass(frozen=True, slots=True)
class Windows:
    """What the heap should come to. Moisture and air space in %, volume in litres: its aim is the size to reach,
    its high is the room there is. None: of no concern."""

    carbon_nitrogen: Window | None = None
    moisture: Window | None = None
    air_space: Window | None = None
    volume_l: Window | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """A quantity that grows with the mix: so much a step of each offer, so much a litre of water, and a constant."""

    steps: tuple[float, ...]
    water: float = 0.0
    constant: float = 0.0

    def at(self, counts: Sequence[int], water_l: float) -> float:
        """Its value for so many steps of each offer and so much water."""
        return (
            math.fsum(each * count for each, count in zip(self.steps, counts, strict=True))
            + self.water * water_l
            + self.constant
        )

    def times(self, factor: float) -> Line:
        return Line(tuple(factor * each for each in self.steps), factor * self.water, factor * self.constant)

    def minus(self, other: Line) -> Line:
        steps = tuple(mine - theirs for mine, theirs in zip(self.steps, other.steps, strict=True))
        return Line(steps, self.water - other.water, self.constant - other.constant)


@dataclass(frozen=True, slots=True)
class Lines:
    """The quantities of a mix, in litres and kg; `filled` is what is not air."""

    volume: Line
    mass: Line
    water: Line
    carbon: Line
    nitrogen: Line
    filled: Line

    @property
    def air(self) -> Line:
        return self.volume.minus(self.filled)


@dataclass(frozen=True, slots=True)
class Limit:
    """One edge of a window: `have` should be no less than `need`.

    Falling short is counted as the part of the need that is not there, 0 to 1, whatever the size of the heap:
    a C:N of 20 where 25 is the least, or 25 where 20 is the most, falls short by a fifth.
    """

    what: What
    lack: Lack
    need: Line
    have: Line
    window: Window
    of: str = ""  # the offer or group that a share is about

    def short(self, counts: Sequence[int], water_l: float) -> float:
        """The part of the need that is not there; 0 when it holds."""
        need, have = self.need.at(counts, water_l), self.have.at(counts, water_l)
        return max(0.0, 1.0 - have / need) if need > 0 else 0.0

    def excess(self, allowance: float = 0.0) -> Line:
        """The line that may not rise above 0 when the need may fall short by `allowance`."""
        return self.need.times(1.0 - allowance).minus(self.have)


def usable(offers: Sequence[Offer], group_caps: Mapping[str, float]) -> list[Offer]:
    """What may go in at all: a step of it is there, and it is not kept out by a cap of nothing."""
    return [
        offer
        for offer in offers
        if offer.steps > 0 and offer.share_cap != 0.0 and group_caps.get(offer.group, 1.0) > 0.0
    ]


def lines(offers: Sequence[Offer]) -> Lines:
    """The quantities of a mix of these offers."""
    kg = [offer.step_l * offer.composition.density_kg_m3 / 1000.0 for offer in offers]
    wet = [offer.composition.moisture_pct / 100.0 for offer in offers]
    dry_kg = [mass * (1.0 - moist) for mass, moist in zip(kg, wet, strict=True)]
    ash = [offer.composition.ash_pct / 100.0 for offer in offers]
    carbon = (dry * offer.composition.carbon_pct / 100.0 for dry, offer in zip(dry_kg, offers, strict=True))
    nitrogen = (dry * offer.composition.nitrogen_pct / 100.0 for dry, offer in zip(dry_kg, offers, strict=True))
    filled = (
        1000.0 * (mass * moist / WATER_KG_M3 + dry * ((1.0 - part) / ORGANIC_KG_M3 + part / ASH_KG_M3))
        for mass, moist, dry, part in zip(kg, wet, dry_kg, ash, strict=True)
    )
    return Lines(
        volume=Line(tuple(0.0 if offer.poured else offer.step_l for offer in offers)),
        mass=Line(tuple(kg), water=1.0),
        water=Line(tuple(mass * moist for mass, moist in zip(kg, wet, strict=True)), water=1.0),
        carbon=Line(tuple(carbon)),
        nitrogen=Line(tuple(nitrogen)),
        filled=Line(tuple(filled), water=1.0),
    )


def edges(windows: Windows, mix: Lines) -> tuple[Limit, ...]:
    """The edges of the windows of the mix itself: C:N, moisture and air."""
    found: list[Limit] = []
    if (window := windows.carbon_nitrogen) is not None:
        found.append(Limit("carbon-nitrogen", "carbon", mix.nitrogen.times(window.low), mix.carbon, window))
        found.append(Limit("carbon-nitrogen", "nitrogen", mix.carbon, mix.nitrogen.times(window.high), window))
    if (window := windows.moisture) is not None:
        found.append(Limit("moisture", "water", mix.mass.times(window.low / 100.0), mix.water, window))
        found.append(Limit("moisture", "dryness", mix.water, mix.mass.times(window.high / 100.0), window))
    if (window := windows.air_space) is not None:
        found.append(Limit("air-space", "air", mix.volume.times(window.low / 100.0), mix.air, window))
        found.append(Limit("air-space", "density", mix.air, mix.volume.times(window.high / 100.0), window))
    return tuple(found)


def size(windows: Windows, mix: Lines) -> tuple[Limit, ...]:
    """The least size of the heap."""
    window = windows.volume_l
    if window is None:
        return ()
    least = Line(tuple(0.0 for _ in mix.volume.steps), constant=window.low)
    return (Limit("volume", "volume", least, mix.volume, window),)


def room(windows: Windows, mix: Lines) -> tuple[Limit, ...]:
    """The room there is: never overstepped, since one can always use less."""
    window = windows.volume_l
    if window is None:
        return ()
    most = Line(tuple(0.0 for _ in mix.volume.steps), constant=window.high)
    return (Limit("volume", "room", mix.volume, most, window),)


def caps(offers: Sequence[Offer], mix: Lines, group_caps: Mapping[str, float]) -> tuple[Limit, ...]:
    """The largest shares of single offers and of groups."""
    found: list[Limit] = []

    def cap(of: str, share: float, inside: Iterable[bool]) -> None:
        part = Line(tuple(offer.step_l * is_in for offer, is_in in zip(offers, inside, strict=True)))
        window = Window(0.0, 100.0 * share, 100.0 * share)
        found.append(Limit("share", "share", part, mix.volume.times(share), window, of))

    capped = {offer.id: offer.share_cap for offer in offers if offer.share_cap is not None}
    for name, share in capped.items():
        cap(name, share, (offer.id == name for offer in offers))
    for group, share in sorted(group_caps.items()):
        if any(offer.group == group for offer in offers):
            cap(group, share, (offer.group == group for offer in offers))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Task:
    """What is to be mixed, to what end, and all of it as lines.

    Attributes:
        ranks: the edges that may be missed if need be, in the order in which they matter: those of the mix itself,
            then the largest shares, then the least size. Nothing of an earlier rank is given up for a later one.
        kept: what holds in any case: the room, and the shares of what is poured on, whose salt stays behind.
        food: counts the steps of what microbes can eat; without one there is no heap.
        most_water_l: more water than all the pores hold is never of use; 0 where none is to be added.
        all_of: offers that must go in to the last step: what was fetched for it.
    """

    offers: tuple[Offer, ...]
    windows: Windows
    mix: Lines
    ranks: tuple[tuple[Limit, ...], ...]
    kept: tuple[Limit, ...]
    food: Line
    most_water_l: float
    all_of: frozenset[str]

    @property
    def edges(self) -> tuple[Limit, ...]:
        """All edges that may be missed, rank after rank."""
        return tuple(edge for rank in self.ranks for edge in rank)


def task_of(
    offers: Sequence[Offer],
    windows: Windows,
    group_caps: Mapping[str, float],
    *,
    water: bool,
    all_of: Iterable[str] = (),
) -> Task:
    """Set the task out."""
    mix = lines(offers)
    shares = caps(offers, mix, group_caps)
    poured = {offer.id for offer in offers if offer.poured}
    eaten = tuple(
        float(
            not offer.poured
            and offer.composition.moisture_pct < 100.0
            and offer.composition.carbon_pct + offer.composition.nitrogen_pct > 0.0
        )
        for offer in offers
    )
    pores_l = math.fsum(offer.steps * offer.step_l for offer in offers)
    return Task(
        offers=tuple(offers),
        windows=windows,
        mix=mix,
        ranks=(edges(windows, mix), tuple(one for one in shares if one.of not in poured), size(windows, mix)),
        kept=(*room(windows, mix), *(one for one in shares if one.of in poured)),
        food=Line(eaten),
        most_water_l=pores_l if water and windows.moisture is not None else 0.0,
        all_of=frozenset(all_of),
    )


def check(offers: Sequence[Offer], windows: Windows, group_caps: Mapping[str, float]) -> None:
    """Refuse what cannot be reckoned with.

    Raises:
        HouseholdError: an amount or a composition is out of all bounds, or one id is offered twice.
        RuleBaseError: a window or a cap is not in order.
    """
    seen: set[str] = set()
    for offer in offers:
        if offer.id in seen:
            raise HouseholdError(
                "it is offered twice",
                where=offer.id,
                hint="add the amounts up, or give the second measure its own id",
            )
        seen.add(offer.id)
        _check_offer(offer)
    for name, window in (
        ("carbon-nitrogen", windows.carbon_nitrogen),
        ("moisture", windows.moisture),
        ("air-space", windows.air_space),
        ("volume", windows.volume_l),
    ):
        if window is not None and not 0.0 <= window.low <= window.aim <= window.high < math.inf:
            raise RuleBaseError(
                (f"target {name}: needs 0 <= low <= aim <= high, got {window.low:g}, {window.aim:g}, {window.high:g}",)
            )
        if window is not None and name in ("moisture", "air-space") and window.high > 100.0:
            raise RuleBaseError((f"target {name}: is in %, and {window.high:g} is more than 100",))
    for group, share in group_caps.items():
        if not 0.0 <= share <= 1.0:
            raise RuleBaseError((f"cap of {group}: a share lies between 0 and 1, not {share:g}",))


def check_same_measure(on_hand: Sequence[Offer], fetchable: Sequence[Offer]) -> None:
    """Refuse more of the same in another measure: it could not be added up.

    Raises:
        HouseholdError: an id comes in two measures.
    """
    measures = {offer.id: (offer.unit_l, offer.step) for offer in on_hand}
    for offer in fetchable:
        if measures.get(offer.id, (offer.unit_l, offer.step)) != (offer.unit_l, offer.step):
            raise HouseholdError(
                "it is on hand in one measure and to be fetched in another",
                where=offer.id,
                hint="use one measure for both, or give the second its own id",
            )


def _check_offer(offer: Offer) -> None:
    stuff = offer.composition
    bounds = (
        ("amount", offer.at_most, 0.0, MOST_MEASURES, "measures"),
        ("measure", offer.unit_l, 1e-3, LARGEST_MEASURE_L, "litres"),
        ("step", offer.step, 0.05, 1.0, "of a measure"),
        ("finest step", offer.step if offer.finest is None else offer.finest, 1e-5, offer.step, "of a measure"),
        ("density", stuff.density_kg_m3, 1.0, 3000.0, "kg/m3"),
        ("moisture", stuff.moisture_pct, 0.0, 100.0, "%"),
        ("nitrogen", stuff.nitrogen_pct, 0.0, 100.0, "%"),
        ("carbon", stuff.carbon_pct, 0.0, 100.0, "%"),
        ("ash", stuff.ash_pct, 0.0, 100.0, "%"),
        ("share cap", 1.0 if offer.share_cap is None else offer.share_cap, 0.0, 1.0, "of the heap"),
        ("preference", offer.preference, -1e3, 1e3, ""),
    )
    for name, value, low, high, unit in bounds:
        if not low <= value <= high:
            message = f"{name} of {value:g} {unit}".rstrip()
            raise HouseholdError(message, where=offer.id, hint=f"it lies between {low:g} and {high:g} {unit}".rstrip())
