"""The recipe: how many measures of each thing on hand, how much water, and what it comes to.

How it is settled. One wish after another, each given up for none that follows (the earlier ones are kept as limits):

1. every window is met;
2. as much as can be of what spoils, then of all that does not keep, by volume, goes in;
3. the heap comes as near as it can to the size aimed at; things that keep are drawn on for that, and
4. for a C:N and a moisture within a small tolerance of their aims; what they are not needed for is kept back;
5. little water; then what is preferred; then a fixed order, so that the same stock always gives the same recipe.

When no mix meets every window, the windows of C:N, moisture and air are widened, all by the same share of their edges,
until one does: that makes the worst miss as small as it can be. Then each window in turn is narrowed again as far as
the others allow. Only then come the largest shares, widened in the same way, and last the least size: a heap of the
right mix that is small beats a large one of the wrong mix, and a share is a reason to say so rather than to build
something worse. The wishes above are settled within that. A miss is counted as a share because that does not depend on
how large the heap is; a sum of missing kilograms would be least for the smallest heap. The room is never overstepped.

Nothing here depends on the amounts on hand but as what there is at most. More on hand therefore only adds mixes to
choose from, and never makes the recipe worse. That asks for steps that do not grow with the stock: a recipe is worked
out in the finest steps first, and told in the coarsest ones that lose next to nothing of it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Literal

from advisor.blend import mix
from advisor.blend.offers import (
    EXACT,
    Lack,
    Offer,
    Task,
    What,
    Windows,
    check,
    check_same_measure,
    task_of,
    usable,
)
from advisor.blend.shapes import Part, Window
from advisor.records import dataclass

Status = Literal["met", "nearest", "nothing"]
Counts = tuple[tuple[str, float], ...]

#: What is lacking, as the fact kind `recipe.short_of` words it; too airy, or too much of one thing, has no word there.
_WORDS: tuple[Lack, ...] = ("nitrogen", "carbon", "water", "dryness", "air", "volume", "room")


@dataclass(frozen=True, slots=True)
class Reached:
    """What a recipe comes to at typical compositions. Moisture and air space in %, volume in litres as tipped;
    C:N is infinite where there is no nitrogen."""

    carbon_nitrogen: float
    moisture_pct: float
    moisture_before_pct: float  # without the water to be added
    air_space_pct: float
    volume_l: float


@dataclass(frozen=True, slots=True)
class Miss:
    """A figure that lies outside its window: by how much, in its own unit and as a share, and what it lacks."""

    what: What
    value: float
    window: Window
    by: float
    short: float  # the part of what is needed that is not there, 0 to 1
    lack: Lack
    of: str = ""  # for a share: the material or group


@dataclass(frozen=True, slots=True)
class Hold:
    """Why no more of something went in: one more step of it, and the heap would lack this."""

    offer: str
    lack: Lack
    of: str = ""  # for a share: the material or group whose share it is
    keeps: bool = False  # it is stored easily, so there is no harm in having some left


@dataclass(frozen=True, slots=True)
class Recipe:
    """How much of each thing to use.

    Attributes:
        status: "met" if every window is, "nearest" if none could be found that meets them all, "nothing" if there is
            nothing to rot on offer, or not one step of it fits.
        counts: measures to use, by id in order; what is not used is left out.
        water_l: litres of water to add, towards the moisture aimed at.
        reached: what it comes to; None for "nothing".
        misses: the windows that are not met, in the order in which they matter.
        left_over: measures not used, by id in order.
        binding: what kept each thing that should have been used up from being used up.
        fetch: the shortest list of things to fetch with which every window is met; empty if none is needed or helps.
        with_fetch: the recipe with those.
        steps: the fraction of a measure that each thing is counted in, by id in order.
    """

    status: Status
    counts: Counts = ()
    water_l: float = 0.0
    reached: Reached | None = None
    misses: tuple[Miss, ...] = ()
    left_over: Counts = ()
    binding: tuple[Hold, ...] = ()
    fetch: Counts = ()
    with_fetch: Recipe | None = None
    steps: Counts = ()

    @property
    def short_of(self) -> tuple[Lack, ...]:
        """What keeps it from being right: what the misses lack, and what held back stuff that does not keep, or
        any stuff when the heap is too small."""
        missed = {miss.lack for miss in self.misses}
        held = {hold.lack for hold in self.binding if not hold.keeps or "volume" in missed}
        lacking = missed | held
        return tuple(word for word in _WORDS if word in lacking)


def solve(
    offers: Sequence[Offer],
    windows: Windows,
    *,
    fetchable: Sequence[Offer] = (),
    water: bool = True,
    group_caps: Mapping[str, float] | None = None,
    use_up: bool = False,
) -> Recipe:
    """The best recipe, in whole steps of the measures on hand.

    The same offers, in any order, give the same recipe.

    Args:
        offers: what is on hand.
        windows: what it should come to.
        fetchable: what could be fetched if a window is missed. One with the id of an offer is more of the same, in
            the same measure.
        water: whether water may be added.
        group_caps: the largest share of the heap's volume, 0 to 1, that all offers of a group may make up.
        use_up: name the one thing to fetch with which most goes in of what does not keep, even where every window
            is met but some is left over for want of something to mix it with.

    Raises:
        HouseholdError: an amount or a composition is out of all bounds, or one id is offered in two measures.
        RuleBaseError: a window or a cap is not in order.
    """
    shares = dict(group_caps or {})
    on_hand = sorted(offers, key=lambda offer: offer.id)
    near = sorted(fetchable, key=lambda offer: offer.id)
    check(on_hand, windows, shares)
    check(near, windows, shares)
    check_same_measure(on_hand, near)
    recipe = _recipe(on_hand, windows, shares, water=water)
    wasted = use_up and any(not hold.keeps and hold.lack not in ("room", "share") for hold in recipe.binding)
    if not near or (recipe.status == "met" and not wasted):
        return recipe

    from advisor.blend import fetch  # it needs the solver, as _recipe does

    here = _finest(on_hand)
    fetched = fetch.shortest(here, near, windows, shares, recipe.counts, water=water, use_up=use_up)
    if not fetched:
        return recipe
    stock = fetch.together(on_hand, near, fetched)
    improved = _recipe(stock, windows, shares, water=water, all_of=dict(fetched))
    return replace(recipe, fetch=fetched, with_fetch=improved)


#: In what share of its amount a thing may be counted, where its usual step is too coarse; tried in this order.
_ROUNDINGS = (0.5, 0.2)
#: For the sake of round figures so much of what would go in may be lost, and so much of how near the windows come.
_ROUND_LOSS, _ROUND_MISS = 0.1, 0.01


def _recipe(
    offers: Sequence[Offer],
    windows: Windows,
    group_caps: Mapping[str, float],
    *,
    water: bool,
    all_of: Iterable[str] = (),
) -> Recipe:
    """The recipe in the coarsest steps that lose next to nothing against the finest."""
    fetched = frozenset(all_of)
    usual = _in_steps(offers, windows, group_caps, water=water, all_of=fetched)
    if all(offer.finest is None for offer in offers):
        return usual
    fine = _in_steps(_finest(offers), windows, group_caps, water=water, all_of=fetched)
    if _as_good(usual, fine, offers, windows):
        return usual
    used = dict(fine.counts)
    for share in _ROUNDINGS:
        rounder = [_rounder(offer, share * used.get(offer.id, math.inf)) for offer in offers]
        found = _in_steps(rounder, windows, group_caps, water=water, all_of=fetched)
        if _as_good(found, fine, offers, windows):
            return found
    return fine


def _finest(offers: Sequence[Offer]) -> list[Offer]:
    return [replace(offer, step=offer.finest or offer.step) for offer in offers]


def _rounder(offer: Offer, most: float) -> Offer:
    """An offer counted in its step, halved until it is no more than `most` measures, or its finest."""
    step, finest = offer.step, offer.finest or offer.step
    while step > most and step / 2.0 >= finest:
        step /= 2.0
    return replace(offer, step=step)


def _as_good(round_: Recipe, fine: Recipe, offers: Sequence[Offer], windows: Windows) -> bool:
    """Whether a recipe in rounder steps loses next to nothing against one in finer steps."""
    if round_.status != fine.status:
        return False
    spoils, rest = ([o for o in offers if o.perishable], [o for o in offers if not o.storable])
    enough = math.inf if windows.volume_l is None else windows.volume_l.aim
    for of_these, most in ((spoils, math.inf), (rest, math.inf), (offers, enough)):
        if min(most, _litres(of_these, round_)) < (1.0 - _ROUND_LOSS) * min(most, _litres(of_these, fine)):
            return False
    missed = {(miss.what, miss.lack, miss.of): miss.short for miss in fine.misses}
    return all(miss.short <= missed.get((miss.what, miss.lack, miss.of), 0.0) + _ROUND_MISS for miss in round_.misses)


def _litres(offers: Sequence[Offer], recipe: Recipe) -> float:
    counts = dict(recipe.counts)
    return math.fsum(offer.unit_l * counts.get(offer.id, 0.0) for offer in offers)


def _in_steps(
    offers: Sequence[Offer],
    windows: Windows,
    group_caps: Mapping[str, float],
    *,
    water: bool,
    all_of: Iterable[str],
) -> Recipe:
    # HiGHS and numpy take a tenth of a second to load: only when they are needed.
    from advisor.blend import program

    task = task_of(usable(offers, group_caps), windows, group_caps, water=water, all_of=all_of)
    if not any(task.food.steps):
        return Recipe("nothing", left_over=_left_over(offers, {}))
    allowances = tuple(0.0 for _ in task.edges)
    found = program.settle(task, allowances)
    if found is None:
        widened = program.widen(task)
        if widened is None:
            full = tuple(Hold(offer.id, "room", keeps=offer.storable) for offer in task.offers)
            return Recipe("nothing", left_over=_left_over(offers, {}), binding=full)
        allowances, within = widened
        found = program.settle(task, allowances) or within
    steps = found.counts
    water_l = _water_l(task, allowances, steps)
    counts = {offer.id: count * offer.step for offer, count in zip(task.offers, steps, strict=True) if count}
    reached = _reached(task, steps, water_l)
    misses = tuple(_misses(task, steps, water_l, reached))
    return Recipe(
        status="nearest" if misses else "met",
        counts=tuple(counts.items()),
        water_l=water_l,
        reached=reached,
        misses=misses,
        left_over=_left_over(offers, counts),
        binding=tuple(_binding(task, allowances, steps)),
        steps=tuple((offer.id, offer.step) for offer in task.offers),
    )


def _reached(task: Task, steps: Sequence[int], water_l: float) -> Reached:
    parts = [
        Part(offer.composition, count * offer.step_l * offer.composition.density_kg_m3 / 1000.0)
        for offer, count in zip(task.offers, steps, strict=True)
        if count
    ]
    volume_l = task.mix.volume.at(steps, water_l)
    return Reached(
        carbon_nitrogen=mix.carbon_nitrogen(parts),
        moisture_pct=mix.moisture_pct(parts, water_l),
        moisture_before_pct=mix.moisture_pct(parts),
        air_space_pct=max(0.0, 100.0 * task.mix.air.at(steps, water_l) / volume_l) if volume_l > 0 else 100.0,
        volume_l=volume_l,
    )


def _misses(task: Task, steps: Sequence[int], water_l: float, reached: Reached) -> Iterable[Miss]:
    values: Mapping[What, float] = {
        "carbon-nitrogen": reached.carbon_nitrogen,
        "moisture": reached.moisture_pct,
        "air-space": reached.air_space_pct,
        "volume": reached.volume_l,
    }
    for limit in task.edges:
        short = limit.short(steps, water_l)
        if short <= 10 * EXACT:
            continue
        own_share = 100.0 * limit.need.at(steps, 0.0) / reached.volume_l
        value = own_share if limit.what == "share" else values[limit.what]
        by = max(limit.window.low - value, value - limit.window.high)
        yield Miss(limit.what, value, limit.window, by, short, limit.lack, limit.of)


def _water_l(task: Task, allowances: Sequence[float], steps: Sequence[int]) -> float:
    """The water that brings a mix nearest to the moisture aimed at, within the limits."""
    if task.windows.moisture is None:
        return 0.0
    least, most = _water_between(task, allowances, steps)
    aim = task.windows.moisture.aim / 100.0
    wet_kg, kg = task.mix.water.at(steps, 0.0), task.mix.mass.at(steps, 0.0)
    wanted = (aim * kg - wet_kg) / (1.0 - aim) if aim < 1.0 else math.inf
    return max(least, min(wanted, most))


def _water_between(task: Task, allowances: Sequence[float], steps: Sequence[int]) -> tuple[float, float]:
    """The least and the most water with which a mix keeps its limits; the least is the greater if there is none."""
    least, most = 0.0, task.most_water_l
    for limit, allowance in zip(task.edges, allowances, strict=True):
        excess = limit.excess(allowance)
        if excess.water > 0.0:
            most = min(most, -excess.at(steps, 0.0) / excess.water)
        elif excess.water < 0.0:
            least = max(least, excess.at(steps, 0.0) / -excess.water)
    return least, most


def _binding(task: Task, allowances: Sequence[float], steps: Sequence[int]) -> Iterable[Hold]:
    """For each thing that should have been used up: the limits that one more step of it would break."""
    size = task.windows.volume_l
    small = size is None or task.mix.volume.at(steps, 0.0) < size.aim
    for number, offer in enumerate(task.offers):
        if steps[number] == offer.steps or (offer.storable and not small):
            continue
        more = [count + (position == number) for position, count in enumerate(steps)]
        water_l = min(_water_between(task, allowances, more)[0], task.most_water_l)
        held = [(limit, 0.0) for limit in task.kept] + list(zip(task.edges, allowances, strict=True))
        for limit, allowance in held:
            if limit.short(more, water_l) > allowance + 10 * EXACT:
                yield Hold(offer.id, limit.lack, limit.of, offer.storable)


def _left_over(offers: Sequence[Offer], counts: Mapping[str, float]) -> Counts:
    rest = ((offer.id, round(offer.at_most - counts.get(offer.id, 0.0), 9)) for offer in offers)
    return tuple((name, measures) for name, measures in rest if measures > 0.0)
